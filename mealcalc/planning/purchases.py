"""As purchased: the grams, packs and pieces that must be bought for a line.

AP = EP / edible share (AP: as purchased, EP: edible portion; Greenfield & Southgate, Food composition data, FAO 2003).
A weight that still carries its refuse or the liquid of its can is what is bought. All other weights of a recipe are
edible, so trim loss is added to what is sold with peel, core or shell: fresh vegetables and fruit, eggs, and pieces of
meat and fish that come with their bone. Meat, fish and nuts are bought as the line says.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache

from mealcalc.calculation.line_cooking import state_of
from mealcalc.calculation.nearness import food_group
from mealcalc.calculation.piece_weights import Reading, drained_share, edible_share
from mealcalc.calculation.weights import PACKS, REFUSE_CONDITIONS, REFUSE_GONE, USUAL_DRAINED_SHARE, weigh
from mealcalc.fooddb import FoodDatabase
from mealcalc.matching.decisions import Decisions, decision_phrase
from mealcalc.matching.normalise import phrase_key
from mealcalc.pipeline import weigh_lines
from mealcalc.records import (
    Amount,
    BatchResult,
    Contribution,
    Food,
    FoodState,
    LineStatus,
    MassSource,
    MatchedFood,
    RecipeLine,
    SubBatch,
    WeighedIngredient,
)
from mealcalc.records.purchases import FoodKey, Purchase
from mealcalc.reference.cooking_vocabulary import broader_groups
from mealcalc.reference.shopping_tables import bought_as
from mealcalc.reference.tables import default_foods
from mealcalc.units import COUNT_UNITS, MASS_G, measure

WHOLE_UNITS = frozenset("piece bunch head bulb can jar pack loaf ear sachet fillet cube".split())
"""Count units in which food is sold; slices, sprigs and cloves are parts of one."""

SOLD_WITH_REFUSE = frozenset(["vegetable", "fruit"])
"""Groups at the top of the tree whose fresh foods are sold with peel, core or stalk."""

TAP_WATER = "water"
"""Default food that costs nothing."""

_AS_SOLD_STATES = frozenset(["canned", "drained", "cooked", "dry", "frozen"])


def purchases_of(
    result: BatchResult, database: FoodDatabase, decisions: Decisions | None = None
) -> list[tuple[Contribution, tuple[Purchase, ...]]]:
    """What must be bought for each line of a calculated batch, in the order of the recipe.

    A line that uses a batch of its own needs that batch's purchases in proportion to the weight used of the weight
    cooked. The juice or zest of a fruit is bought as the fruit, a white or yolk as the egg.

    Parameters
    ----------
    result : BatchResult
        The calculated batch.
    database : FoodDatabase
        Where the whole foods come from of which the recipe names a part.
    decisions : Decisions, optional
        The cook's saved choices.
    """
    whole = _bought_whole([c.ingredient for c in result.contributions], result, database, decisions)
    return [
        (c, _of_line(whole.get(n, c.ingredient), result, database, decisions))
        for n, c in enumerate(result.contributions)
    ]


def known_foods(result: BatchResult) -> tuple[Food, ...]:
    """The cook's own foods of a batch and of the batches in it."""
    inner = (food for sub in result.batch.sub_batches if sub.result is not None for food in known_foods(sub.result))
    return (*result.batch.known_foods, *inner)


def as_purchased(ingredient: WeighedIngredient, region: str, *, as_sold: bool = False) -> Purchase:
    """What must be bought for one weighed line.

    Parameters
    ----------
    ingredient : WeighedIngredient
        The line with its edible mass. A line that the recipe does not count (`[count no]`) is bought all the same.
    region : str
        Region of the recipe.
    as_sold : bool
        Whether weights are as the shop sells them, as in a price list, and not edible.
    """
    matched = ingredient.matched
    line = matched.line
    if matched.status is LineStatus.NOT_COUNTED and (line.amount is not None or line.settings.mass_g is not None):
        ingredient = weigh(replace(matched, status=LineStatus.MATCHED), region)
    count, unit = _counted(line)
    found = _mass(ingredient, region, as_sold=as_sold)
    mass_g = None if found is None else found.value
    packed = count is not None and unit in PACKS and line.amount is not None and line.amount.unit not in PACKS
    return Purchase(
        ingredient=replace(ingredient, matched=matched),
        key=key_of(matched),
        mass_g=mass_g,
        edible_share=_edible_share(ingredient.mass_g, mass_g),
        ground="" if found is None else found.ground,
        volume_ml=_volume_ml(line, region),
        count=count,
        unit=unit,
        pack_g=mass_g / count if packed and mass_g is not None and count else None,
        from_tap=matched.default_food == TAP_WATER,
    )


