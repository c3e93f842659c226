"""Published household measures of a food, read for what a cook asks: grams of a piece, grams per millilitre.

Measures of food tables are edible portion: no refuse is taken off them (Greenfield & Southgate, FAO 2003; USDA SR28
documentation: "without refuse"). Cups and spoons of USDA tables are US customary volumes.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from mealcalc.records import HouseholdMeasure
from mealcalc.units import VOLUME_ML

_US_ML = VOLUME_ML["us"]
_VOLUME_WORDS = {
    "cup": "cup", "cups": "cup", "tbsp": "tbsp", "tablespoon": "tbsp", "tablespoons": "tbsp", "tsp": "tsp",
    "teaspoon": "tsp", "teaspoons": "tsp", "fl oz": "fl_oz", "quart": "quart", "pint": "pint", "ml": "ml",
}  # fmt: skip
_FIRST_WORDS = re.compile(r"(fl oz|[a-z]+)\b[\s,]*(.*)", re.IGNORECASE | re.DOTALL)

_PIECE_WORDS = {
    "piece": ("piece", "fruit", "item", "each", "unit", "whole", "medium"),
    "slice": ("slice", "slices", "strip", "rasher"),
    "clove": ("clove", "cloves"),
    "stalk": ("stalk", "stalks", "spear", "rib"),
    "sprig": ("sprig", "sprigs"),
    "leaf": ("leaf", "leaves"),
    "head": ("head",),
    "bunch": ("bunch",),
    "sheet": ("sheet", "sheets"),
    "can": ("can",),
    "jar": ("jar", "container", "bottle"),
    "pack": ("package", "packet", "pack", "container", "bag", "box", "carton", "pouch", "block"),
    "scoop": ("scoop", "scoops"),
    "ear": ("ear",),
    "bulb": ("bulb",),
    "floret": ("floweret", "floret"),
    "wedge": ("wedge",),
    "cube": ("cube",),
    "sachet": ("packet", "sachet", "package"),
    "fillet": ("fillet",),
    "stick": ("stick",),
    "handful": (),
}
_SIZES = ("extra large", "jumbo", "large", "medium", "small")

# Forms that nobody means unless the line says so.
_FORMS_TO_ASK_FOR = (
    "mashed",
    "pureed",
    "puree",
    "nlea",
    "serving",
    "juice",
    "crumbled",
    "melted",
    "whipped",
    "prepared",
    "yield",
)


@dataclass(frozen=True, slots=True)
class MeasureReading:
    """Grams found, per piece or per millilitre, with the published measure they come from."""

    value: float
    ground: str


def density(measures: Iterable[HouseholdMeasure], words: frozenset[str]) -> MeasureReading | None:
    """Grams per millilitre from the food's own volume measures.

    The measure whose form the line names (chopped, sliced, grated) wins, then the one without a form, then the first.

    Parameters
    ----------
    measures : iterable of HouseholdMeasure
        Measures in published order, edible portion.
    words : frozenset of str
        Words of the line that name a form.

    Returns
    -------
    MeasureReading or None
        Density in g/ml with the measure behind it; None if the food has no volume measure. SR28 measures of volume are
        US customary (USDA SR28 documentation).
    """
    best: tuple[int, HouseholdMeasure, float] | None = None
    for measure in measures:
        unit, form = _volume_of(measure.description)
        if unit is None or measure.amount <= 0:
            continue
        rank = _form_rank(form, words)
        if best is None or rank > best[0]:
            best = (rank, measure, measure.mass_g / (measure.amount * _US_ML[unit]))
    if best is None:
        return None
    measure = best[1]
    return MeasureReading(best[2], f"{measure.amount:g} US {measure.description} = {measure.mass_g:g} g")


def piece(measures: Iterable[HouseholdMeasure], unit: str, size: str, name: str) -> MeasureReading | None:
    """Edible grams of one piece, slice, head, ... from the food's own measures.

    Parameters
    ----------
    measures : iterable of HouseholdMeasure
        Measures in published order.
    unit : str
        Canonical count unit.
    size : str
        Size words of the line, '' if none: then a medium piece is meant, else the first one published.
    name : str
        Food phrase of the line: SR28 also counts in the food's own word ('1 carrot', '1 breast').

    Returns
    -------
    MeasureReading or None
        Grams of one, edible portion, with the measure behind it; None if no measure counts in that unit.
    """
    wanted = _PIECE_WORDS.get(unit, (unit,))
    name_words = frozenset(_singular(word) for word in re.findall(r"[a-z]+", name.lower()))
    best: tuple[int, HouseholdMeasure] | None = None
    for measure in measures:
        rank = _piece_rank(measure.description.lower(), wanted, unit, size, name_words)
        if rank > 0 and measure.amount > 0 and (best is None or rank > best[0]):
            best = (rank, measure)
    if best is None:
        return None
    measure = best[1]
    return MeasureReading(
        measure.mass_g / measure.amount, f"{measure.amount:g} {measure.description} = {measure.mass_g:g} g"
    )


def _volume_of(description: str) -> tuple[str | None, str]:
    found = _FIRST_WORDS.match(description)
    if found is None:
        return None, ""
    return _VOLUME_WORDS.get(found[1].lower()), found[2].lower()


def _form_rank(form: str, words: frozenset[str]) -> int:
    if not form:
        return 3
    if any(word in form for word in words if len(word) > 3):
        return 5
    if any(word in form for word in _FORMS_TO_ASK_FOR):
        return 0
    return 2


def _piece_rank(description: str, wanted: tuple[str, ...], unit: str, size: str, name_words: frozenset[str]) -> int:
    if "yield from" in description and ("raw" in description or "ready" in description):
        return 0  # 'unit (yield from 1 lb ready-to-cook chicken)' is no piece as bought
    words = re.findall(r"[a-z]+", description)
    if not words or words[0] in _VOLUME_WORDS or words[0] in ("oz", "lb", "serving", "cubic", "fl"):
        return 0
    named = words[0] in wanted or any(word in wanted for word in words[:3])
    own_word = unit == "piece" and any(_singular(word) in name_words for word in words[:2])
    sized = next((s for s in _SIZES if s in description), "")
    if not (named or own_word or (unit == "piece" and sized and description.startswith(sized))):
        return 0
    if size:
        return 6 if sized == size else (2 if not sized else 1)
    return 5 if sized == "medium" else (4 if not sized else 2)


def _singular(word: str) -> str:
    return word[:-1] if word.endswith("s") and not word.endswith("ss") else word
