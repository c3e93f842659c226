"""What people read of `mealcalc cool`: times as a band, against published limits, with all that they rest on."""

import math

from rich.console import RenderableType
from rich.text import Text

from mealcalc.records.cooling import Band, CoolingPrediction, FoodCooling, Outcome
from mealcalc.reference.keeping_tables import authorities
from mealcalc.reports.plain import LONGEST_NAME, LONGEST_TITLE, one_line
from mealcalc.reports.screen import Screen, table

NEVER = "never"

_STYLES = {
    Outcome.MEETS: "",
    Outcome.BETWEEN: "yellow",
    Outcome.MISSES: "bold red",
    Outcome.NEVER: "bold red",
    Outcome.NOT_JUDGED: "dim",
}


def cooling_text(prediction: CoolingPrediction, screen: Screen) -> str:
    """The answer of `mealcalc cool`."""
    parts: list[RenderableType] = [
        Text(one_line(prediction.title, LONGEST_TITLE), style="bold"),
        f"Cooling from {prediction.start_c:.3g} C: {prediction.container}",
        f"In {prediction.surroundings}",
        "A prediction under the assumptions below, not a safety assurance: check with a probe.",
        "",
        *_times(prediction),
        "",
        *_limits(prediction),
    ]
    parts += [*(Text(note) for note in prediction.notes), *([""] if prediction.notes else [])]
    parts.append(Text("What authorities advise", "bold"))
    parts += [
        Text(f"- {one_line(row.wording, 400)} ({authorities()[row.authority].title}; {row.source} [{row.mark}]).")
        for row in prediction.advice
    ]
    parts += ["", Text("What the prediction takes for granted", "bold")]
    parts += [Text(f"- {sentence}") for sentence in prediction.assumptions]
    return screen.render(*parts)


def band(times: Band) -> str:
    """A band as shown, typical with its ends in brackets: in minutes up to 100 of them, else in hours."""
    if math.isinf(times.fast_h):
        return NEVER
    if times.slow_h <= 100.0 / 60.0:
        return f"{times.typical_h * 60:.0f} min ({times.fast_h * 60:.0f}-{times.slow_h * 60:.0f})"
    return f"{times.typical_h:.1f} h ({times.fast_h:.1f}-{times.slow_h:.1f})"


def depth_sentence(prediction: CoolingPrediction) -> str:
    """What the model says of the depth at which every limit is met; '' where there is nothing to say."""
    judged = [s for s in prediction.foods[0].stages if s.outcome is not Outcome.NOT_JUDGED] if prediction.foods else []
    if not judged or all(s.outcome is Outcome.MEETS for s in judged):
        return ""
    if prediction.largest_depth_m is None:
        return (
            "At no depth, down to 5 mm, does the slow end of the band meet every limit: something else has to change."
        )
    return (
        f"Up to a depth of {prediction.largest_depth_m * 100:.1f} cm the slow end of the band would meet every limit, "
        "all else being as it is."
    )


def _times(prediction: CoolingPrediction) -> list[RenderableType]:
    block = table()
    block.add_column("no part warmer than", no_wrap=True)
    foods = prediction.foods
    targets_c = list(foods[0].times) if foods else []
    for target_c in targets_c:
        block.add_column(f"{target_c:g} C", justify="right")
    for food in foods:
        block.add_row(Text(one_line(food.name, LONGEST_NAME)), *(band(food.times[target_c]) for target_c in targets_c))
    return [Text("Time from the start: typical (fast to slow)", "bold"), block]


def _limits(prediction: CoolingPrediction) -> list[RenderableType]:
    if not prediction.foods or not prediction.foods[0].stages:
        return ["None of the chosen authorities has a cooling limit on record here.", ""]
    slowest: FoodCooling = prediction.foods[0]
    block = table()
    for heading, ratio in (("authority", 4), ("limit", 4), ("time that counts", 3), ("outcome", 5)):
        block.add_column(heading, ratio=ratio)
    for stage in slowest.stages:
        outcome = f"{stage.outcome.value}{f': {stage.remark}' if stage.remark else ''}"
        source = "" if stage.limit.mark == "read" else f" [{stage.limit.mark}]"
        block.add_row(
            authorities()[stage.limit.authority].title,
            Text.assemble(stage.limit.wording, (source, "dim")),
            "" if stage.outcome is Outcome.NOT_JUDGED else band(stage.time),
            Text(outcome, _STYLES[stage.outcome]),
        )
    of = f", of {one_line(slowest.name, LONGEST_NAME)}, the slowest" if len(prediction.foods) > 1 else ""
    rows: list[RenderableType] = [Text(f"Against published limits{of}", "bold"), block, ""]
    sentence = depth_sentence(prediction)
    return [*rows, sentence, ""] if sentence else rows