def key_of(matched: MatchedFood) -> FoodKey:
    """What the line's food is the same as in a shop."""
    line, food = matched.line, matched.food
    frozen = matched.food_state == "frozen" or FoodState.FROZEN in (line.state, line.settings.state)
    if food is None:
        return FoodKey(frozen=frozen, words=phrase_key(decision_phrase(line)))
    fat = " ".join(f"{part.code}:{part.share:.3f}" for part in matched.blend)
    # What is drained at home is bought in its can, which is another food of the table.
    code = _in_its_can().get(matched.default_food, food.code) if matched.food_state == "drained" else food.code
    return FoodKey(food.table, code, matched.default_food, frozen, fat)


def scaled(purchase: Purchase, factor: float, via: str = "") -> Purchase:
    """`factor` times as much; `via` names the batch of its own through which it is needed."""

    def times(amount: float | None) -> float | None:
        return None if amount is None else amount * factor

    return replace(
        purchase,
        mass_g=times(purchase.mass_g),
        volume_ml=times(purchase.volume_ml),
        count=times(purchase.count),
        used_in=(via, *purchase.used_in) if via else purchase.used_in,
    )


def counted_alike(one: Purchase, other: Purchase) -> bool:
    """Whether both are counted in the same pieces: two large onions are two onions. Packs come in many sizes."""
    return bool(one.count and other.count) and one.unit == other.unit and one.unit not in PACKS


def words_of_line(purchase: Purchase) -> str:
    """The food phrase of the line in normal form, fat level included."""
    return phrase_key(decision_phrase(purchase.line))


def all_purchases(found: Iterable[tuple[Contribution, tuple[Purchase, ...]]]) -> Iterator[Purchase]:
    """The purchases of all lines."""
    for _, purchases in found:
        yield from purchases


@cache
def _in_its_can() -> Mapping[str, str]:
    """Default food -> food code of it with all that is in the can."""
    return {row.food: row.code for row in default_foods() if row.state == "canned" and row.code != "none"}


def _of_line(
    ingredient: WeighedIngredient, result: BatchResult, database: FoodDatabase, decisions: Decisions | None
) -> tuple[Purchase, ...]:
    matched = ingredient.matched
    if matched.status is LineStatus.NOT_FOOD:
        return ()
    own = as_purchased(ingredient, result.region)
    sub = _sub_batch(result, matched.food)
    if sub is None or sub.result is None or own.mass_g is None:
        return (own,)
    cooked_g = sum(component.cooked_mass_g for component in sub.result.components)
    if not cooked_g or not all(component.cooked_mass_known for component in sub.result.components):
        return (own,)
    inner = all_purchases(purchases_of(sub.result, database, decisions))
    return tuple(scaled(purchase, own.mass_g / cooked_g, sub.name) for purchase in inner)


def _sub_batch(result: BatchResult, food: Food | None) -> SubBatch | None:
    """The batch of its own that a food is, or None."""
    if food is None:
        return None
    return next((sub for sub in result.batch.sub_batches if sub.food is not None and sub.food == food), None)


def _bought_whole(
    ingredients: Sequence[WeighedIngredient],
    result: BatchResult,
    database: FoodDatabase,
    decisions: Decisions | None,
) -> dict[int, WeighedIngredient]:
    """Position of a line that names a part of a food -> the whole food, weighed."""
    lines: dict[int, RecipeLine] = {}
    for position, ingredient in enumerate(ingredients):
        line = ingredient.matched.line
        if line.amount is not None:
            food = bought_as().get((ingredient.matched.default_food, line.amount.unit))
            if food is not None:
                settings = replace(line.settings, food=None, mass_g=None)
                lines[position] = replace(
                    line, name=food, aside="", preparation="", measured=None, words=frozenset(), settings=settings
                )
    found = weigh_lines(list(lines.values()), database, result.region, decisions) if lines else []
    return dict(zip(lines, found, strict=True))


