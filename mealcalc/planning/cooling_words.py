"""What is said beside the times: assumptions of the model, advice and notes of authorities."""

import math
from collections.abc import Iterable, Sequence

from mealcalc.planning.cooling_setting import Container, Shape, Surroundings
from mealcalc.records.cooling import CoolingAdvice, CoolingLimit
from mealcalc.records.keeping import Authority
from mealcalc.reference.cooling_tables import cooling_advice
from mealcalc.reference.keeping_tables import authorities as all_authorities
from mealcalc.reference.keeping_tables import keeping_guidance

_ROOM = ("room",)


def assumptions_of(container: Container, surroundings: Sequence[Surroundings]) -> tuple[str, ...]:
    """What the model takes for granted, in sentences; where it is kinder than a kitchen, it says so."""
    last = surroundings[-1]
    found = [
        f"The water stays at {last.air_c:g} C: ice in it to the end, and more water than food."
        if last.is_bath
        else f"The air stays at {last.air_c:g} C. A refrigerator that the food warms, that is full or often opened is "
        "worse.",
        "Each container stands by itself. Stacked containers, or ones that touch, are worse.",
    ]
    if last.is_bath:
        found.append("Ice water stirred and up to the level of the food; its top passes no heat.")
    elif container.raised:
        found.append("Air reaches the bottom, as on a wire rack. On a solid shelf or board it is worse.")
    else:
        found.append("The bottom stands on something solid and passes no heat.")
    wall = container.wall
    found.append(f"Wall of {wall.name}, {wall.thickness_mm:g} mm, {wall.conductivity_w_mk:g} W/mK ({wall.mark}).")
    if container.lidded:
        found.append("A lid with a gap of air below it; a lid on the food itself is somewhat better.")
    elif not last.is_bath:
        found.append("No lid. With one it is worse.")
    if container.shape is Shape.TRAY:
        found.append("A wide tray: its sides pass no heat.")
    if container.stirred:
        found.append("Stirred all the time, so that it has one temperature. Left alone it is worse.")
    else:
        found.append(
            "Food at rest without air in it. A thin sauce that moves is better; loose rice or pasta holds air and "
            "differs."
        )
    if not last.is_bath:
        found.append("No cooling by steam: uncovered hot food is better at first.")
    found.append(
        "The band: heat transfer "
        + ", ".join(
            f"{a.situation.low_w_m2k:g} to {a.situation.high_w_m2k:g} W/m2K ({a.situation.name})" for a in surroundings
        )
        + ", an engineering assumption; conductivity of the food 10 % and heat capacity 5 % either way, our judgement."
    )
    found.append("Properties of the food by Choi and Okos (1986) from its composition.")
    found.append(
        "A limit's time runs from the first part of the food that is as cold as its first temperature to the last part "
        "that is as cold as its second."
    )
    return tuple(found)


def advice_of(surroundings: Sequence[Surroundings], authorities: Iterable[Authority]) -> tuple[CoolingAdvice, ...]:
    """What the chosen authorities advise in these surroundings; what any other advises where they advise nothing."""
    chosen = {row.authority for row in authorities}
    situations = {"any"}
    for around in surroundings:
        situations.add("room" if around.situation.situation in _ROOM else "refrigerator")
    fitting = [row for row in cooling_advice() if row.situation in situations]
    return tuple(row for row in fitting if row.authority in chosen) or tuple(fitting)


def notes_of(
    surroundings: Sequence[Surroundings], authorities: Iterable[Authority], limits: Iterable[CoolingLimit]
) -> tuple[str, ...]:
    """What authorities say beside their limits: time at room temperature, and that some publish no cooling limit."""
    chosen = tuple(authorities)
    found = []
    warm_h = sum(a.hours for a in surroundings if a.situation.situation in _ROOM and math.isfinite(a.hours))
    if warm_h:
        for row in keeping_guidance():
            if row.topic == "room" and row.low is not None and row.authority in {a.authority for a in chosen}:
                over = f"; {warm_h:.3g} h is over it" if warm_h > row.low else ""
                found.append(f"{all_authorities()[row.authority].title}: {row.wording}{over}.")
    with_limit = {limit.authority for limit in limits}
    without = [
        a.title
        for a in chosen
        if a.authority not in with_limit
        and any(r.authority == a.authority for r in keeping_guidance() if r.topic == "room")
    ]
    if without:
        found.append(
            f"No cooling curve is on record here from {', '.join(without)}; see `mealcalc keep` for what they say."
        )
    return tuple(found)
