"""Text made fit for the place where it is shown."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.reports.plain import harmless, one_line, spelt_out


@given(st.text())
def test_nothing_that_steers_a_terminal_is_left(text: str) -> None:
    for shown in (harmless(text), one_line(text, 50)):
        assert not any(unicodedata.category(c) in ("Cc", "Cs") for c in shown.replace("\n", ""))
        assert not any(unicodedata.bidirectional(c) in ("LRO", "RLO", "LRE", "RLE", "LRI", "RLI", "FSI") for c in shown)


@given(st.text(), st.integers(min_value=1, max_value=30))
def test_one_line_is_one_and_no_longer_than_wanted(text: str, longest: int) -> None:
    shown = one_line(text, longest)
    assert "\n" not in shown
    assert len(shown) <= longest


@given(st.text())
def test_spelling_out_leaves_ascii_alone_and_makes_nothing_else(text: str) -> None:
    assert spelt_out(text).isascii()
    assert spelt_out("".join(c for c in text if c.isascii())) == "".join(c for c in text if c.isascii())


@pytest.mark.parametrize(
    ("text", "ascii_text"),
    [
        ("≥ 986 µg", ">= 986 ug"),
        ("1½ cups", "1 1/2 cups"),
        ("⅓ cup", " 1/3 cup"),
        ("crème fraîche, jalapeño, Gemüse", "creme fraiche, jalapeno, Gemuse"),
        ("玄米", "??"),
        ("a – b … c", "a - b ... c"),
    ],
)
def test_spelt_out(text: str, ascii_text: str) -> None:
    assert spelt_out(text) == ascii_text


def test_what_a_script_needs_stays() -> None:
    for text in ("चावल\u200dx", "می\u200cخواهم", "أرز بني", "玄米", "🍚"):
        assert one_line(text, 50) == harmless(text) == text


def test_a_cut_is_marked() -> None:
    assert one_line("brown rice", 6) == "brown…"
