"""What is known of a food's sugars: added (sugar, honey, syrups), its own, or not known.

By food group and words of the description (`label_sugar_sources.csv`). Foods of mixed origin, such as sauces, baked and
canned foods, stay unknown: only their packs tell.
"""

from mealcalc.labelling.panel_input import SugarKind
from mealcalc.records import Food
from mealcalc.reference.label_tables import SugarSource, description_words, sugar_sources

OWN_FOODS = "own"
"""Table and, here, group of the cook's own foods."""


def sugar_kind(food: Food) -> SugarKind:
    """What is known of the sugars of a food, none of which may be there."""
    group = OWN_FOODS if food.table == OWN_FOODS else food.group[:4]
    words = description_words(food.description)
    if words:
        for source in sugar_sources():
            if group in source.groups and _fits(source, group, words):
                return SugarKind(source.kind)
    return SugarKind.UNKNOWN


def _fits(source: SugarSource, group: str, words: list[str]) -> bool:
    if source.none_of & set(words):
        return False
    if source.kind == SugarKind.ADDED:
        # A table names the kind first (`Sugars, brown`), a cook last (`brown sugar`).
        return (words[-1] if group == OWN_FOODS else words[0]) in source.words
    return bool(source.words & set(words))
