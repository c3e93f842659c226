"""The tables of allergens: statutory lists, reviewed words, and that they cover every default food."""

import csv
import io
from collections.abc import Mapping
from pathlib import Path

import pytest

from mealcalc.errors import ReferenceDataError
from mealcalc.labelling.allergen_matching import find_in_words
from mealcalc.labelling.allergens import COMPOSITE_GROUPS
from mealcalc.records import Food
from mealcalc.reference import allergen_tables
from mealcalc.reference.allergen_tables import (
    ALLERGENS,
    Emphasis,
    WordKind,
    allergen_cautions,
    allergen_list,
    allergen_words,
    expand,
    words_by_phrase,
)
from mealcalc.reference.label_tables import ClauseStatus
from mealcalc.reference.plain_words import plain_words
from mealcalc.reference.tables import DefaultFood, default_foods, read_table

REFERENCE = Path(allergen_tables.__file__).parent
FILES = ("allergen_words.csv", "allergen_lists.csv", "allergen_cautions.csv", "ingredient_list_rules.csv")

# Words of a name or a description that make us expect an allergen; the allergen's tag in front.
EXPECTED_BY_WORD = {
    word: allergen
    for allergen, words in {
        "milk": "milk cheese butter cream yogurt whey buttermilk casein paneer ghee curd",
        "egg": "egg omelette mayonnaise",
        "fish": "fish salmon tuna cod anchovy mackerel herring sardine trout haddock eel roe",
        "crustaceans": "crab shrimp prawn lobster crayfish crustacean",
        "molluscs": "mussel oyster clam scallop squid octopus abalone mollusk cuttlefish whelk",
        "wheat": "wheat semolina couscous bulgur spelt bread pasta spaghetti macaroni noodle cracker biscuit cooky "
        "cake flour muffin bagel croissant pancake waffle pita",
        "rye": "rye",
        "barley": "barley malt malted beer",
        "oats": "oat oatmeal",
        "peanut": "peanut",
        "soy": "soy soybean tofu miso tempeh edamame natto",
        "almond": "almond",
        "hazelnut": "hazelnut",
        "walnut": "walnut",
        "cashew": "cashew",
        "pecan": "pecan",
        "pistachio": "pistachio",
        "macadamia": "macadamia",
        "sesame": "sesame tahini",
        "celery": "celery celeriac",
        "mustard": "mustard",
        "lupin": "lupin",
    }.items()
    for word in words.split()
}

# Default foods whose name, or whose stand-in in the table, holds such a word without holding the allergen: reviewed.
LOOK_ALIKES = {
    "milk": "head cheese|cocoa butter|rice milk|coconut milk drink|coconut yoghurt|hemp milk|pea milk|flax milk|"
    "quinoa milk|coconut whipping cream|butter lettuce|sweet pickle|coconut milk|coconut cream|light coconut milk|"
    "cream of coconut|cream of rice|butter bean|cream of tartar|apple butter|sunflower seed butter|cream soda|tahini|"
    "raw tahini|peanut butter|crunchy peanut butter|natural peanut butter|natural crunchy peanut butter|"
    "reduced fat peanut butter|peanut butter chip|peanut butter powder|almond butter|cashew butter|hazelnut butter|"
    "peanut sauce|soy yoghurt|soy milk|unsweetened soy milk|light soy milk|chocolate soy milk|almond milk|"
    "sweetened almond milk|oat milk|almond yoghurt|oat yoghurt|hazelnut milk|walnut milk|pistachio milk|cashew milk|"
    "macadamia milk|soy cream|oat cream|cashew cream|yuba|tofu|firm tofu|extra firm tofu|soft tofu|silken tofu|"
    "fried tofu|smoked tofu|fermented bean curd",
    "fish": "vegan fish sauce|fish seasoning|fish spice|fish fry mix|tuna mornay recipe base",
    "crustaceans": "crab apple|crab boil seasoning",
    "molluscs": "oyster blade steak|salsify|pattypan squash|oyster mushroom|saltine cracker|vegetarian oyster sauce",
    "mustard": "komatsuna",
    "almond": "cashew milk|macadamia milk",
    "peanut": "caramel popcorn",
    "barley": "ginger ale|root beer|alcoholic ginger beer|root beer extract",
    "wheat": "spaghetti squash|sweet pickle|rye grain|masa harina|amaranth flour|teff flour|edamame pasta|"
    "fresh rice noodle|rice paper|glass noodle|konjac noodle|kelp noodle|rice noodle|lupin flour|soya chunk|soy flour|"
    "low fat soy flour|defatted soy flour|rye flour|dark rye flour|light rye flour|buckwheat flour|barley flour|"
    "millet flour|sorghum flour|besan|sattu|moong dal flour|rice flour|brown rice flour|glutinous rice flour|"
    "corn flour|degermed corn flour|arrowroot|cassava flour|potato flour|water chestnut flour|coconut flour|"
    "banana flour|almond flour|peanut flour|carob powder|rice cake|malt powder|pancake syrup|"
    "reduced calorie pancake syrup",
}

