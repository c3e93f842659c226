"""The volume of a cooked component, and whether a container holds it.

A band: its low end is the food without any air, mass by density of its composition (Choi and Okos 1986, see
`planning.thermal`); its high end is its pieces heaped as a cup holds them, each by the household measure of its cooked
food. What is wet fills the gaps between pieces, so of the two volumes a pot takes the greater one.
"""

from collections.abc import Iterable, Mapping

from mealcalc.calculation import household_measures
from mealcalc.calculation.composition import counts
from mealcalc.calculation.line_cooking import is_liquid
from mealcalc.calculation.piece_weights import bulk_density
from mealcalc.errors import UsageError
from mealcalc.fooddb import BUNDLED_TABLE, FoodDatabase
from mealcalc.planning.thermal import properties_of, shares_of
from mealcalc.records import BatchResult, ComponentResult, Contribution, Food
from mealcalc.records.portions import ContainerRoom, Fit, Spread, VolumeBand
from mealcalc.reference.portion_tables import headspaces, portion_assumptions
from mealcalc.reference.tables import default_foods
from mealcalc.values import amount_of

FILLED_AT_C = 60.0
"""Temperature at which food is taken to be filled, C; its density at 5 C differs by about 1 %."""

FRYING_FAT_PERCENT = 80.0
"""Foods with more fat than this, g per 100 g, are fats: they coat the pieces."""

LARGEST_HEIGHT_MM = 500.0

SAME = 1.001
"""Ratio of two volumes up to which they are the same."""

LEAST_KNOWN_SHARE = 0.8
"""Share of the mass whose composition must be known for a volume to be stated (our judgement)."""


def spreads_of(result: BatchResult, database: FoodDatabase) -> list[Spread | None]:
    """Volume per gram of each component of a batch; None where nothing is known of its composition."""
    cooked = _cooked_foods(result.contributions, database)
    return [spread_of(component, cooked) for component in result.components]


def spread_of(component: ComponentResult, cooked_foods: Mapping[str, Food]) -> Spread | None:
    """Volume per gram of a cooked component as a band; None where nothing is known of its composition.

    Parameters
    ----------
    component : ComponentResult
        The component as cooked.
    cooked_foods : mapping
        Name of a default food -> that food cooked, whose household measures count where the component is heated.
    """
    shares = shares_of(component.totals)
    known_share = component.totals["WATER_G"].known_share
    if shares is None or component.cooked_mass_g <= 0.0 or known_share < LEAST_KNOWN_SHARE:
        return None
    airless_ml_per_g = 1000.0 / properties_of(shares, FILLED_AT_C).density_kg_m3
    airless_ml = airless_ml_per_g * component.cooked_mass_g
    heaped_ml, known_g, pieces_g = _heaped(component, cooked_foods, airless_ml_per_g)
    high_ml = max(heaped_ml, airless_ml * (1.0 + portion_assumptions()["no_air_spread"].value))
    ground = f"{1 / airless_ml_per_g:.2f} g/ml without air, by its composition (Choi and Okos 1986)"
    if heaped_ml > SAME * airless_ml:
        ground += f"; {component.cooked_mass_g / heaped_ml:.2f} g/ml heaped, by household measures of its foods"
        if known_g < 0.995 * pieces_g:
            ground += f" ({known_g / pieces_g:.0%} of its pieces have one, the rest is taken to heap as diced meat)"
    elif pieces_g and not known_g:
        ground += "; no household measure tells how its pieces heap"
    elif pieces_g:
        ground += "; its liquid fills the gaps between its pieces"
    return Spread(airless_ml_per_g, high_ml / component.cooked_mass_g, ground)


