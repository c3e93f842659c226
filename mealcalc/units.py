"""Kitchen units: one case-sensitive table of our own, then pint for what it does not hold.

pint alone reads `T` as tesla, `c` as the speed of light, `pinch` as a pico-inch and every cup as the US one; so our
table is asked first, and a word that neither knows is an error, never a guess. Volumes depend on the region.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mealcalc.errors import UsageError

REGIONS = ("au", "nz", "uk", "ie", "us", "ca", "in", "eu")
"""Regions a recipe can have; `metric` stands in, with a notice, where none is given."""

METRIC = "metric"

MASS_G: Mapping[str, float] = {
    "g": 1.0,
    "kg": 1000.0,
    "mg": 0.001,
    "oz": 28.349523125,  # avoirdupois, exact (international yard and pound agreement, 1959)
    "lb": 453.59237,  # exact, same
    "stick": 113.398,  # US stick of butter: 4 oz avoirdupois
}
"""Grams in one unit of mass, the same everywhere."""

_IMPERIAL = {"fl_oz": 28.4130625, "pint": 568.26125, "quart": 1136.5225, "gallon": 4546.09}
_US = {"fl_oz": 29.5735295625, "pint": 473.176473, "quart": 946.352946, "gallon": 3785.411784}
_METRIC_SPOONS = {"cup": 250.0, "tbsp": 15.0, "dessertspoon": 10.0, "tsp": 5.0}
_EVERYWHERE = {"ml": 1.0, "cl": 10.0, "dl": 100.0, "l": 1000.0}

VOLUME_ML: Mapping[str, Mapping[str, float]] = {
    # Australia: 20 ml tablespoon (NSW Health conversion chart, measures approved by Standards Australia).
    "au": _EVERYWHERE | _METRIC_SPOONS | {"tbsp": 20.0} | _IMPERIAL,
    "nz": _EVERYWHERE | _METRIC_SPOONS | _IMPERIAL,
    "uk": _EVERYWHERE | _METRIC_SPOONS | _IMPERIAL,
    "ie": _EVERYWHERE | _METRIC_SPOONS | _IMPERIAL,
    # US customary: the gallon is 231 cubic inches, exact (NIST Handbook 44, appendix C).
    "us": _EVERYWHERE
    | {"cup": 236.5882365, "tbsp": 14.78676478125, "dessertspoon": 9.8578431875, "tsp": 4.92892159375}
    | _US,
    # Canadian Nutrient File measures: 250, 15 and 5 ml. Written pints and ounces in Canadian recipes: US or imperial;
    # cookbooks follow the US (common practice, no source).
    "ca": _EVERYWHERE | _METRIC_SPOONS | _US,
    # India: 240 ml cup (common practice, no source).
    "in": _EVERYWHERE | _METRIC_SPOONS | {"cup": 240.0} | _IMPERIAL,
    "eu": _EVERYWHERE | _METRIC_SPOONS | _IMPERIAL,
    METRIC: _EVERYWHERE | _METRIC_SPOONS | _US,
}
"""Millilitres in one unit of volume, by region."""

COUNT_UNITS = frozenset(
    "piece slice clove stalk sprig leaf head bunch sheet can jar pack scoop cm handful ear bulb floret wedge cube "
    "sachet fillet loaf pinch dash drop splash drizzle glug knob dollop squeeze sprinkle spray shot rack sleeve "
    "none".split()
)
"""Canonical units whose mass depends on the food."""

_WORDS: dict[str, str] = {
    "g": "g", "gr": "g", "gm": "g", "gms": "g", "gram": "g", "grams": "g", "gramme": "g", "grammes": "g", "G": "g",
    "kg": "kg", "kgs": "kg", "Kg": "kg", "KG": "kg", "kilo": "kg", "kilos": "kg", "kilogram": "kg", "kilograms": "kg",
    "mg": "mg", "milligram": "mg", "milligrams": "mg",
    "oz": "oz", "oz.": "oz", "ounce": "oz", "ounces": "oz", "OZ": "oz", "Oz": "oz",
    "lb": "lb", "lbs": "lb", "lb.": "lb", "lbs.": "lb", "pound": "lb", "pounds": "lb", "LB": "lb", "LBS": "lb",
    "#": "lb",
    "ml": "ml", "mL": "ml", "ML": "ml", "mls": "ml", "cc": "ml", "millilitre": "ml", "millilitres": "ml",
    "milliliter": "ml", "milliliters": "ml",
    "cl": "cl", "centilitre": "cl", "centilitres": "cl", "centiliter": "cl", "centiliters": "cl",
    "dl": "dl", "dL": "dl", "decilitre": "dl", "decilitres": "dl", "deciliter": "dl", "deciliters": "dl",
    "l": "l", "L": "l", "ltr": "l", "litre": "l", "litres": "l", "liter": "l", "liters": "l", "lt": "l",
    "fl oz": "fl_oz", "fl. oz": "fl_oz", "fl. oz.": "fl_oz", "floz": "fl_oz", "fluid ounce": "fl_oz",
    "fluid ounces": "fl_oz", "fl ounce": "fl_oz", "fl ounces": "fl_oz",
    "pint": "pint", "pints": "pint", "pt": "pint", "pt.": "pint", "pts": "pint",
    "quart": "quart", "quarts": "quart", "qt": "quart", "qt.": "quart", "qts": "quart",
    "gallon": "gallon", "gallons": "gallon", "gal": "gallon",
    "cup": "cup", "cups": "cup", "c": "cup", "c.": "cup", "C": "cup", "CUP": "cup", "CUPS": "cup", "katori": "cup",
    "tbsp": "tbsp", "tbsp.": "tbsp", "tbsps": "tbsp", "tbs": "tbsp", "tbs.": "tbsp", "tb": "tbsp", "tblsp": "tbsp",
    "tblspn": "tbsp", "tbspn": "tbsp", "Tbsp": "tbsp", "TBSP": "tbsp", "TBS": "tbsp", "Tbs": "tbsp", "T": "tbsp",
    "T.": "tbsp", "Tb": "tbsp", "tablespoon": "tbsp", "tablespoons": "tbsp", "tablespoonful": "tbsp",
    "tablespoonfuls": "tbsp",
    "dessertspoon": "dessertspoon", "dessertspoons": "dessertspoon", "dsp": "dessertspoon", "dstspn": "dessertspoon",
    "tsp": "tsp", "tsp.": "tsp", "tsps": "tsp", "tspn": "tsp", "Tsp": "tsp", "TSP": "tsp", "t": "tsp", "t.": "tsp",
    "ts": "tsp", "teaspoon": "tsp", "teaspoons": "tsp", "teaspoonful": "tsp", "teaspoonfuls": "tsp",
    "stick": "stick", "sticks": "stick",
}  # fmt: skip
"""Every way we know to write a unit of mass or volume. Case counts: T is a tablespoon, t a teaspoon."""


@dataclass(frozen=True, slots=True)
class Measure:
    """What one unit is worth: `g` or `ml` (the other is None), with the ground to show the reader."""

    unit: str
    g: float | None
    ml: float | None
    ground: str


def canonical_unit(word: str) -> str | None:
    """The canonical unit of mass or volume written as `word`, or None.

    The spelling is looked up as it stands, since case counts (T, t), then in lower case if it has two letters or more.
    """
    found = _WORDS.get(word)
    if found is None and len(word) > 1:
        found = _WORDS.get(word.lower())
    return found


def check_region(region: str) -> str:
    """Return `region` if it is known; raise `UsageError` naming the known ones otherwise."""
    if region not in REGIONS and region != METRIC:
        raise UsageError(f"unknown region '{region}'", f"use one of: {', '.join(REGIONS)}")
    return region


def measure(unit: str, region: str) -> Measure:
    """What one `unit` is worth in `region`, in grams or millilitres.

    Raises
    ------
    UsageError
        If the region is unknown.
    ValueError
        If `unit` is neither a mass nor a volume (counts depend on the food).
    """
    check_region(region)
    if unit in MASS_G:
        return Measure(unit, MASS_G[unit], None, f"1 {unit} = {MASS_G[unit]:g} g")
    volumes = VOLUME_ML[region]
    if unit in volumes:
        where = "" if unit in _EVERYWHERE else f" ({region})"
        return Measure(unit, None, volumes[unit], f"1 {unit.replace('_', ' ')}{where} = {volumes[unit]:g} ml")
    other = _by_pint(unit)
    if other is None:
        raise ValueError(f"'{unit}' is neither a mass nor a volume")
    return other


def is_other_unit(word: str) -> bool:
    """Whether `word` is a mass or a volume that our table does not hold but pint does (gill, stone, bushel)."""
    return _by_pint(word) is not None


@cache
def _by_pint(word: str) -> Measure | None:
    if not word.isalpha() or len(word) < 4:
        return None  # pint takes short words for symbols of physics
    import pint

    registry: pint.UnitRegistry[float] = pint.UnitRegistry(cache_folder=None)
    try:
        quantity = registry.Quantity(1.0, word)
        if quantity.check("[mass]"):
            grams = float(quantity.to("gram").magnitude)
            return Measure(word, grams, None, f"1 {word} = {grams:g} g (pint {pint.__version__})")
        if quantity.check("[volume]"):
            ml = float(quantity.to("milliliter").magnitude)
            return Measure(word, None, ml, f"1 {word} = {ml:g} ml (pint {pint.__version__})")
    except (pint.UndefinedUnitError, pint.DimensionalityError):
        return None
    return None
