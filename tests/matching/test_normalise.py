"""Normal form of food phrases: examples of the trade and properties that hold for every text."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.matching.normalise import fold, phrase_key, singular, tokens


@pytest.mark.parametrize(
    ("phrase", "expected"),
    [
        ("Boneless, skin-on chicken thighs", ("boneless", "skinon", "chicken", "thigh")),
        ("Crème fraîche", ("creme", "fraiche")),
        ("fat-free Greek yoghurts", ("nonfat", "greek", "yogurt")),
        ("sun-dried tomatoes in oil", ("sundried", "tomato", "oil")),
        ("salt-reduced soya sauce", ("lowsodium", "soy", "sauce")),
        ("half-and-half", ("halfandhalf",)),
        ("ladies' fingers", ("lady", "finger")),
        ("CHILLIES", ("chilli",)),
        ("chile", ("chilli",)),
        ("leaves of basil", ("leaf", "basil")),
        ("", ()),
    ],
)
def test_tokens(phrase: str, expected: tuple[str, ...]) -> None:
    assert tokens(phrase) == expected


@pytest.mark.parametrize(
    "word", ["asparagus", "couscous", "hummus", "molasses", "swiss", "watercress", "bass", "octopus"]
)
def test_words_that_end_in_s_are_not_cut(word: str) -> None:
    assert singular(word) == word


@pytest.mark.parametrize(
    ("plural", "one"),
    [
        ("tomatoes", "tomato"),
        ("radishes", "radish"),
        ("anchovies", "anchovy"),
        ("boxes", "box"),
        ("loaves", "loaf"),
        ("olives", "olive"),
        ("chives", "chive"),
        ("peas", "pea"),
        ("oats", "oat"),
    ],
)
def test_plurals(plural: str, one: str) -> None:
    assert singular(plural) == one


def test_plural_and_singular_of_ie_words_meet() -> None:
    assert singular("cookies") == singular("cookie")


def test_word_order_and_case_do_not_change_the_key() -> None:
    assert phrase_key("Smoked back bacon") == phrase_key("bacon, BACK, smoked")


@given(st.text())
def test_fold_leaves_only_plain_words(text: str) -> None:
    assert all(c.isascii() and (c.isalnum() or c in " &") and not c.isupper() for c in fold(text))


@given(st.text())
def test_tokens_are_stable_under_folding(text: str) -> None:
    assert tokens(fold(text)) == tokens(text)


@given(st.text())
def test_key_is_its_own_key(text: str) -> None:
    key = phrase_key(phrase_key(text))
    assert set(key.split()) <= set(phrase_key(key).split()) | set(key.split())