def room_of(brim_ml: float, height_mm: float | None = None) -> ContainerRoom:
    """The room in a container, to the brim and with headspace for freezing.

    Parameters
    ----------
    brim_ml : float
        Its volume, ml.
    height_mm : float, optional
        Its inner height, mm: then the published gap for a liquid pack with a wide mouth counts, of the next larger
        container listed, and straight walls are assumed. Without it a share of the volume stays free.

    Raises
    ------
    UsageError
        If the height is none that a container has, or not above the gap.
    """
    if height_mm is None:
        share = portion_assumptions()["headspace_share"]
        return ContainerRoom(brim_ml, brim_ml * (1.0 - share.value), f"{share.value:.0%} left free: {share.ground}")
    rows = sorted((r for r in headspaces() if (r.pack, r.mouth) == ("liquid", "wide")), key=lambda r: r.capacity_ml)
    row = next((row for row in rows if row.capacity_ml >= brim_ml), rows[-1])
    if not row.gap_mm < height_mm <= LARGEST_HEIGHT_MM:
        raise UsageError(
            f"a container {height_mm / 10:g} cm high: it needs more than the {row.gap_mm:.0f} mm that stay free for "
            f"freezing, and is no higher than {LARGEST_HEIGHT_MM / 10:g} cm",
            "give its inner height, such as --height 6cm",
        )
    ground = f"{row.gap_mm:.0f} mm left free ({row.gap_in:g} in; {row.source}, {row.edition}), straight walls assumed"
    return ContainerRoom(brim_ml, brim_ml * (1.0 - row.gap_mm / height_mm), ground)


def fit_of(volume: VolumeBand | None, limit_ml: float | None) -> Fit:
    """Whether a volume is within a limit, both in ml; 'tight' where the limit lies within the band."""
    if volume is None or limit_ml is None:
        return Fit.UNKNOWN
    if volume.high_ml <= limit_ml:
        return Fit.HOLDS
    return Fit.TIGHT if volume.low_ml <= limit_ml else Fit.TOO_SMALL


def _heaped(
    component: ComponentResult, cooked_foods: Mapping[str, Food], airless_ml_per_g: float
) -> tuple[float, float, float]:
    """Volume of the pieces as a cup holds them, ml; grams of pieces with a measure of their own, and of all pieces."""
    heated = bool(component.method)
    assumed = portion_assumptions()
    volume_ml = known_g = pieces_g = 0.0
    for c in component.contributions:
        mass_g = _cooked_mass_g(c)
        food = c.ingredient.matched.food
        if not mass_g or food is None or not _is_piece(food):
            continue
        density = _density(c, food, cooked_foods, heated)
        if density is not None and density >= assumed["fills_gaps"].value:
            continue
        pieces_g += mass_g
        known_g += mass_g if density is not None else 0.0
        if density is None:
            density = assumed["piece_density"].value if heated else 1.0 / airless_ml_per_g
        volume_ml += mass_g / density
    if not component.cooked_mass_g or pieces_g <= component.cooked_mass_g:
        return volume_ml, known_g, pieces_g
    # Pieces that lose weight in the pot lose volume, too.
    return volume_ml * component.cooked_mass_g / pieces_g, known_g, pieces_g


def _density(c: Contribution, food: Food, cooked_foods: Mapping[str, Food], heated: bool) -> float | None:
    """Grams per millilitre of a line's food in the dish, as a cup holds it; None where no measure tells."""
    matched = c.ingredient.matched
    words = c.line.words | {matched.food_state}
    if not heated:
        found = bulk_density(food, matched.default_food, words)
        return None if found is None else found.value
    words |= {"cooked"}
    cooked = cooked_foods.get(matched.default_food)
    found = household_measures.density(cooked.measures, words) if cooked is not None else None
    if found is None:
        found = bulk_density(food, matched.default_food, words)
    if found is None:
        return None
    return max(found.value, portion_assumptions()["cooked_loosest"].value)


def _cooked_mass_g(c: Contribution) -> float:
    if not counts(c.ingredient) or c.cooking.poured_off:
        return 0.0
    mass_g = c.ingredient.eaten_mass_g or 0.0
    return mass_g * (1.0 if c.cooking.yield_share is None else c.cooking.yield_share)


def _is_piece(food: Food) -> bool:
    fat_g = amount_of(food.composition, "FAT_G") or 0.0
    return not is_liquid(food) and fat_g < FRYING_FAT_PERCENT


def _cooked_foods(contributions: Iterable[Contribution], database: FoodDatabase) -> dict[str, Food]:
    """Default foods of the lines -> the same food cooked, where the table of default foods has it."""
    wanted = {c.ingredient.matched.default_food for c in contributions} - {""}
    codes = {row.food: row.code for row in default_foods() if row.state == "cooked" and row.food in wanted}
    foods = database.foods([(BUNDLED_TABLE, code) for code in codes.values()])
    found = {name: foods.get((BUNDLED_TABLE, code)) for name, code in codes.items()}
    return {name: food for name, food in found.items() if food is not None}
