"""Foods, headers and search as the rest of the tool gets them."""

import threading

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.fooddb import FoodDatabase
from mealcalc.fooddb.search import MOST_WORDS, all_words_query, any_word_query
from mealcalc.records import EnergyFactors, Food, HouseholdMeasure
from mealcalc.values import Value, ValueStatus


def test_a_food_with_all_its_parts(database: FoodDatabase) -> None:
    # FOOD_DES.txt, ABBREV.txt and WEIGHT.txt of SR28, record 11282.
    onion = database.food("sr28", "11282")
    assert onion is not None
    assert (onion.table, onion.code, onion.description, onion.group) == ("sr28", "11282", "Onions, raw", "1100")
    assert onion.edition == "SR28, September 2015, revised May 2016"
    assert (onion.scientific_name, onion.refuse_percent) == ("Allium cepa", 10.0)
    assert onion.refuse_description == "Stem ends, sprouts and defects"
    assert (onion.nitrogen_factor, onion.energy_factors) == (6.25, EnergyFactors(2.78, 8.37, 3.84))
    assert onion.measures[0] == HouseholdMeasure(1.0, "cup, chopped", 160.0)
    assert onion.measures[5] == HouseholdMeasure(1.0, 'medium (2-1/2" dia)', 110.0)
    assert len(onion.measures) == 10
    assert onion.composition["WATER_G"] == Value(89.11, ValueStatus.PUBLISHED)
    assert onion.composition["CHOLE_MG"] == Value(0.0, ValueStatus.PUBLISHED)


def test_names_refuse_and_missing_factors(database: FoodDatabase) -> None:
    beef = database.food("sr28", "23572")
    assert beef is not None
    assert beef.names == ("hamburger",)
    whipped = database.food("sr28", "01002")  # butter, whipped: ~01002~^...^6.38^^^
    assert whipped is not None
    assert whipped.energy_factors == EnergyFactors(None, None, None)


def test_trans_fat_is_absent_because_the_table_has_no_such_column(all_foods: dict[str, Food]) -> None:
    assert not any("FATRN_G" in food.composition for food in all_foods.values())


def test_unknown_foods_are_absent(database: FoodDatabase) -> None:
    assert database.food("sr28", "99999") is None
    assert database.food("nowhere", "11282") is None
    assert database.food("sr28", "1001") is None  # codes are text: 01001 is another
    assert database.foods([]) == {}


def test_many_foods_keep_the_order_of_their_keys(database: FoodDatabase, all_foods: dict[str, Food]) -> None:
    codes = [*sorted(all_foods, reverse=True)[:1203], "99999", "11282", "11282"]
    found = database.foods(("sr28", code) for code in codes)
    assert [code for _, code in found] == [*codes[:1203], "11282"]
    assert all(food == all_foods[code] for (_, code), food in found.items())


def test_headers(database: FoodDatabase) -> None:
    headers = database.headers("sr28")
    assert len(headers) == 8789
    first = headers[0]
    assert (first.table, first.code, first.description) == ("sr28", "01001", "Butter, salted")
    assert (first.names, first.group, first.refuse_percent, first.manufacturer) == ((), "0100", 0.0, "")
    assert database.headers("nowhere") == []


def test_several_threads(database: FoodDatabase) -> None:
    found: list[str] = []

    def look_up() -> None:
        for code in ("11282", "11124", "20044"):
            food = database.food("sr28", code)
            found.append(food.description if food else "")

    threads = [threading.Thread(target=look_up) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(found) == sorted(
        ["Onions, raw", "Carrots, raw", "Rice, white, long-grain, regular, raw, enriched"] * 4
    )


# --- search -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("query", "first"),
    [
        ("onions raw", "Onions, raw"),
        ("onion raw", "Onions, raw"),
        ("olive oil", "Oil, olive, salad or cooking"),
        ("OLIVE OI", "Oil, olive, salad or cooking"),
        ("garbanzo raw", "Chickpeas (garbanzo beans, bengal gram), mature seeds, raw"),
        ("allium cepa raw", "Onions, raw"),
        ("lychee dried", "Litchis, dried"),
        ("rice flour brown", "Rice flour, brown"),
        ("soy sauce", "Soy sauce made from soy (tamari)"),
        ("butter", "Butter, salted"),
        ("lentils", "Lentils, raw"),
    ],
)
def test_search_ranks_the_plain_food_first(database: FoodDatabase, query: str, first: str) -> None:
    assert database.search(query)[0].description == first