# None of these holds an allergen of any list.
NOTHING_IN_THEM = (
    "coconut milk|full fat coconut milk|coconut cream|cream of coconut|nutmeg|freshly grated nutmeg|water chestnuts|"
    "chestnuts|butter beans|2 x 400 g cans butter beans, drained|buckwheat|buckwheat flour|cream of tartar|eggplant|"
    "egg plant|oyster mushrooms|king oyster mushrooms|shea butter|cocoa butter|rice milk|hemp milk|butternut squash|"
    "butter lettuce|apple butter|cream soda|ginger beer|custard apple|crab apple|celery cabbage|rice flour|corn flour|"
    "tapioca starch|gram flour|besan|bajra ka atta|ragi atta|rice noodles|glass noodles|rice paper|polenta|cornmeal|"
    "quinoa|chickpeas|coconut oil|sunflower lecithin|tiger nuts|pine mushroom|sweetcorn|spaghetti squash|"
    "mustard spinach|scallop squash|oyster blade steak|lotus root|coconut aminos|egg tomato|"
    "walnut-sized knob of ginger|vegan honey|fish mint|chicken thighs|onion|rice|turmeric|"
    "single malt whisky|nata de coco|romano pepper|"
    "gulab jal|water kefir|quince cheese|sea urchin|caviar lime|bread yeast|dab of honey|ladies' fingers"
).split("|")


def _names() -> dict[str, list[DefaultFood]]:
    foods: dict[str, list[DefaultFood]] = {}
    for row in default_foods():
        foods.setdefault(row.food, []).append(row)
    return foods


def _expected(food: str, rows: list[DefaultFood], groups: Mapping[str, Food]) -> set[str]:
    texts = [food, *(row.description for row in rows)]
    found = {EXPECTED_BY_WORD[word] for text in texts for word in plain_words(text) if word in EXPECTED_BY_WORD}
    in_dairy_group = any(row.code in groups and groups[row.code].group[:4] == "0100" for row in rows)
    if in_dairy_group and not found & {"egg", "soy"}:
        found.add("milk")
    if any(row.code in groups and groups[row.code].group[:4] == "1500" for row in rows):
        found.add("seafood")
    return found - {allergen for allergen, foods in LOOK_ALIKES.items() if food in foods.split("|")}


def _found(text: str) -> set[str]:
    allergens = {finding.allergen for finding in find_in_words(text).findings}
    return allergens | ({"seafood"} if allergens & {"fish", "crustaceans", "molluscs"} else set())


def test_every_default_food_has_a_row_that_fires(all_foods: Mapping[str, Food]) -> None:
    # Frogs, turtles, jellyfish, sea urchins and sea cucumbers stand among the seafood and are on no list.
    not_listed = {"frog leg", "jellyfish", "sea urchin", "sea cucumber"}
    missing = {
        food: lacking
        for food, rows in _names().items()
        for lacking in [
            _expected(food, rows, all_foods) - _found(food) - ({"seafood"} if food in not_listed else set())
        ]
        if lacking
    }
    assert not missing


