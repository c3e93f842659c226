"""Cooking words: steps, times, lids, one pot or parts, what is poured off, contradictions."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.calculation.cooking_time import minutes_said
from mealcalc.reference.cooking_vocabulary import cooking_methods, cooking_words
from tests.calculation.kitchen import plan


@pytest.mark.parametrize(
    ("words", "method"),
    [
        ("boiled, all water absorbed", "absorbed"),
        ("browned, then simmered 35 min", "browned_simmered"),
        ("seared, then simmered", "browned_simmered"),
        ("onions softened, mince browned, simmered 40 min", "browned_simmered"),
        ("sautéed, then all liquid absorbed", "sauteed_simmered"),
        ("boiled, drained, then baked 20 min", "boiled_baked"),
        ("parboiled, then roasted", "boiled_baked"),
        ("boiled, then fried", "boiled_fried"),
        ("boiled and drained", "boiled_drained"),
        ("boiled, cooking water kept", "boiled"),
        ("absorbed, then baked", "baked"),
        ("roasted 40 min, then grilled 5 min", "grilled_broiled"),
        ("poached in the sauce", "simmered"),
        ("roast 45 min", "roasted"),
        ("air fry 20 min", "roasted"),
        ("raw", ""),
        ("", ""),
    ],
)
def test_the_deciding_method(words: str, method: str) -> None:
    assert plan(words).method == method


@pytest.mark.parametrize(
    ("words", "one_pot", "poured_off"),
    [
        ("simmered 30 min", True, False),
        ("browned, then braised", True, False),
        ("absorbed", True, False),
        ("boiled, cooking water kept", True, False),
        ("boiled and drained", False, True),
        ("steamed", False, True),
        ("poached", False, True),
        ("steamed, juices kept", False, False),
        ("steamed, then simmered", True, False),
        ("roasted", False, False),
        ("pan-fried", False, False),
        # Nobody roasts the cooking water.
        ("boiled, then roasted", False, True),
        ("parboiled then fried", False, True),
        ("risotto", True, False),
        ("flamed, stirred in off the heat", True, False),
    ],
)
def test_one_pot_or_parts_and_liquid_poured_off(words: str, one_pot: bool, poured_off: bool) -> None:
    read = plan(words)
    assert (read.one_pot, read.liquid_poured_off) == (one_pot, poured_off)


def test_fat_is_kept_unless_words_or_the_setting_say_otherwise() -> None:
    assert not plan("browned, then simmered").fat_poured_off
    assert plan("browned and drained").fat_poured_off
    assert plan("browned, fat poured off, simmered").fat_poured_off
    assert plan("browned", fat="drained").fat_poured_off


def test_a_lid_said_after_a_step_belongs_to_it() -> None:
    read = plan("softened, simmered 20 min with a lid, boiled down 10 min")
    assert [(step.method, step.covered) for step in read.steps] == [
        ("sauteed", None),
        ("simmered", True),
        ("simmered", False),
    ]
    assert [step.covered for step in plan("simmered 40 min uncovered").steps] == [False]
    assert [step.covered for step in plan("braised").steps] == [True]


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("35 min", 35),
        ("for 40 minutes", 40),
        ("1 h 30 min", 90),
        ("1 hour and 15 minutes", 75),
        ("2-3 hours", 150),
        ("25 to 30 min", 27.5),
        ("35–40 min", 37.5),
        ("1½ hours", 90),
        ("1 1/2 hours", 90),
        ("3/4 hour", 45),
        ("½ h", 30),
        ("1,5 h", 90),
        ("half an hour", 30),
        ("an hour", 60),
        ("two hours", 120),
        ("a 20-minute simmer", 20),
        ("at 200 °C for 25 min", 25),
        ("20 min, rested 10 min", 20),
        ("at gas mark 6", None),
        ("5 hens", None),
        ("", None),
    ],
)
def test_times(text: str, minutes: float | None) -> None:
    found = minutes_said(text)
    assert found == (None if minutes is None else pytest.approx(minutes))


def test_times_belong_to_the_step_before_them_and_add_up() -> None:
    read = plan("browned 8 min, then simmered 1 h 30 min")
    assert [step.minutes for step in read.steps] == [8, 90]
    assert read.minutes == 98
    assert plan("35 min simmered").minutes == 35
    assert plan("simmered").minutes is None


@pytest.mark.parametrize(
    ("words", "counted", "ignored"),
    [
        ("all water absorbed, drained", "all water absorbed", "drained"),
        ("drained, cooking water kept", "drained", "cooking water kept"),
        ("served raw, roasted", "roasted", "served raw"),
        ("browned and drained, with its juices", "browned and drained", "with its juices"),
    ],
)
def test_contradictions_are_told_and_the_first_counts(words: str, counted: str, ignored: str) -> None:
    assert plan(words).contradictions == ((counted, ignored),)


def test_what_counts_of_contradictory_words() -> None:
    assert plan("all water absorbed, drained").one_pot
    assert plan("served raw, roasted").method == "roasted"
    assert plan("with drippings", fat="drained").contradictions == (("fat: drained", "with drippings"),)
    assert plan("with drippings", fat="drained").fat_poured_off
    assert plan("browned, then simmered 35 min").contradictions == ()


def test_words_that_no_table_knows_are_known_as_such() -> None:
    assert not plan("enchanted").known
    assert plan("").known
    assert plan("boiled").known
    assert not plan("enchanted").heated
    assert not plan("soaked overnight").heated


def test_every_word_of_the_table_reads_as_its_method() -> None:
    for row in cooking_words():
        read = plan(row.words)
        assert read.known, row.words
        expected = [row.method] if row.method else []
        assert [step.method for step in read.steps] == expected, row.words


@given(
    st.lists(st.sampled_from([row.words for row in cooking_words()]), max_size=5),
    st.sampled_from([", ", " then ", " 5 min, "]),
)
def test_any_row_of_words_gives_a_plan_that_holds_together(words: list[str], between: str) -> None:
    read = plan(between.join(words))
    assert read.known
    assert read.method in {"", *cooking_methods()}
    assert (read.method != "") == read.heated
    assert not (read.one_pot and read.liquid_poured_off)
    if read.minutes is not None:
        assert read.minutes >= 0


@given(st.text(max_size=60))
def test_any_text_is_read_without_error(text: str) -> None:
    read = plan(text)
    assert read.method in {"", *cooking_methods()}
    minutes = minutes_said(text)
    assert minutes is None or minutes >= 0
