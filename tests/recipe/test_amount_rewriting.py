"""Another amount in the words of a line: the numbers of the amount change, all others stay."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.diagnostics import Span
from mealcalc.planning.kitchen_rounding import rounded, shown
from mealcalc.planning.scaling import scale_line
from mealcalc.recipe.amount_rewriting import exactly, quantities, rewritten
from mealcalc.recipe.ingredient_lines import parse_ingredient
from mealcalc.records import RecipeLine


def read(text: str) -> list[RecipeLine]:
    return parse_ingredient(text, Span("a", 1, 1, len(text) + 1, text), "uk", "Pot")


def times(text: str, factor: Fraction, *, exact: bool = False) -> str | None:
    lines = read(text)
    wanted = [scale_line(line, factor) for line in lines]
    in_kitchen = exactly if exact else lambda value, unit: shown(rounded(value, unit), unit)
    return rewritten(text, lines[0].span, "uk", "Pot", wanted, factor, in_kitchen)


@pytest.mark.parametrize(
    ("text", "factor", "expected"),
    [
        ("400 g brown rice", "3/2", "600 g brown rice"),
        ("400g brown rice", "3/2", "600g brown rice"),
        ("Chicken breast 500 g", "1/2", "Chicken breast 250 g"),
        ("2 x 400 g cans black beans, drained", "3/2", "3 x 400 g cans black beans, drained"),
        ("1 (28 oz) can crushed tomatoes", "2", "2 (28 oz) can crushed tomatoes"),
        ("4 chicken thighs (150 g each)", "3/2", "6 chicken thighs (150 g each)"),
        ("1 aubergine (about 450 g), cut into 2 cm cubes", "2", "2 aubergine (about 900 g), cut into 2 cm cubes"),
        ("1 lb / 450 g beef mince, 80/20", "2", "2 lb / 900 g beef mince, 80/20"),
        ("1 kg turkey mince, 7% fat", "7/10", "0.7 kg turkey mince, 7% fat"),
        ("3-4 green chillies, slit", "2", "6-8 green chillies, slit"),
        ("between 1 and 2 cups stock", "1/2", "½-1 cups stock"),
        ("1 cup plus 2 tbsp flour", "1/2", "½ cup plus 1 tbsp flour"),
        ("2 lb 4 oz potatoes", "3/2", "3 lb 6 oz potatoes"),
        ("half an onion", "3", "1½ onion"),
        ("a dozen eggs", "1/2", "6 eggs"),
        ("juice of 1 lemon", "2", "juice of 2 lemon"),
        ("a handful of coriander leaves (optional)", "3", "3 handful of coriander leaves (optional)"),
        ("a few sprigs thyme", "2", "6 sprigs thyme"),
        ("2-inch piece ginger", "2", "4-inch piece ginger"),
        ("1 tbsp honey or 2 tbsp sugar", "2", "2 tbsp honey or 4 tbsp sugar"),
        ("1 tsp each cumin and coriander", "2", "2 tsp each cumin and coriander"),
        ("1½ tsp salt [used 40%]", "1/3", "½ tsp salt [used 40%]"),
        ("250 g yoghurt [grams 240]", "2", "500 g yoghurt [grams 480]"),
        ("salt to taste", "2", "salt to taste"),
        ("oil for frying", "2", "oil for frying"),
    ],
)
def test_the_numbers_of_the_amount_change_and_no_others(text: str, factor: str, expected: str) -> None:
    assert times(text, Fraction(factor)) == expected


def test_rounding_that_would_say_something_else_is_not_written() -> None:
    """Rounded to whole kilograms, 0.1 kg would read as 1 kg."""
    text = "1 kg rice"
    (line,) = read(text)
    factor = Fraction(1, 10)
    assert rewritten(text, line.span, "uk", "Pot", [scale_line(line, factor)], factor, lambda _, __: "1") is None


def test_what_the_words_cannot_say_is_none() -> None:
    (line,) = read("400 g rice")
    other = replace(line, name="barley")
    assert rewritten("400 g rice", line.span, "uk", "Pot", [other], Fraction(2), exactly) is None


def test_numbers_are_found_with_their_units() -> None:
    found = quantities("1 1/2 cups flour, 3-4 eggs and 20 g butter")
    assert [(n.low, n.high, n.unit) for n in found] == [
        (Fraction(3, 2), Fraction(3, 2), "cup"), (3, 4, "piece"), (20, 20, "g"),
    ]  # fmt: skip


units = st.sampled_from(["g", "kg", "ml", "tbsp", "tsp", "cups", "oz", "lb", "", "large", "x 400 g cans"])
foods = st.sampled_from(["brown rice", "olive oil", "onions, diced", "beef mince, 12% fat", "black beans (optional)"])


@given(
    number=st.integers(1, 4000).map(lambda n: Fraction(n, 4)),
    unit=units,
    food=foods,
    factor=st.fractions(min_value=Fraction(1, 20), max_value=20, max_denominator=20),
)
def test_exact_words_read_as_the_exact_amount_and_back(
    number: Fraction, unit: str, food: str, factor: Fraction
) -> None:
    text = f"{float(number):g} {unit} {food}".replace("  ", " ")
    there = times(text, factor, exact=True)
    assert there is not None
    (before,), (after,) = read(text), read(there)
    assert before.amount is not None
    assert after.amount is not None
    assert after.amount.middle == pytest.approx(float(Fraction(before.amount.middle) * factor), rel=1e-6)
    back = times(there, 1 / factor, exact=True)
    assert back is not None
    (again,) = read(back)
    assert again.amount is not None
    assert again.amount.middle == pytest.approx(before.amount.middle, rel=1e-5)
    assert again.name == before.name
