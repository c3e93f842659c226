"""From amounts to edible grams: the mass of each line in the state of its food, with the ground for believing it.

Order of belief: grams the cook settled, a weight (from the scale), a volume by a density, a count by a piece weight.
Refuse is taken only off a weight that still carries it; household measures and piece weights are edible already.
"""

from dataclasses import replace

from mealcalc.calculation import household_measures, small_measures
from mealcalc.calculation.piece_weights import Reading, bulk_density, drained_share, edible_share, piece_mass, piece_row
from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.records import Amount, Food, FoodState, LineStatus, MassSource, MatchedFood, RecipeLine, WeighedIngredient
from mealcalc.units import COUNT_UNITS, MASS_G, measure
from mealcalc.values import amount_of

LIQUID_GROUPS = ("1400",)
"""Food groups that are drinks: one weighs 1 g per ml where no measure says otherwise."""

OWN_TABLE = "own"
"""Table of the cook's own foods, for which a density can be stated."""

PACKS = ("can", "jar", "pack")

HEAPED_FACTORS = {"tsp": 1.5, "dessertspoon": 1.5, "tbsp": 1.5, "cup": 1.25}
"""A heaped spoon holds about half as much again, a heaped cup a quarter (common practice, no source)."""

USUAL_DRAINED_SHARE = 0.6
"""Drained weight per net weight of a canned food that our table does not list: the median of those it lists."""

LIGHTEST_LIQUID_G_PER_ML = 0.85
"""What fills a cup more lightly than oil does is a heap of pieces, not a liquid."""

FATTY_G = 30.0
"""Fat in g per 100 g above which a 'stick' is the US stick of fat, not a stalk of celery or cinnamon."""

REFUSE_CONDITIONS = (
    "bone in",
    "skin and bone",
    "unpeeled",
    "in shell",
    "whole",
    "head on",
    "with stone",
    "in pod",
    "on the cob",
)
REFUSE_GONE = frozenset(["boneless", "peeled", "shelled", "edible", "pitted", "filleted"])
FLESH = frozenset(["meat", "flesh"])
"""Words of a name after which nothing inedible is left, unless the line says so: mussel meat."""


def weigh(matched: MatchedFood, region: str) -> WeighedIngredient:
    """The edible mass of a matched line, in grams.

    Parameters
    ----------
    matched : MatchedFood
        A line with its food.
    region : str
        Region of the recipe: decides spoons, cups, and sizes of pieces and packs.

    Returns
    -------
    WeighedIngredient
        `mass_g` is None where the amount cannot be turned into grams; a diagnostic then says why. Lines that are not
        counted have no mass and no diagnostic.

    Raises
    ------
    UsageError
        If the region is unknown.
    ValueError
        If the amount has a unit that the parser does not know.
    """
    line = matched.line
    used_share = 1.0 if line.settings.used_share is None else line.settings.used_share
    if matched.food is None or matched.status not in (LineStatus.MATCHED, LineStatus.UNSURE):
        return WeighedIngredient(matched, None, used_share)
    if line.settings.mass_g is not None:
        return WeighedIngredient(
            matched, line.settings.mass_g, used_share, "grams settled on the line", sources=(MassSource.SETTLED,)
        )
    if line.amount is None:
        told = any(diagnostic.severity is Severity.ERROR for diagnostic in line.diagnostics)
        return WeighedIngredient(matched, None, used_share, "no amount written", () if told else (_no_amount(line),))
    reading = _Weigher(matched, matched.food, region).grams(line.measured, line.amount)
    if reading is None:
        return WeighedIngredient(matched, None, used_share, "", (_no_weight(line, matched.food, line.amount),))
    return WeighedIngredient(
        matched, reading.value, used_share, reading.ground, sources=reading.sources, gross_mass_g=reading.gross_g
    )