def _mass(ingredient: WeighedIngredient, region: str, *, as_sold: bool) -> Reading | None:
    """Grams as purchased."""
    matched = ingredient.matched
    line, food = matched.line, matched.food
    if food is None:
        # Nothing is known of the food but a weight, which needs no table.
        written = line.measured if line.measured is not None and line.measured.unit in MASS_G else line.amount
        if line.settings.mass_g is not None:
            return Reading(line.settings.mass_g, "grams settled on the line")
        return _written_g(written)
    if MassSource.CONVERSION in ingredient.sources and matched.food_state in ("cooked", "canned", "drained"):
        ingredient = weigh(matched, region)  # the line says raw: that is what is bought
    edible_g = ingredient.mass_g
    if edible_g is None:
        return None
    converted = MassSource.CONVERSION in ingredient.sources
    if ingredient.gross_mass_g is not None and not converted:
        return Reading(ingredient.gross_mass_g, "as weighed with what is taken off")
    by_weight = MassSource.SCALE in ingredient.sources or MassSource.PACK in ingredient.sources
    if as_sold and by_weight:
        return Reading(edible_g, "as sold")
    share = _bought_share(matched, food, region)
    if share is None:
        return Reading(edible_g, "bought as it is weighed in")
    return Reading(edible_g / share.value, f"{edible_g:.0f} g / {share.value:g}: {share.ground}")


def _written_g(amount: Amount | None) -> Reading | None:
    if amount is None or amount.unit not in MASS_G:
        return None
    return Reading(amount.middle * MASS_G[amount.unit], "as written")


def _bought_share(matched: MatchedFood, food: Food, region: str) -> Reading | None:
    """Edible grams per gram as purchased of a weight that is edible, None where nothing is lost."""
    line = matched.line
    if line.settings.as_bought is True:
        return None
    spooned = line.amount is not None and line.amount.unit not in MASS_G and line.amount.unit not in PACKS
    drained = "drained" in line.words or matched.food_state == "drained"
    if "drained weight" in line.words or (drained and spooned and not line.container):
        share = drained_share(matched.default_food, region)
        return share or Reading(USUAL_DRAINED_SHARE, "usual drained share of canned food", unit="")
    with_refuse = _sold_with_refuse(matched, food)
    if not with_refuse and line.words & REFUSE_GONE:
        return None
    conditions = [condition for condition in REFUSE_CONDITIONS if condition in line.words]
    found = edible_share(food, matched.default_food, conditions, with_refuse)
    return None if found is None or not 0.0 < found.value < 1.0 else found


def _sold_with_refuse(matched: MatchedFood, food: Food) -> bool:
    if matched.food_state in _AS_SOLD_STATES or matched.line.state in (FoodState.CANNED, FoodState.FROZEN):
        return False
    group = food_group(food)
    if group is None or state_of(WeighedIngredient(matched, None)) is not FoodState.RAW:
        return False
    return group == "egg" or broader_groups(group)[-1] in SOLD_WITH_REFUSE


def _edible_share(edible_g: float | None, mass_g: float | None) -> float:
    return edible_g / mass_g if edible_g is not None and mass_g else 1.0


def _counted(line: RecipeLine) -> tuple[float | None, str]:
    """How many pieces or packs a line names, and which; (None, '') where it counts none or parts of one."""
    if line.container in PACKS:
        return (1.0 if line.packs is None else line.packs), line.container
    if line.amount is not None and line.amount.unit in COUNT_UNITS & WHOLE_UNITS:
        return line.amount.middle, line.amount.unit
    return None, ""


def _volume_ml(line: RecipeLine, region: str) -> float | None:
    amount = line.amount
    if amount is None or amount.unit in MASS_G or amount.unit in COUNT_UNITS:
        return None
    ml = measure(amount.unit, region).ml
    return None if ml is None else ml * amount.middle
