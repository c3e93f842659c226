"""Properties of the line parser on any text."""

from collections.abc import Callable

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from mealcalc.diagnostics import Span, render_text
from mealcalc.recipe.line_parser import parse_line, split_foods
from mealcalc.recipe.measures import total_in_smaller_unit
from mealcalc.recipe.tokens import tokenise
from mealcalc.records import Amount, LineKind, RecipeLine
from mealcalc.units import METRIC, REGIONS, VOLUME_ML
from tests.recipe.lines import read

PIECES = (
    '1 2 10 1/2 ½ 1½ 1,5 - – to or and plus ( ) [ ] / x × % " . , ; : & + g kg cup tbsp T t oz can tin inch clove '
    "garlic stick butter each juice of zest lemon finely chopped fresh frozen cooked raw dry rice beef fat lean 80/20 "
    "a few half dozen about large extra for from with in oil optional [used 20%] 1/0 00 7-spice tabelspoons blorps ² ٣ "
    "🥚 \u202e é"
).split(" ")

any_text = st.one_of(st.text(max_size=200), st.lists(st.sampled_from(PIECES), max_size=15).map(" ".join))
regions = st.sampled_from((*REGIONS, METRIC))


@given(any_text, regions)
@example("(" * 3000, "us")
@example("•" * 3000 + "x", "us")
@example("1 stick " * 400, "us")
@example("or " * 3000, "us")
@example("9" * 5000 + " eggs", "us")
@example("\ud800 2 eggs", "us")
def test_no_text_raises_and_every_place_lies_in_the_text(text: str, region: str) -> None:
    for part in split_foods(text):
        line = parse_line(part, Span("pot.txt", 1, 1, len(part) + 1, part), region)
        assert line.text == part
        for diagnostic in line.diagnostics:
            assert diagnostic.span is not None
            assert 1 <= diagnostic.span.column <= diagnostic.span.end_column <= len(part) + 1
            assert render_text(diagnostic)


@given(any_text)
def test_amounts_are_never_negative_and_ranges_run_upwards(text: str) -> None:
    line = read(text)
    for amount in (line.amount, line.measured):
        assert amount is None or 0 <= amount.low <= amount.high


@given(any_text)
def test_a_line_is_counted_to_taste_or_told(text: str) -> None:
    line = read(text)
    if line.kind is LineKind.FOOD and line.amount is None and line.settings.mass_g is None:
        assert line.to_taste or any(d.severity == "error" for d in line.diagnostics)
    if line.kind is LineKind.NOT_FOOD:
        assert line.amount is None


@given(any_text)
def test_tokens_stand_where_they_say(text: str) -> None:
    tokens = tokenise(text)
    end = 0
    for token in tokens[:-4]:
        assert end <= token.start < token.end <= len(text)
        assert text[token.start : token.end] == token.text
        end = token.end


units = st.sampled_from(
    ["g", "kg", "ml", "l", "oz", "lb", "cup", "tbsp", "tsp", "can", "slice", "sprig", "pinch", "handful"]
)
foods = st.sampled_from(["rice", "olive oil", "chicken breast", "tomatoes", "Greek yoghurt", "peas"])
hundredths = st.integers(min_value=1, max_value=30_000).map(lambda n: n / 100)


def written(amount: Amount) -> str:
    number = f"{amount.low:.2f}" if amount.low == amount.high else f"{amount.low:.2f} to {amount.high:.2f}"
    return f"{number} {amount.unit}"


@given(hundredths, st.integers(min_value=0, max_value=5000), units, foods)
def test_an_amount_written_out_reads_as_the_same(low: float, more: int, unit: str, food: str) -> None:
    amount = Amount(low, round(low + more / 100, 2), unit)
    line = read(f"{written(amount)} {food}")
    assert line.amount == amount
    assert line.name == food


volumes = st.sampled_from(sorted(VOLUME_ML["us"]))


@given(hundredths, volumes, hundredths, volumes, regions)
def test_a_sum_holds_as_much_as_its_parts(first: float, one: str, second: float, other: str, region: str) -> None:
    total = total_in_smaller_unit(Amount(first, first, one), Amount(second, second, other), region)
    assert total is not None
    assert total.unit in (one, other)
    ml = VOLUME_ML[region]
    assert total.low * ml[total.unit] == pytest.approx(first * ml[one] + second * ml[other], rel=1e-6)


LINES = st.sampled_from(
    [
        "2 x 400 g cans black beans, drained",
        "1 1/2 cups cooked rice",
        "1 (15 oz) can chickpeas",
        "2–3 carrots, peeled",
        "1 lb / 450 g beef mince",
        "4 baking potatoes (about 250 g each)",
        "a few sprigs of thyme",
        "2 tbsp olive or rapeseed oil",
        "juice of 1 lemon",
        "Onions - 2 medium",
        "1 cup plus 2 tablespoons flour",
        "500 g 5% fat pork mince",
    ]
)


def weighed(line: RecipeLine) -> tuple[object, ...]:
    return (
        line.amount,
        line.measured,
        line.container,
        line.size,
        line.state,
        line.fat_percent,
        line.words,
        line.to_taste,
    )


@given(LINES, st.text(alphabet=" \t\u00a0", max_size=4), st.sampled_from([str.upper, str.title, str.lower, str]))
def test_white_space_and_case_do_not_change_what_is_weighed(
    text: str, space: str, change: Callable[[str], str]
) -> None:
    assert weighed(read(space + change(text))) == weighed(read(text))


@given(LINES, st.sampled_from(["- ", "• ", "* ", "[ ] ", "☐ ", "1. ", "12) "]))
def test_list_marks_do_not_change_a_line(text: str, mark: str) -> None:
    marked, bare = read(mark + text), read(text)
    assert (weighed(marked), marked.name, marked.preparation) == (weighed(bare), bare.name, bare.preparation)


@given(st.lists(foods, min_size=2, max_size=4, unique=True), st.sampled_from(["1 tsp", "1/2 cup", "2"]))
def test_a_shared_amount_goes_to_every_food(names: list[str], amount: str) -> None:
    text = f"{amount} each {', '.join(names[:-1])} and {names[-1]}"
    assert split_foods(text) == tuple(f"{amount} {name}" for name in names)
