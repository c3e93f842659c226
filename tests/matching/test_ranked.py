"""The ranked search over a handful of descriptions."""

from typing import Any

import pytest

from mealcalc.matching import ranked
from mealcalc.matching.proposal import DECLINED, SURE, Proposal
from mealcalc.matching.query import build_query
from mealcalc.matching.spelling import Speller
from mealcalc.records import Candidate, FoodState
from tests.matching.shelf import Shelf, food, line

GIZZARD = food("05173", "Turkey, gizzard, all classes, raw", "0500")


def propose(shelf: Shelf, name: str, **fields: Any) -> Proposal | None:
    return ranked.propose(build_query(line(name, **fields), "uk", Speller(frozenset(), frozenset)), shelf)


def best(shelf: Shelf, name: str, **fields: Any) -> tuple[str | None, float]:
    proposal = propose(shelf, name, **fields)
    assert proposal is not None
    return proposal.code, proposal.score


def test_a_proposal_in_full() -> None:
    shelf = Shelf(GIZZARD, food("05171", "Turkey, heart, all classes, raw", "0500"))
    assert propose(shelf, "turkey gizzards") == Proposal(
        table="sr28",
        code="05173",
        description="Turkey, gizzard, all classes, raw",
        score=0.9,  # the search is never as sure as a reviewed name
        strategy="ranked search",
        # Half of the words, no head noun, half of the front, one noun left over: (0.25 + 0 + 0.125) x 0.55.
        runners_up=(Candidate("sr28", "05171", "Turkey, heart, all classes, raw", 0.2063),),
    )


def test_all_words_of_a_description_and_no_others() -> None:
    found = propose(Shelf(food("20062", "Rye grain", "2000")), "rye grain")
    assert found is not None
    assert (found.strategy, found.score) == ("exact description", 0.95)


# --- what a cook's plain words do not mean ----------------------------------------------------------------------------

PENALISED = [
    ("a brand", food("1", "CRUNCHO'S, granola", "0800")),
    ("baby food", food("2", "Granola", "0300")),
    ("fast food", food("3", "Granola", "2100")),
    ("restaurant food", food("4", "Granola", "3600")),
    ("a dish", food("5", "Granola", "2200")),
    ("a snack", food("6", "Granola", "2500")),
    ("a preserved form", food("7", "Granola, dehydrated", "0800")),
    ("cooked food", food("8", "Granola, fried", "0800")),
]


@pytest.mark.parametrize("unwanted", [one for _, one in PENALISED], ids=[reason for reason, _ in PENALISED])
def test_a_plain_food_wins(unwanted: object) -> None:
    plain = food("9", "Granola, homemade", "0800")
    assert best(Shelf(unwanted, plain), "granola")[0] == "9"  # type: ignore[arg-type]


def test_the_state_of_the_line_chooses() -> None:
    shelf = Shelf(food("1", "Gizzard, raw"), food("2", "Gizzard, cooked, simmered"), food("3", "Gizzard, canned"))
    assert best(shelf, "gizzard")[0] == "1"
    assert best(shelf, "gizzard", state=FoodState.COOKED)[0] == "2"
    assert best(shelf, "gizzard", state=FoodState.CANNED)[0] in ("1", "3")


def test_said_preservation_is_no_penalty() -> None:
    shelf = Shelf(food("1", "Morel, dried"))
    assert best(shelf, "morels", state=FoodState.DRY)[1] > best(shelf, "morels")[1]


# --- declining --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["greens", "red", "mixed vegetables", "16", "coarsely chopped", ""])
def test_a_phrase_without_a_noun_finds_nothing(name: str) -> None:
    shelf = Shelf(food("11304", "Peas, green, raw"), food("02068", "Vinegar, red wine"), food("1", "Vegetables, mixed"))
    assert propose(shelf, name) is None


def test_nothing_on_the_shelf() -> None:
    assert propose(Shelf(), "gizzard") is None


@pytest.mark.parametrize(
    ("name", "other"),
    [
        ("fish pie", "Pie, peach"),
        ("meat balls", "Melon balls, frozen"),
        ("vegetable curry", "Spices, curry powder"),
        ("chickpea curry", "Chickpeas, mature seeds, raw"),
        ("truffle honeycomb", "Honeycomb"),
    ],
)
def test_a_stranger_is_declined(name: str, other: str) -> None:
    assert best(Shelf(food("1", other)), name)[1] < DECLINED


def test_a_description_that_starts_with_another_food_is_not_sure() -> None:
    sure = best(Shelf(food("1", "Passion, purple, raw")), "passion")[1]
    unsure = best(Shelf(food("1", "Jelly, passion, raw")), "passion")[1]
    assert unsure < SURE <= sure


def test_a_second_name_is_searched_too() -> None:
    assert best(Shelf(GIZZARD), "giblet", aside="turkey gizzard")[0] == "05173"


def test_of_equals_the_shorter_description_wins() -> None:
    shelf = Shelf(food("1", "Gizzard, raw, of geese"), food("2", "Gizzard, raw"))
    assert best(shelf, "gizzard")[0] == "2"


# --- copied descriptions ----------------------------------------------------------------------------------------------

CHICKEN = food("05064", "Chicken, broilers or fryers, breast, meat only, cooked, roasted", "0500")


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("100 g Chicken, broilers or fryers, breast, meat only, cooked, roasted", True),
        ("Chicken, broilers or fryers, breast, meat only, cooked, roasted: 100 g", True),
        ("100 g Chicken, broilers or fryers, breast, meat only, cooked, roasted, with onions", False),
        ("100 g Chicken, breast, roasted", False),
    ],
)
def test_a_copied_description_is_taken_word_for_word(text: str, found: bool) -> None:
    asked = build_query(line(text), "uk", Speller(frozenset(), frozenset))
    expected = Proposal("sr28", "05064", CHICKEN.description, 0.95, "exact description") if found else None
    assert ranked.propose_exact(asked, Shelf(GIZZARD, CHICKEN)) == expected
