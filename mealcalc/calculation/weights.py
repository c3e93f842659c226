"""From amounts to edible grams: the mass of each line in the state of its food, with the ground for believing it.

Order of belief: grams the cook settled, a weight (from the scale), a volume by a density, a count by a piece weight.
Refuse is taken only off a weight that still carries it; household measures and piece weights are edible already.
"""

from mealcalc.calculation import household_measures
from mealcalc.calculation.piece_weights import Reading, bulk_density, drained_share, edible_share, piece_mass
from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.records import Amount, Food, LineStatus, MatchedFood, RecipeLine, WeighedIngredient
from mealcalc.reference.tables import small_measures
from mealcalc.units import COUNT_UNITS, MASS_G, measure

_LIQUID_GROUPS = ("1400",)
HEAPED_FACTOR = 1.5
"""A heaped spoon holds about half as much again (common practice, no source)."""

_REFUSE_CONDITIONS = ("bone in", "skin and bone", "unpeeled", "in shell", "whole", "head on")
_REFUSE_GONE = frozenset(["boneless", "peeled", "shelled", "edible", "pitted", "filleted"])


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
    """
    line = matched.line
    used_share = 1.0 if line.settings.used_share is None else line.settings.used_share
    if matched.food is None or matched.status in (LineStatus.NOT_FOOD, LineStatus.UNMATCHED):
        return WeighedIngredient(matched, None, used_share)
    if line.settings.mass_g is not None:
        return WeighedIngredient(matched, line.settings.mass_g, used_share, "grams settled on the line")
    if line.amount is None:
        return WeighedIngredient(matched, None, used_share, "no amount written", _no_amount(matched))
    reading = _grams(line, matched.food, matched.default_food, region)
    if reading is None:
        return WeighedIngredient(matched, None, used_share, "", (_no_weight(line, matched.food, line.amount),))
    return WeighedIngredient(matched, reading.value, used_share, reading.ground)


def _grams(line: RecipeLine, food: Food, default_food: str, region: str) -> Reading | None:
    assert line.amount is not None
    measured = line.measured
    if measured is not None:
        found = _grams_of(measured, line, food, default_food, region)
        if found is not None:
            return found
    return _grams_of(line.amount, line, food, default_food, region)


def _grams_of(amount: Amount, line: RecipeLine, food: Food, default_food: str, region: str) -> Reading | None:
    if amount.unit in MASS_G and not (amount.unit == "stick" and "stick" not in line.name and not _is_fat(food)):
        weight = Reading(amount.middle * MASS_G[amount.unit], _shown(amount))
        return _as_eaten(weight, line, food, default_food, region)
    small = _small_measure(amount, default_food)
    if small is not None:
        return (
            small
            if small.unit == "g"
            else _by_volume(amount.middle * small.value, small.ground, line, food, default_food)
        )
    if amount.unit in COUNT_UNITS or amount.unit == "stick":
        piece = piece_mass(amount.unit, line, food, default_food, region)
        if piece is None:
            return None
        mass = Reading(amount.middle * piece.value, f"{_shown(amount)}: {piece.ground}")
        if amount.unit in ("can", "jar", "pack"):
            return _as_eaten(mass, line, food, default_food, region)
        return mass
    unit = measure(amount.unit, region)
    if unit.g is not None:
        return Reading(amount.middle * unit.g, f"{_shown(amount)}: {unit.ground}")
    assert unit.ml is not None
    volume_ml = amount.middle * unit.ml
    found = _by_volume(volume_ml, f"{_shown(amount)}: {unit.ground}", line, food, default_food)
    if found is not None and line.container in ("can", "jar"):
        return _as_eaten(found, line, food, default_food, region)
    return found


def _by_volume(volume_ml: float, shown: str, line: RecipeLine, food: Food, default_food: str) -> Reading | None:
    if "heaped" in line.words:
        volume_ml *= HEAPED_FACTOR
        shown += f"; heaped x {HEAPED_FACTOR:g} (common practice, no source)"
    found = bulk_density(food, default_food, line.words | _name_words(line))
    if found is None and food.group[:4] in _LIQUID_GROUPS:
        found = household_measures.MeasureReading(1.0, "1 g/ml, a drink (our own assumption)")
    if found is None:
        return None
    return Reading(volume_ml * found.value, f"{shown}; {found.value:.3g} g/ml: {found.ground}")


def _as_eaten(weight: Reading, line: RecipeLine, food: Food, default_food: str, region: str) -> Reading:
    """Take off what a weight still carries: the liquid of a drained can, the bone or peel of food as bought."""
    if (
        "drained" in line.words
        and "undrained" not in line.words
        and (line.container in ("can", "jar") or _is_canned(line))
    ):
        share = drained_share(default_food, region)
        if share is not None:
            return Reading(weight.value * share.value, f"{weight.ground}; drained x {share.value:g}: {share.ground}")
        return weight
    if line.settings.as_bought is False or line.words & _REFUSE_GONE:
        return weight
    conditions = [condition for condition in _REFUSE_CONDITIONS if condition in line.words]
    share = edible_share(food, default_food, conditions, line.settings.as_bought is True)
    if share is None:
        return weight
    return Reading(weight.value * share.value, f"{weight.ground}; edible x {share.value:g}: {share.ground}")


def _small_measure(amount: Amount, default_food: str) -> Reading | None:
    rows = [row for row in small_measures() if row.measure == amount.unit]
    for row in rows:
        if row.food and row.food == default_food and row.mass_g is not None:
            return Reading(amount.middle * row.mass_g, f"{_shown(amount)}: {row.mass_g:g} g each ({row.source})")
    for row in rows:
        if not row.food and row.volume_ml is not None:
            return Reading(row.volume_ml, f"{_shown(amount)}: {row.volume_ml:g} ml each ({row.source})", unit="ml")
    return None


def _no_amount(matched: MatchedFood) -> tuple[Diagnostic, ...]:
    line = matched.line
    if matched.status is LineStatus.NOT_COUNTED or not line.settings.counted:
        return ()
    return (
        Diagnostic(
            "no-amount",
            Severity.WARNING,
            f"'{line.name}' has no amount: it is not counted",
            line.span,
            "write an amount, or [grams N], or 'to taste'",
        ),
    )


def _no_weight(line: RecipeLine, food: Food, amount: Amount) -> Diagnostic:
    what = "density" if amount.unit not in COUNT_UNITS else f"weight of a {amount.unit}"
    return Diagnostic(
        "no-weight",
        Severity.ERROR,
        f"no {what} is known for '{line.name}' ({food.table}:{food.code}): the line is not counted in any total",
        line.span,
        "weigh it and write grams, or add [grams N]",
    )


def _shown(amount: Amount) -> str:
    number = f"{amount.low:g}" if amount.low == amount.high else f"{amount.low:g} to {amount.high:g}"
    return f"{number} {amount.unit.replace('_', ' ')}"


def _name_words(line: RecipeLine) -> frozenset[str]:
    return frozenset(f"{line.name} {line.preparation}".lower().replace(",", " ").split())


def _is_canned(line: RecipeLine) -> bool:
    return line.state is not None and line.state.value == "canned"


def _is_fat(food: Food) -> bool:
    fat = food.composition.get("FAT_G")
    return fat is not None and fat.amount is not None and fat.amount > 30