def test_every_name_of_a_default_food_leads_to_its_allergens(all_foods: Mapping[str, Food]) -> None:
    # A line is read by its own words and by the name of its default food; together they miss nothing.
    missing = {
        (food, name): lacking
        for food, rows in _names().items()
        for name in {name for row in rows for name in row.names}
        for lacking in [_expected(food, rows, all_foods) - _found(name) - _found(food) - {"seafood"}]
        if lacking
    }
    assert not missing


def test_no_look_alike_is_stale() -> None:
    foods = _names()
    reviewed = [(allergen, food) for allergen, names in LOOK_ALIKES.items() for food in names.split("|")]
    assert {food for _, food in reviewed} <= set(foods)
    assert not [(allergen, food) for allergen, food in reviewed if allergen in _found(food)]


def test_made_products_without_a_rule_are_few_and_told_as_not_known(all_foods: Mapping[str, Food]) -> None:
    # Foods of the groups of made products that no row speaks of: a line with them says 'not known'.
    without_rule = {
        food
        for food, rows in _names().items()
        for row in rows
        if row.code in all_foods
        and all_foods[row.code].group[:4] in COMPOSITE_GROUPS
        and not find_in_words(food).reviewed
    }
    assert without_rule <= {
        "corned beef", "canned corned beef", "dried beef", "deli roast beef", "turkey bacon", "ham",
        "chopped ham canned",
        "extra lean ham", "honey ham", "deli chicken breast", "deli turkey breast", "bresaola", "reduced sugar jelly",
        "strawberry topping", "pork rind", "mutton", "refried red bean",
    }  # fmt: skip


@pytest.mark.parametrize("words", NOTHING_IN_THEM)
def test_nothing_is_found_in_look_alikes(words: str) -> None:
    assert not find_in_words(words).findings


def test_every_row_of_words_says_why() -> None:
    for row in allergen_words():
        assert row.reason
        assert row.source
        assert row.mark in ("read", "in part", "memory", "common practice")
        if row.kind is WordKind.UNLIKE:
            assert not row.contains
            assert not row.may_depend
        if row.kind is WordKind.CLAIM:
            assert not row.contains
            assert row.softens or row.may_depend
        else:
            assert not row.softens


def test_words_that_look_like_an_allergen_never_hide_one_that_has_no_row() -> None:
    # A phrase that takes the place of a shorter one is in plain words itself, so that it can be found.
    for phrase in words_by_phrase():
        assert plain_words(" ".join(phrase)) == phrase


def test_exceptions_stand_behind_the_patterns_they_refine() -> None:
    # 'cream of celery soup' is also made by a pattern for creamy soups; the row that names it counts.
    soup = words_by_phrase()["cream", "of", "celery", "soup"]
    assert {found.allergen for found in soup.contains} == {"milk", "celery"}


@pytest.mark.parametrize(
    ("pattern", "phrases"),
    [
        ("{rice,corn} flour", ["rice flour", "corn flour"]),
        ("{a,b} {c,d}", ["a c", "a d", "b c", "b d"]),
        ("peanut butter", ["peanut butter"]),
    ],
)
def test_patterns_expand(pattern: str, phrases: list[str]) -> None:
    assert expand(pattern) == phrases


# Counts of the lists: Regulation (EU) No 1169/2011 Annex II (14), 21 U.S.C. 321(qq) (9), Food and Drug Regulations
# B.01.010.1 (11 sources, gluten, sulphites); Australia and New Zealand name each nut singly.
@pytest.mark.parametrize(("scheme", "entries"), [("eu", 14), ("uk", 14), ("us", 9), ("ca", 13), ("anz", 22)])
def test_each_list_has_its_entries(scheme: str, entries: int) -> None:
    listed = allergen_list(scheme)
    assert len({item.entry for item in listed}) == entries
    assert len({(item.entry, item.allergen) for item in listed}) == len(listed)


