"""Misspelt words are repaired where it is plain what was meant, and only there."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.matching.default_foods import index_for
from mealcalc.matching.spelling import Speller

FOODS = frozenset("onion egg tomato blueberry zucchini broccoli catfish pea pear tea bean beer parsley potato".split())
OTHERS = frozenset("tomatillo beaker zuccotto pie codfish".split())


def speller() -> Speller:
    return Speller(FOODS, lambda: OTHERS)


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("oninon", "onion"),  # a letter too many
        ("tomat", "tomato"),  # a letter lost
        ("tonato", "tomato"),  # a letter changed
        ("parlsey", "parsley"),  # two letters swapped
        ("eg", "egg"),  # a lost double letter, even in a short word
        ("bluebery", "blueberry"),
        ("brocolli", "broccoli"),  # two slips in eight letters
        ("zuchinni", "zucchini"),
    ],
)
def test_slips(written: str, meant: str) -> None:
    assert speller().repair(written) == meant


@pytest.mark.parametrize(
    "word",
    [
        "onion",  # known among foods
        "codfish",  # known elsewhere
        "bea",  # too short: bean, beer, pea, tea
        "nion",  # another first letter would turn words into others
        "cattiss",  # two slips in seven letters: 'codfish' is no misspelt catfish
        "quinoa",  # like nothing known
        "80%",
        "",
    ],
)
def test_words_that_stay(word: str) -> None:
    assert speller().repair(word) == word


def test_words_of_default_foods_win_over_other_words_at_the_same_distance() -> None:
    assert Speller(frozenset(["leek"]), lambda: frozenset(["leet", "leak"])).repair("leec") == "leek"


def test_words_of_one_length_win_at_the_same_distance() -> None:
    assert Speller(frozenset(["carrots", "carrot"]), frozenset).repair("carrat") == "carrot"


def test_other_words_are_fetched_only_for_an_unknown_word() -> None:
    def fail() -> frozenset[str]:
        raise AssertionError("fetched")

    strict = Speller(FOODS, fail)
    assert strict.repair("onion") == "onion"
    with pytest.raises(AssertionError, match="fetched"):
        strict.repair("onoin")


@given(st.text(alphabet="abcdefghiklmnoprstuz", max_size=12))
def test_a_repaired_word_is_repaired_for_good(word: str) -> None:
    once = speller().repair(word)
    assert speller().repair(once) == once
    assert once == word or once in FOODS | OTHERS


@given(st.sampled_from(sorted(index_for("uk").words)))
def test_no_word_of_a_default_food_is_ever_changed(word: str) -> None:
    assert Speller(index_for("uk").words, lambda: OTHERS).repair(word) == word