def test_search_wants_all_words_if_it_can(database: FoodDatabase) -> None:
    for header in database.search("chickpeas canned", limit=50):
        assert "chickpeas" in header.description.lower()
        assert "canned" in header.description.lower()
    # No food holds all of these, so any of them will do.
    assert database.search("onion unheardofword")[0].description.startswith("Onions")


def test_accents_and_case_do_not_matter(database: FoodDatabase) -> None:
    assert database.search("Crème") == database.search("creme")


def test_limits(database: FoodDatabase) -> None:
    assert len(database.search("raw", limit=7)) == 7
    assert len(database.search("raw")) == 20
    assert database.search("raw", limit=0) == []
    assert database.search("raw", limit=-1) == []
    assert database.search("", limit=5) == database.search(" ,;- ", limit=5) == []


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("tomato",), "Tomatoes, crushed, canned"),
        (("berry", "blackberry", "raw"), "Blackberries, raw"),
        (("leaf", "bay"), "Spices, bay leaf"),
        (("potato", "baked"), "Potatoes, baked, flesh, without salt"),
    ],
)
def test_candidates_meet_plurals(database: FoodDatabase, words: tuple[str, ...], expected: str) -> None:
    assert expected in [header.description for header in database.candidates(words, 60)]


def test_candidates_of_any_word_best_first(database: FoodDatabase) -> None:
    found = database.candidates(("lentil", "pink", "raw"), 60)
    assert found[0].description == "Lentils, pink or red, raw"
    assert {"Lentils, raw", "Salmon, pink, raw"} & {header.description for header in found}
    assert all(any(word in header.description.lower() for word in ("lentil", "pink")) for header in found), (
        "'raw' alone brings no food in"
    )


def test_candidates_when_only_common_words_are_left(database: FoodDatabase) -> None:
    assert len(database.candidates(("raw", "lean"), 10)) == 10
    assert database.candidates((), 10) == []
    assert database.candidates(("unheardofword",), 10) == []


def test_the_vocabulary(database: FoodDatabase) -> None:
    words = database.vocabulary()
    assert {"onions", "chickpeas", "hamburger", "turmeric"} <= words
    assert all(word == word.lower() and word.isalpha() for word in words)
    assert database.vocabulary() is words


@given(query=st.text(max_size=60), limit=st.integers(-1, 30))
def test_any_text_is_safe(database: FoodDatabase, query: str, limit: int) -> None:
    assert len(database.search(query, limit)) <= max(limit, 0)
    assert len(database.candidates([query], limit)) <= max(limit, 0)


@given(
    query=st.lists(
        st.sampled_from(['"', "'", "(", ")", "*", "^", ":", "-", "+", "{", "}", "AND", "OR", "NOT", "NEAR", "onion"])
        | st.sampled_from(["description", "names", "NEAR(a b)", "\x00", "\ud800", "rank", "a*", '""', "--", ";"]),
        max_size=12,
    )
)
def test_the_language_of_the_search_engine_is_not_spoken(database: FoodDatabase, query: list[str]) -> None:
    for text in (" ".join(query), "".join(query)):
        database.search(text)
        database.search(text, table="sr28")
        database.candidates(query, 5)


def test_very_long_queries(database: FoodDatabase) -> None:
    words = " ".join(f"word{i}" for i in range(10_000))
    assert database.search(words) == []
    assert any_word_query([words]).count(" OR ") == MOST_WORDS - 1
    assert all_words_query("x" * 100_000).count("x") == 200_000


def test_queries_as_the_engine_gets_them() -> None:
    assert all_words_query("Smoked AND paprika (hot") == '"smoked" AND "and" AND "paprika" AND ("hot" OR "hot"*)'
    assert any_word_query(["turkey", "mince", "raw"]) == '("turkey" OR "mince") AND ("turkey" OR "mince" OR "raw")'
    assert any_word_query(["onion"]) == '"onion"'
    assert all_words_query("  ") == any_word_query([]) == ""
