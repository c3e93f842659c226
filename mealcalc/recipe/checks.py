"""Amounts that cannot be meant: negative, zero, or more than any kitchen weighs in."""

from mealcalc.records import Amount
from mealcalc.units import COUNT_UNITS, measure

MOST_MASS_G = 50_000.0
"""Grams of one food beyond which the amount is taken for a slip of the pen (our judgement)."""

MOST_SEASONING_G = 1_000.0
"""Grams (or ml) of salt or spice beyond which the amount is taken for a slip of the pen (our judgement)."""

MOST_PIECES = 500.0
"""Pieces beyond which the amount is taken for a slip of the pen (our judgement)."""

_SEASONINGS = frozenset(
    "salt cumin turmeric paprika cinnamon nutmeg cardamom cayenne saffron asafoetida hing masala oregano thyme "
    "allspice "
    "peppercorns cloves msg".split()
)
_SEASONING_PHRASES = (
    "black pepper|white pepper|chilli powder|chili powder|curry powder|baking powder|baking soda|bicarbonate of soda|"
    "ground coriander|ground ginger|garlic powder|onion powder|five-spice"
).split("|")
_NOT_SEASONINGS = frozenset("pork beef cod butter unsalted water pasta chicken tofu paneer fish lamb".split())


def absurdity(amount: Amount, name: str, region: str) -> str:
    """Why `amount` of `name` cannot be meant, as the end of a sentence; '' where nothing is wrong."""
    if amount.unit in COUNT_UNITS:
        return f"more than {MOST_PIECES:g} of anything" if amount.high > MOST_PIECES else ""
    worth = measure(amount.unit, region)
    size, unit = (amount.high * worth.g, "g") if worth.g is not None else (amount.high * (worth.ml or 0.0), "ml")
    if size > MOST_MASS_G:
        return f"more than 50 {'kg' if unit == 'g' else 'l'} of anything"
    if size > MOST_SEASONING_G and is_seasoning(name):
        return f"more than 1 {'kg' if unit == 'g' else 'l'} of a seasoning"
    return ""


def is_seasoning(name: str) -> bool:
    """Whether a food phrase is salt or a spice by itself."""
    low = name.lower()
    words = low.split()
    if any(word in _NOT_SEASONINGS for word in words):
        return False
    return any(word in _SEASONINGS for word in words) or any(phrase in low for phrase in _SEASONING_PHRASES)