class _Weigher:
    """Turns the amounts of one line into grams; knows the line, its food and the region, and changes none of them."""

    def __init__(self, matched: MatchedFood, food: Food, region: str) -> None:
        self._line = matched.line
        self._food = food
        self._default_food = matched.default_food
        self._region = region
        # The tables of weights name the state where a food is denser in it: dry rice, cooked rice.
        self._words = matched.line.words | {matched.food_state} | _name_words(matched.line)

    def grams(self, measured: Amount | None, written: Amount) -> Reading | None:
        """The measured amount of the line if it can be used, else the written one."""
        found = self._grams_of(measured) if measured is not None else None
        return found if found is not None else self._grams_of(written)

    def _grams_of(self, amount: Amount) -> Reading | None:
        if amount.unit == "stick" and not self._is_fat():
            return self._by_count(Amount(amount.low, amount.high, "stalk"))
        if amount.unit in MASS_G:
            weight = Reading(amount.middle * MASS_G[amount.unit], _shown(amount), sources=(MassSource.SCALE,))
            return self._as_eaten(weight)
        small = self._by_small_measure(amount)
        if small is not None:
            return small
        if amount.unit in COUNT_UNITS:
            return self._by_count(amount)
        unit = measure(amount.unit, self._region)
        if unit.g is not None:
            return Reading(amount.middle * unit.g, f"{_shown(amount)}: {unit.ground}", sources=(MassSource.SCALE,))
        assert unit.ml is not None
        volume_ml, shown = amount.middle * unit.ml, f"{_shown(amount)}: {unit.ground}"
        if "heaped" in self._line.words and amount.unit in HEAPED_FACTORS:
            volume_ml *= HEAPED_FACTORS[amount.unit]
            shown += f"; heaped x {HEAPED_FACTORS[amount.unit]:g} (common practice, no source)"
        found = self._by_volume(volume_ml, shown)
        return self._as_eaten(found) if found is not None and self._line.container in PACKS else found

    def _by_count(self, amount: Amount) -> Reading | None:
        piece = piece_mass(amount.unit, self._line, self._food, self._default_food, self._region)
        if piece is None:
            return None
        source = MassSource.PACK if amount.unit in PACKS else MassSource.COUNT
        mass = Reading(amount.middle * piece.value, f"{_shown(amount)}: {piece.ground}", sources=(source,))
        # A pack is weighed with all that is in it; a piece is edible already.
        return self._as_eaten(mass) if amount.unit in PACKS else mass

    def _by_volume(self, volume_ml: float, shown: str) -> Reading | None:
        found = bulk_density(self._food, self._default_food, self._words)
        if found is None and self._food.group[:4] in LIQUID_GROUPS:
            found = household_measures.MeasureReading(1.0, "1 g/ml, a drink (our own assumption)")
        if found is None:
            return None
        source = MassSource.VOLUME_LIQUID if found.value >= LIGHTEST_LIQUID_G_PER_ML else MassSource.VOLUME_BULK
        ground = f"{shown}; {found.value:.3g} g/ml: {found.ground}"
        return Reading(volume_ml * found.value, ground, sources=(source,))

    def _by_small_measure(self, amount: Amount) -> Reading | None:
        """A pinch, a glug, a handful: by a row of this food, else by the measure's volume and the food's density."""
        if not small_measures.is_small_measure(amount.unit):
            return None
        size = self._line.size
        one = small_measures.of_food(amount.unit, size, self._default_food)
        if one is not None:
            return _of_small_measure(amount, Reading(one.mass_g, one.ground))
        row = piece_row(amount.unit, size, self._default_food, self._region)
        if row is not None:
            one = small_measures.of_piece(row, size)
            return _of_small_measure(amount, Reading(one.mass_g, one.ground))
        volume = small_measures.of_any_food(amount.unit, size)
        if volume is None:
            return None
        found = self._by_volume(amount.middle * volume.volume_ml, f"{_shown(amount)}: {volume.ground}")
        return None if found is None else replace(found, sources=(MassSource.SMALL_MEASURE,))

    def _as_eaten(self, weight: Reading) -> Reading:
        """Take off what a weight still carries: the liquid of a drained can, the bone or peel of food as bought."""
        line = self._line
        if "drained" in line.words and (line.container in PACKS or line.state is FoodState.CANNED):
            share = drained_share(self._default_food, self._region)
            if share is None and line.container != "pack":
                share = Reading(USUAL_DRAINED_SHARE, "usual of canned food, this one is not listed", unit="")
            return weight if share is None else _times(weight, share, "drained")
        if line.settings.as_bought is False or line.words & REFUSE_GONE:
            return weight
        conditions = [condition for condition in REFUSE_CONDITIONS if condition in line.words]
        if not conditions and self._words & FLESH:
            return weight
        share = edible_share(self._food, self._default_food, conditions, line.settings.as_bought is True)
        if share is None:
            return weight
        return _times(weight, share, "edible")

    def _is_fat(self) -> bool:
        fat_g = amount_of(self._food.composition, "FAT_G")
        return fat_g is not None and fat_g > FATTY_G


def _of_small_measure(amount: Amount, one: Reading) -> Reading:
    ground = f"{_shown(amount)}: {one.ground}"
    return Reading(amount.middle * one.value, ground, sources=(MassSource.SMALL_MEASURE,))


def _times(weight: Reading, share: Reading, what: str) -> Reading:
    ground = f"{weight.ground}; {what} x {share.value:g}: {share.ground}"
    sources = (*weight.sources, MassSource.SHARE)
    return Reading(weight.value * share.value, ground, sources=sources, gross_g=weight.value)


def _no_amount(line: RecipeLine) -> Diagnostic:
    return Diagnostic(
        "no-amount",
        Severity.WARNING,
        f"'{line.name}' has no amount: it is not counted",
        line.span,
        "write an amount, or [grams N], or 'to taste'",
    )


def _no_weight(line: RecipeLine, food: Food, amount: Amount) -> Diagnostic:
    volume = amount.unit not in COUNT_UNITS
    what = "density" if volume else f"weight of a {amount.unit}"
    own = ", or state 'density: 1.03 g/ml' for it under 'foods:'" if volume and food.table == OWN_TABLE else ""
    return Diagnostic(
        "no-weight",
        Severity.ERROR,
        f"no {what} is known for '{line.name}' ({food.table}:{food.code}): the line is not counted in any total",
        line.span,
        f"weigh it and write grams, or add [grams N]{own}",
    )


def _shown(amount: Amount) -> str:
    number = f"{amount.low:g}" if amount.low == amount.high else f"{amount.low:g} to {amount.high:g}"
    return f"{number} {amount.unit.replace('_', ' ')}"


def _name_words(line: RecipeLine) -> frozenset[str]:
    return frozenset(f"{line.name} {line.preparation}".lower().replace(",", " ").split())
