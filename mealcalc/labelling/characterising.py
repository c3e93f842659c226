"""Quantities of the ingredients that a title names.

Regulation (EU) No 1169/2011 Art 22 and Annex VIII; Food Standards Code, Standard 1.2.10.

The quantity is that of the mixing bowl in percent of all that goes in. Of a food that loses moisture it is related to
the finished food; where that makes more than 100 %, the grams used for 100 g of the food stand in its place.
"""

from collections.abc import Sequence
from decimal import Decimal

from mealcalc.labelling.ingredient_weights import Entry, share_percent
from mealcalc.labelling.rounding import TIES
from mealcalc.reference.ingredient_rules import IngredientRule, herb_or_spice
from mealcalc.reference.plain_words import plain_words

SHORTEST_END = 4
"""Letters that a word of a title needs to stand for the end of a longer one: 'fish' for 'swordfish', not 'pea'."""

FINE_BELOW_PERCENT = Decimal(5)
"""Below this percentage the finer step counts."""

# Words of titles that name no ingredient: vessels, ways of cooking, praise, colours.
_NO_INGREDIENT = frozenset(
    "and with in of the a an over on at to for from style pot bowl box tray pan jar batch meal prep container one two "
    "three baked bake roast roasted grilled braised stewed fried stir fry smoked smoky spicy spiced hot cold sweet "
    "sour crispy creamy slow cooker quick easy simple best my our your homemade classic traditional fresh warm lean "
    "high low protein fat carb light healthy weekly family summer winter red green black white brown yellow orange "
    "golden curry stew soup salad casserole sauce dish lunch dinner breakfast brunch supper mix mixed plain free "
    "ground dry dried canned frozen raw cooked whole large small".split()
)


def named_entries(title: str, emphasised: Sequence[str], entries: Sequence[Entry]) -> list[Entry]:
    """Entries that the title names or that are emphasised; herbs and spices only by emphasis.

    Small amounts used as flavouring need no quantity (Annex VIII 1(a)(iii)), so that 'pepper' in a title means the
    vegetable.
    """
    in_title = {word for word in plain_words(title) if word not in _NO_INGREDIENT}
    by_emphasis = {word for words in emphasised for word in plain_words(words) if word not in _NO_INGREDIENT}
    return [
        entry
        for entry in entries
        if not entry.is_water
        and (_names(by_emphasis, entry.name) or (not herb_or_spice(entry.name) and _names(in_title, entry.name)))
    ]


def quantities(
    named: Sequence[Entry], as_used_g: float, finished_mass_g: float | None, rules: dict[str, IngredientRule]
) -> dict[Entry, str]:
    """Printed quantity of each named entry whose mass is known: `23 %`, or `112 g per 100 g` beyond 100 %.

    Parameters
    ----------
    named : sequence of Entry
        Ingredients that need a quantity.
    as_used_g, finished_mass_g : float
        All that goes in, and the finished food, in g; the latter None where it is not known.
    rules : mapping
        Rules of the scheme; without the rule `quid` there are no quantities.
    """
    weighed = [entry for entry in named if entry.mass_g is not None]
    if "quid" not in rules or not weighed or as_used_g <= 0:
        return {}
    loses_moisture = finished_mass_g is not None and 0 < finished_mass_g < as_used_g
    whole_g = finished_mass_g if loses_moisture and finished_mass_g is not None else as_used_g
    shares = {entry: share_percent(entry.mass_g or 0.0, whole_g) for entry in weighed}
    as_weight = max(*shares.values(), sum(shares.values(), Decimal(0))) > 100
    return {entry: _printed(share, rules, as_weight=as_weight) for entry, share in shares.items()}


def _printed(share: Decimal, rules: dict[str, IngredientRule], *, as_weight: bool) -> str:
    step = rules["quid step below 5"].value if share < FINE_BELOW_PERCENT else rules["quid step"].value
    step = step or Decimal(1)
    number = (share / step).quantize(Decimal(1), rounding=TIES) * step
    if number == 0:
        # Something that is there is never printed as nothing.
        return f"less than {step.normalize():f} {'g per 100 g' if as_weight else '%'}"
    return f"{number.normalize():f} {'g per 100 g' if as_weight else '%'}"


def _names(words: set[str], name: str) -> bool:
    own = [word for word in plain_words(name) if word not in _NO_INGREDIENT]
    return any(word == mine or (len(word) >= SHORTEST_END and mine.endswith(word)) for word in words for mine in own)
