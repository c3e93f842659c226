"""Relative standard deviations of what goes into a line, and what would shrink them.

The figures stand in `reference/uncertainty.csv`, each with its ground; here are the rules by which they apply.
"""

import math
import re
from collections.abc import Iterator

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.records import Food, MassSource, WeighedIngredient
from mealcalc.reference.uncertainty import composition_spread, spreads
from mealcalc.values import amount_of

PACKS = ("can", "jar", "pack")
"""Containers whose weight stands on them: nobody weighs what is in them."""

SPOONS = ("tbsp", "dessertspoon", "tsp")

OWN_TABLE = "own"
"""Table of the cook's own foods: their values stand on a pack label."""

LABEL_SD_SHARE = 0.5
"""A pack label is taken to be twice as sure of its food as the mean of a table (our own judgement)."""

FRESH_PRODUCE_GROUPS = ("0900", "1100")
"""SR28 groups of fruit and vegetables: what is sold loose bears no label."""

_FULL_AT = {key: 100.0 for key, component in FOOD_COMPONENTS.items() if component.unit == "g"} | {
    "NA_MG": 39_340.0,
    "ENERC_KCAL": 902.0,
}
"""Per 100 g, what a food that is nothing else holds: 100 g of a macro, the sodium of pure salt, the energy of pure fat
(9.02 kcal per g, USDA Agriculture Handbook 74)."""

_ABOUT = re.compile(r"\b(?:about|around|roughly|approx(?:imately|\.)?|circa)(?!\w)|~", re.IGNORECASE)
_VOLUMES = frozenset([MassSource.VOLUME_LIQUID, MassSource.VOLUME_BULK])

_WEIGH = "weigh it"
_ADVICE = (
    (MassSource.USED_SHARE, "weigh what is left over"),
    (MassSource.USED_SHARE_SAID, "weigh what is left over"),
    (MassSource.SMALL_MEASURE, _WEIGH),
    (MassSource.COUNT, _WEIGH),
    (MassSource.VOLUME_BULK, _WEIGH),
    (MassSource.VOLUME_LIQUID, _WEIGH),
    (MassSource.CONVERSION, "weigh it in the state of the table"),
    (MassSource.SHARE, "weigh the edible part"),
    (MassSource.PACK, "read the net weight off the pack"),
)


def mass_sd(ingredient: WeighedIngredient) -> float:
    """Relative standard deviation of the eaten mass of a line (0.15 is 15 %).

    The steps by which the mass came about are independent and multiply, so their squares add up.
    """
    return math.sqrt(sum(sd**2 for sd in _step_sds(ingredient)))


def weighed_sd(ingredient: WeighedIngredient) -> float:
    """Relative standard deviation that the mass would have if the cook weighed what is eaten."""
    return min(mass_sd(ingredient), spreads()["scale"].relative_sd)


def mass_advice(ingredient: WeighedIngredient) -> str:
    """What the cook can do to make the mass surer; '' where it is as sure as a kitchen scale makes it."""
    for source, advice in _ADVICE:
        if source in ingredient.sources:
            if source is MassSource.SHARE and "drained" in ingredient.matched.line.words:
                return "weigh it drained"
            return advice
    written_loosely = mass_sd(ingredient) > 1.5 * spreads()["scale"].relative_sd
    return "weigh it: the line gives a range or says about" if written_loosely else ""


def composition_sd(food: Food, key: str) -> float:
    """Relative standard deviation of a food component of a food about the figure used (0.12 is 12 %).

    It shrinks as a component fills the food: oil is fat and sugar is carbohydrate whatever the sample. A food from a
    pack label is surer than the mean of a table.
    """
    per_100g = amount_of(food.composition, key)
    room = 1.0
    if per_100g is not None and key in _FULL_AT:
        room = min(1.0, max(0.0, 1.0 - per_100g / _FULL_AT[key]))
    label = LABEL_SD_SHARE if food.table == OWN_TABLE else 1.0
    return composition_spread(key).relative_sd * room * label


def composition_advice(ingredient: WeighedIngredient) -> str:
    """What the cook can do to make the composition surer; '' where there is no label to read."""
    food = ingredient.matched.food
    if food is None or food.table == OWN_TABLE:
        return ""
    if food.group[:4] in FRESH_PRODUCE_GROUPS and ingredient.matched.food_state in ("", "raw"):
        return ""
    return "take its values from the pack label, under 'foods:'"


def _step_sds(ingredient: WeighedIngredient) -> Iterator[float]:
    line, sources = ingredient.matched.line, frozenset(ingredient.sources)
    table = spreads()
    for source in ingredient.sources:
        sd = table[source.value].relative_sd
        if source in (MassSource.USED_SHARE, MassSource.USED_SHARE_SAID):
            # The guess is of what is eaten or of what is left, whichever is less: 90 % eaten is surer than 40 %.
            eaten = ingredient.used_share
            sd *= min(1.0, (1.0 - eaten) / eaten) if eaten > 0 else 0.0
        yield sd
    if line.amount is None or MassSource.SETTLED in sources:
        return
    if line.amount.unit in SPOONS and sources & _VOLUMES:
        yield table["spoon"].relative_sd
    if MassSource.SCALE in sources and line.container in PACKS:
        yield table["net_weight"].relative_sd
    if MassSource.SCALE in sources and _ABOUT.search(line.text):
        yield table["about"].relative_sd
    used = line.measured or line.amount
    if used.high > used.low and used.middle > 0:
        yield (used.high - used.low) / used.middle / math.sqrt(12.0)  # uniform over the range
