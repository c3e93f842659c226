"""Household measures as USDA SR28 prints them (WEIGHT.txt), read for densities and pieces."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.calculation.household_measures import MeasureReading, density, piece
from mealcalc.records import HouseholdMeasure

US_CUP_ML = 236.5882365  # 1/16 US gallon of 231 cubic inches (NIST Handbook 44, appendix C)


def measures(*rows: tuple[float, str, float]) -> list[HouseholdMeasure]:
    return [HouseholdMeasure(*row) for row in rows]


# amount, description, grams; the order is that of the file
BUTTER = measures((1, 'pat (1" sq, 1/3" high)', 5), (1, "tbsp", 14.2), (1, "cup", 227), (1, "stick", 113))  # 01001
EGG = measures(
    (1, "large", 50), (1, "extra large", 56), (1, "jumbo", 63), (1, "cup (4.86 large eggs)", 243),
    (1, "medium", 44), (1, "small", 38),
)  # 01123  # fmt: skip
CARROT = measures(
    (1, "cup chopped", 128), (1, "cup grated", 110), (1, "cup strips or slices", 122),
    (1, 'large (7-1/4" to 8-/1/2" long)', 72), (1, "medium", 61), (1, 'small (5-1/2" long)', 50), (1, "slice", 3),
)  # 11124  # fmt: skip
BASIL = measures((5, "leaves", 2.5), (2, "tbsp, chopped", 5.3), (0.25, "cup leaves, whole", 6))  # 02044
BANANA = measures((1, "cup, mashed", 225), (1, "cup, sliced", 150), (1, 'medium (7" to 7-7/8" long)', 118))  # 09040
BREAST = measures(
    (0.5, "breast, bone removed (yield from 1 lb ready-to-cook chicken)", 87), (0.5, "breast, bone removed", 145)
)  # 05057  # fmt: skip
BACON = measures((1, "slice raw", 28), (1, "package", 442))  # 10123
OIL = measures((1, "tablespoon", 13.5), (1, "cup", 216), (1, "tsp", 4.5))  # 04053
YOGURT = measures((1, "container (6 oz)", 170), (1, "cup (8 fl oz)", 245))  # 01116


@pytest.mark.parametrize(
    ("of_food", "words", "g_per_ml"),
    [
        (OIL, "", 216 / US_CUP_ML),
        (BUTTER, "", 227 / US_CUP_ML),
        (CARROT, "grated", 110 / US_CUP_ML),
        (CARROT, "finely chopped", 128 / US_CUP_ML),
        (CARROT, "", 128 / US_CUP_ML),  # the first of those with a form
        (BANANA, "", 150 / US_CUP_ML),  # nobody means mashed who does not say so
        (BANANA, "mashed", 225 / US_CUP_ML),
        (BASIL, "", 2.65 / (US_CUP_ML / 16)),
        (measures((0.25, "cup", 30)), "", 120 / US_CUP_ML),
        (measures((100, "ml", 96)), "", 0.96),
        (YOGURT, "", 245 / US_CUP_ML),
    ],
)
def test_density(of_food: list[HouseholdMeasure], words: str, g_per_ml: float) -> None:
    found = density(of_food, frozenset(words.split()))
    assert found is not None
    assert found.value == pytest.approx(g_per_ml, rel=1e-2)


def test_a_density_names_its_measure() -> None:
    found = density(BANANA, frozenset(["sliced"]))
    assert found is not None
    assert found.value == pytest.approx(150 / US_CUP_ML)
    assert found.ground == "1 US cup, sliced = 150 g"


@pytest.mark.parametrize(
    "of_food", [[], measures((1, "piece", 12)), measures((0, "cup", 100)), measures((3, "oz", 85))]
)
def test_no_volume_no_density(of_food: list[HouseholdMeasure]) -> None:
    assert density(of_food, frozenset()) is None


@pytest.mark.parametrize(
    ("of_food", "unit", "size", "name", "grams"),
    [
        (EGG, "piece", "", "eggs", 44),  # a middling one
        (EGG, "piece", "large", "eggs", 50),
        (EGG, "piece", "extra large", "eggs", 56),
        (EGG, "piece", "small", "eggs", 38),
        (CARROT, "piece", "", "carrots", 61),
        (CARROT, "piece", "large", "carrots", 72),
        (CARROT, "slice", "", "carrots", 3),
        (BASIL, "leaf", "", "basil", 0.5),
        (BUTTER, "stick", "", "butter", 113),
        (BACON, "slice", "", "bacon", 28),
        (BREAST, "piece", "", "chicken breasts", 290),
        (measures((1, "fruit (2-1/8\" dia)", 58)), "piece", "", "lemon", 58),
        (measures((4, "cookies", 30)), "piece", "", "sugar cookies", 7.5),
        (measures((1, "package (10 oz)", 284)), "pack", "", "spinach", 284),
        (measures((1, "can total can contents", 448)), "can", "", "chickpeas", 448),
        (measures((1, "head, medium (about 5-3/4\" dia)", 908)), "head", "", "cabbage", 908),
        (measures((1, "stalk, medium (7-1/2\" - 8\" long)", 40)), "stalk", "", "celery", 40),
        (measures((1, "ear, medium (6-3/4\" to 7-1/2\" long) yields", 102)), "ear", "", "corn", 102),
    ],
)  # fmt: skip
def test_piece(of_food: list[HouseholdMeasure], unit: str, size: str, name: str, grams: float) -> None:
    found = piece(of_food, unit, size, name)
    assert found is not None
    assert found.value == pytest.approx(grams)


def test_a_piece_names_its_measure() -> None:
    assert piece(BASIL, "leaf", "", "basil") == MeasureReading(0.5, "5 leaves = 2.5 g")


@pytest.mark.parametrize(
    ("description", "unit", "name"),
    [
        ("unit (yield from 1 lb ready-to-cook chicken)", "piece", "chicken breast"),
        ("piece, cooked, excluding refuse (yield from 1 lb raw meat with refuse)", "piece", "beef"),
        ("cup pieces", "piece", "apple"),
        ("tbsp", "piece", "butter"),
        ("oz", "piece", "cheese"),
        ("serving", "piece", "beef"),
        ("cubic inch", "cube", "cheese"),
        ("stick", "piece", "butter"),
        ("slice", "clove", "garlic"),
    ],
)
def test_what_is_no_such_piece(description: str, unit: str, name: str) -> None:
    assert piece(measures((1, description, 100)), unit, "", name) is None


@given(
    st.floats(0.1, 100, allow_nan=False),
    st.floats(0.1, 1000, allow_nan=False),
    st.sampled_from(["cup", "tbsp", "tsp", "fl oz", "quart"]),
)
def test_a_measure_weighs_by_its_density_what_it_is_said_to(amount: float, mass_g: float, unit: str) -> None:
    in_cups = {"cup": 1.0, "tbsp": 1 / 16, "tsp": 1 / 48, "fl oz": 1 / 8, "quart": 4.0}
    found = density(measures((amount, unit, mass_g)), frozenset())
    assert found is not None
    assert found.value * amount * in_cups[unit] * US_CUP_ML == pytest.approx(mass_g, rel=1e-9)
