"""`mealcalc foods search` and `mealcalc foods show`."""

import pytest

from tests.command import mealcalc


def test_search_finds_by_words_in_any_order() -> None:
    answer = mealcalc("foods", "search", "rice", "brown", "raw", "long-grain")
    assert answer.status == 0
    assert "sr28:20036  Rice, brown, long-grain, raw" in answer.out
    assert answer.err == ""


def test_search_in_json() -> None:
    found = mealcalc("foods", "search", "chickpeas raw", "--json", "--limit", "3").json
    assert 1 <= len(found) <= 3
    assert all(set(food) >= {"table", "code", "description", "names"} for food in found)
    assert "16056" in {food["code"] for food in found}


def test_nothing_found_is_told_and_is_status_1() -> None:
    answer = mealcalc("foods", "search", "zorgles")
    assert (answer.status, answer.out) == (1, "")
    assert "no food found for 'zorgles'" in answer.err
    assert mealcalc("foods", "search", "zorgles", "--json").json == []


@pytest.mark.parametrize(
    "words", ['"', "AND", "a*b NEAR(c)", "'; drop table food; --", "é", " ", "x" * 5000, "\x1b[31m"]
)
def test_search_words_are_words_whatever_they_hold(words: str) -> None:
    answer = mealcalc("foods", "search", words)
    assert answer.status in (0, 1)
    assert "\x1b" not in answer.out + answer.err


@pytest.mark.parametrize("limit", ["0", "-1", "501", "many"])
def test_limits_out_of_range_are_wrong_usage(limit: str) -> None:
    assert mealcalc("foods", "search", "rice", "--limit", limit).status == 2


@pytest.mark.parametrize("code", ["20036", "sr28:20036", " sr28:20036 "])
def test_show_prints_the_published_figures(code: str) -> None:
    answer = mealcalc("foods", "show", code)
    assert answer.status == 0
    rows = [row.split() for row in answer.out.splitlines()]
    # USDA SR28, 20036 Rice, brown, long-grain, raw.
    assert rows[0] == ["Rice,", "brown,", "long-grain,", "raw"]
    assert "group: Cereal Grains and Pasta" in answer.out
    assert ["energy", "367", "kcal"] in rows
    assert ["protein", "7.54", "g"] in rows
    assert ["sodium", "5", "mg"] in rows
    assert "1 cup = 185 g edible portion" in answer.out
    assert "protein 3.41, fat 8.37, carbohydrate 4.12" in answer.out


def test_missing_is_shown_as_missing_and_logical_zero_as_such() -> None:
    # USDA SR28 leaves the sugars of 02013 Spices, coriander seed blank; its abbreviated table holds no alcohol at all.
    shown = mealcalc("foods", "show", "02013").out
    assert ["sugars", "?", "g", "missing"] in [row.split() for row in shown.splitlines()]
    oil = mealcalc("foods", "show", "04053", "--json").json["per_100g"]
    assert oil["ALC_G"] == {"amount": 0.0, "unit": "g", "status": "logical zero"}


def test_refuse_is_shown() -> None:
    # USDA SR28, 10088 Pork, fresh, spareribs: refuse 30 % (bone).
    assert "refuse of the food as bought: 30 % (Bone)" in mealcalc("foods", "show", "10088").out


@pytest.mark.parametrize("code", ["1123", "99999", "other:20036", "", ":", "sr28:", "x" * 3000])
def test_an_unknown_code_is_wrong_usage_with_a_way_out(code: str) -> None:
    answer = mealcalc("foods", "show", code)
    assert answer.status == 2
    assert "no loaded food table holds" in answer.err
    assert "mealcalc foods search" in answer.err