def test_what_the_lists_do_not_share() -> None:
    on = {scheme: {item.allergen for item in allergen_list(scheme)} for scheme in ("us", "eu", "uk", "anz", "ca")}
    assert {scheme for scheme in on if "celery" in on[scheme]} == {"eu", "uk"}
    assert {scheme for scheme in on if "lupin" in on[scheme]} == {"eu", "uk", "anz"}
    assert {scheme for scheme in on if "mustard" in on[scheme]} == {"eu", "uk", "ca"}
    assert {scheme for scheme in on if "molluscs" in on[scheme]} == {"eu", "uk", "anz", "ca"}
    assert {scheme for scheme in on if "pine_nut" in on[scheme]} == {"us", "anz", "ca"}
    assert {scheme for scheme in on if "sesame" in on[scheme]} == set(on)
    assert {scheme for scheme in on if "rye" in on[scheme]} == {"eu", "uk", "anz", "ca"}


def test_each_way_to_stand_out() -> None:
    ways = {scheme: {item.emphasis for item in allergen_list(scheme)} for scheme in ("us", "eu", "uk", "anz", "ca")}
    assert ways == {
        "us": {Emphasis.CONTAINS_STATEMENT},
        "eu": {Emphasis.CAPITALS},
        "uk": {Emphasis.CAPITALS},
        "anz": {Emphasis.BOLD},
        "ca": {Emphasis.CONTAINS_STATEMENT},
    }


def test_every_tag_is_listed_somewhere_and_every_word_means_a_tag() -> None:
    listed = {item.allergen for scheme in ("us", "eu", "anz", "ca") for item in allergen_list(scheme)}
    assert listed == set(ALLERGENS)
    used = {found.allergen for row in allergen_words() for found in (*row.contains, *row.may_depend)}
    assert used == set(ALLERGENS)


def test_unknown_scheme_has_no_list() -> None:
    assert allergen_list("atlantis") == ()


def test_every_scheme_has_a_caution_with_an_authority() -> None:
    for scheme in ("us", "eu", "uk", "anz", "ca"):
        cautions = allergen_cautions(scheme)
        assert any(caution.cited.status is not ClauseStatus.OWN_PRACTICE for caution in cautions)
        assert all(caution.authority for caution in cautions)


@pytest.mark.parametrize("name", FILES)
def test_no_table_says_that_a_food_is_free_from_anything(name: str) -> None:
    assert "free from" not in (REFERENCE / name).read_text(encoding="utf-8").lower()


def test_marks_agree_with_the_published_lists(reference_data: Path) -> None:
    marks = {"R": ClauseStatus.READ, "P": ClauseStatus.IN_PART, "M": ClauseStatus.MEMORY}
    rows = list(
        csv.DictReader(io.StringIO((reference_data / "reference" / "labelling_allergens.csv").read_text("utf-8")))
    )
    assert len(rows) == 49
    of_regime = {"us": "US", "eu": "EU and UK", "ca": "CA", "anz": "AU/NZ"}
    for scheme, regime in of_regime.items():
        published = [marks[row["status"]] for row in rows if row["regime"] == regime]
        ours = {item.entry: item.cited.status for item in allergen_list(scheme)}
        if scheme in ("us", "ca"):
            assert sorted(ours.values()) == sorted(published)
        else:
            assert set(ours.values()) <= set(published)


def test_a_damaged_row_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(allergen_tables, "ALLERGENS", ["milk"])
    with pytest.raises(ReferenceDataError, match=r"allergen_words\.csv:\d+: .*no allergen"):
        read_table("allergen_words.csv", allergen_tables._words)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Crème fraîche", ("creme", "fraiche")),
        ("anchovies, tomatoes & loaves", ("anchovy", "tomato", "loaf")),
        ("Soya yoghurts", ("soy", "yogurt")),
        ("cook's PEANUTS", ("cook", "peanut")),
        ("", ()),
        ("★ — !", ()),
        ("牛乳", ("牛乳",)),
    ],
)
def test_plain_words(text: str, words: tuple[str, ...]) -> None:
    assert plain_words(text) == words
