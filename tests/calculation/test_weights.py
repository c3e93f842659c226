"""From amounts to edible grams: rules on literal foods, figures on the real tables.

Densities and pieces of the figures: USDA SR28, WEIGHT.txt and FOOD_DES.txt, as quoted beside each.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.calculation.weights import weigh
from mealcalc.diagnostics import Severity, Span
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import diagnostics_of, weigh_lines
from mealcalc.recipe.line_parser import parse_line
from mealcalc.records import (
    Amount,
    Food,
    FoodState,
    HouseholdMeasure,
    LineSettings,
    LineStatus,
    MassSource,
    MatchedFood,
    RecipeLine,
    WeighedIngredient,
)
from mealcalc.units import MASS_G, REGIONS
from mealcalc.values import Value

SLICED = HouseholdMeasure(1, "cup, sliced", 118.294)
MEDIUM, LARGE = HouseholdMeasure(1, "medium", 80), HouseholdMeasure(1, "large", 120)
ZEDOARY = Food(
    "sr28", "test", "1", "Zedoary, raw", "1100", {"FAT_G": Value(1.0)},
    measures=(SLICED, MEDIUM, LARGE), refuse_percent=20.0, refuse_description="Skin",
)  # fmt: skip
SUET = Food("sr28", "test", "2", "Suet", "1300", {"FAT_G": Value(94.0)})
TONIC = Food("sr28", "test", "3", "Tonic", "1400", {})


def amount(number: float, unit: str) -> Amount:
    return Amount(number, number, unit)


def weighed(
    food: Food,
    written: Amount | None,
    *,
    region: str = "uk",
    status: LineStatus = LineStatus.MATCHED,
    measured: Amount | None = None,
    words: str = "",
    size: str = "",
    container: str = "",
    state: FoodState | None = None,
    settings: LineSettings | None = None,
) -> WeighedIngredient:
    name = food.description.split(",")[0].lower()
    line = RecipeLine(
        text=name,
        span=Span("recipe", 3, 1, 1, name),
        amount=written,
        measured=measured,
        name=name,
        container=container,
        size=size,
        state=state,
        words=frozenset(words.split(", ")) - {""},
        settings=settings or LineSettings(),
    )
    return weigh(MatchedFood(line, food, status, "", 1.0), region)


def grams(text: str, database: FoodDatabase, region: str = "uk") -> float | None:
    line = parse_line(text, Span("recipe", 1, 1, len(text) + 1, text), region)
    return weigh_lines([line], database, region)[0].mass_g


# --- rules ------------------------------------------------------------------------------------------------------------


def test_a_weight_in_full() -> None:
    found = weighed(ZEDOARY, Amount(1.0, 2.0, "oz"), settings=LineSettings(used_share=0.25))
    assert found.mass_g == 1.5 * 28.349523125  # a range counts at its middle
    assert found.eaten_mass_g == 0.25 * 1.5 * 28.349523125
    assert (found.ground, found.diagnostics, found.sources) == ("1 to 2 oz", (), (MassSource.SCALE,))


def test_grams_settled_on_the_line_overrule_all_else() -> None:
    found = weighed(ZEDOARY, amount(3, "kg"), measured=amount(2, "kg"), settings=LineSettings(mass_g=150.0))
    assert (found.mass_g, found.ground) == (150.0, "grams settled on the line")


def test_a_weight_in_brackets_overrules_a_count() -> None:
    assert weighed(ZEDOARY, amount(1, "piece"), measured=amount(450, "g")).mass_g == 450.0


def test_a_measure_that_says_nothing_of_grams_does_not_overrule() -> None:
    found = weighed(SUET, amount(100, "g"), measured=amount(1, "cup"))
    assert (found.mass_g, found.diagnostics) == (100.0, ())


@pytest.mark.parametrize(("size", "mass_g"), [("", 160.0), ("medium", 160.0), ("large", 240.0)])
def test_pieces_by_size(size: str, mass_g: float) -> None:
    assert weighed(ZEDOARY, amount(2, "piece"), size=size).mass_g == mass_g


def test_a_volume_by_the_foods_own_measure() -> None:
    found = weighed(ZEDOARY, amount(100, "ml"))
    assert found.mass_g == pytest.approx(50.0, rel=1e-4)
    assert "1 US cup, sliced = 118.294 g" in found.ground


def test_a_drink_without_a_measure_weighs_a_gram_a_millilitre() -> None:
    found = weighed(TONIC, amount(200, "ml"))
    assert found.mass_g == 200.0
    assert "our own assumption" in found.ground


@pytest.mark.parametrize(
    ("unit", "factor"), [("tsp", 1.5), ("tbsp", 1.5), ("dessertspoon", 1.5), ("cup", 1.25), ("ml", 1.0)]
)
def test_heaped(unit: str, factor: float) -> None:
    level, heaped = weighed(ZEDOARY, amount(1, unit)), weighed(ZEDOARY, amount(1, unit), words="heaped")
    assert heaped.mass_g == pytest.approx(factor * (level.mass_g or 0.0))


def test_a_stick_of_fat_is_four_ounces_and_another_stick_a_stalk() -> None:
    assert weighed(SUET, amount(1, "stick")).mass_g == 113.398
    found = weighed(ZEDOARY, amount(1, "stick"))
    assert (found.mass_g, [d.code for d in found.diagnostics]) == (80.0, [])


# --- refuse -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "as_bought", "share"),
    [
        ("", None, 1.0),
        ("", True, 0.8),
        ("", False, 1.0),
        ("bone in", None, 0.8),
        ("in shell", None, 0.8),
        ("bone in", False, 1.0),  # the cook says that the weight is edible
        ("boneless", True, 1.0),
        ("peeled", True, 1.0),
        ("chopped", None, 1.0),
    ],
)
def test_refuse_is_taken_only_off_a_weight_that_carries_it(words: str, as_bought: bool | None, share: float) -> None:
    found = weighed(ZEDOARY, amount(500, "g"), words=words, settings=LineSettings(as_bought=as_bought))
    assert found.mass_g == pytest.approx(500.0 * share)
    assert ("refuse 20 %, Skin" in found.ground) is (share < 1.0)


def test_no_refuse_is_taken_off_pieces_and_cups() -> None:
    """Household measures are of the edible part already (USDA SR28 documentation)."""
    as_bought = LineSettings(as_bought=True)
    assert weighed(ZEDOARY, amount(1, "piece"), words="bone in", settings=as_bought).mass_g == 80.0
    assert weighed(ZEDOARY, amount(100, "ml"), settings=as_bought).mass_g == pytest.approx(50.0, rel=1e-4)


def test_a_drained_can_of_a_food_that_we_do_not_list() -> None:
    found = weighed(ZEDOARY, amount(400, "g"), words="drained", container="can")
    assert found.mass_g == pytest.approx(240.0)
    assert "not listed" in found.ground


@pytest.mark.parametrize("container", ["pack", ""])
def test_what_comes_in_no_can_keeps_its_weight(container: str) -> None:
    assert weighed(ZEDOARY, amount(400, "g"), words="drained", container=container).mass_g == 400.0


# --- never a silent zero ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("food", "written", "message"),
    [
        (SUET, amount(1, "cup"), "no density is known for 'suet' (sr28:2): the line is not counted in any total"),
        (
            SUET,
            amount(2, "bunch"),
            "no weight of a bunch is known for 'suet' (sr28:2): the line is not counted in any total",
        ),
    ],
)
def test_what_cannot_be_weighed_is_told(food: Food, written: Amount, message: str) -> None:
    found = weighed(food, written)
    assert found.mass_g is None
    (told,) = found.diagnostics
    assert (told.code, told.severity, told.message, told.span) == (
        "no-weight",
        Severity.ERROR,
        message,
        found.matched.line.span,
    )
    assert "[grams N]" in told.hint


def test_a_counted_line_without_amount_is_told() -> None:
    found = weighed(ZEDOARY, None)
    assert (found.mass_g, [d.code for d in found.diagnostics]) == (None, ["no-amount"])


@pytest.mark.parametrize("status", [LineStatus.NOT_COUNTED, LineStatus.NOT_FOOD])
@pytest.mark.parametrize("written", [None, amount(1, "bunch"), amount(100, "g")])
def test_a_line_that_is_not_counted_has_no_mass_and_no_finding(status: LineStatus, written: Amount | None) -> None:
    found = weighed(SUET, written, status=status)
    assert (found.mass_g, found.diagnostics) == (None, ())


def test_a_line_without_food_has_no_mass() -> None:
    line = RecipeLine("zyx", Span("recipe", 1), amount=amount(100, "g"))
    found = weigh(MatchedFood(line, None, LineStatus.UNMATCHED, "", 0.0), "uk")
    assert (found.mass_g, found.diagnostics) == (None, ())


@given(st.floats(0.001, 1e6), st.sampled_from(sorted(set(MASS_G) - {"stick"})), st.sampled_from(REGIONS))
def test_a_weight_is_itself_in_every_region(number: float, unit: str, region: str) -> None:
    assert weighed(ZEDOARY, amount(number, unit), region=region).mass_g == pytest.approx(number * MASS_G[unit])


# --- figures ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("region", "mass_g"),
    [
        ("us", 13.50),  # SR28 04053: 1 tablespoon = 13.5 g
        ("uk", 13.70),  # 15 ml of 216 g a US cup
        ("au", 18.26),  # 20 ml
        ("ca", 13.70),
    ],
)
def test_a_tablespoon_of_oil_by_region(database: FoodDatabase, region: str, mass_g: float) -> None:
    assert grams("1 tbsp olive oil", database, region) == pytest.approx(mass_g, abs=0.01)


@pytest.mark.parametrize(
    ("text", "mass_g"),
    [
        ("1 cup whole milk", 244.0),  # 01077: 1 cup = 244 g
        ("1 cup butter", 227.0),  # 01001: 1 cup = 227 g
        ("1 tbsp butter", 14.2),  # 01001: 1 tbsp = 14.2 g
        ("2 sticks butter", 2 * 113.4),  # 4 oz each
        ("1 cup honey", 339.0),  # 19296: 1 cup = 339 g
        ("1 tbsp honey", 21.0),  # 19296: 1 tbsp = 21 g
        ("1 cup granulated sugar", 200.0),  # 19335: 1 cup = 200 g
        ("1 cup all-purpose flour", 125.0),  # 20081: 1 cup = 125 g
        ("2 large eggs", 100.0),  # 01123: 1 large = 50 g
        ("1 medium carrot", 61.0),  # 11124: 1 medium = 61 g
        ("1 cup shredded cheddar", 113.0),  # 01009: 1 cup, shredded = 113 g
        ("3 cloves garlic", 9.0),  # 11215: 1 clove = 3 g
        ("2 stalks celery", 80.0),  # 11143: 1 stalk, medium = 40 g
        ("5 basil leaves", 2.5),  # 02044: 5 leaves = 2.5 g
        ("1 lb bananas [as bought]", 0.64 * 453.6),  # 09040: refuse 36 %
        ("1 lb ground beef", 453.6),
        ("1 (16 oz) package frozen peas", 453.6),
    ],
)
def test_published_measures_in_the_us(database: FoodDatabase, text: str, mass_g: float) -> None:
    # A US cup of our own density and a printed tablespoon differ by rounding.
    assert grams(text, database, "us") == pytest.approx(mass_g, rel=0.015)


@pytest.mark.parametrize(
    ("text", "mass_g"),
    [
        ("2 x 400 g tins chopped tomatoes", 800.0),
        ("1 aubergine (about 450 g)", 450.0),
        ("1 lb / 450 g potatoes", 453.6),
        ("250 g basmati rice [grams 300]", 300.0),
        ("500 ml water", 500.0),
        ("1 pint water", 568.3),  # imperial
    ],
)
def test_written_weights(database: FoodDatabase, text: str, mass_g: float) -> None:
    assert grams(text, database) == pytest.approx(mass_g, abs=0.5)


@pytest.mark.parametrize(
    ("less", "more", "region"),
    [
        ("1 small onion", "1 large onion", "uk"),
        ("400 g can chickpeas, drained", "400 g can chickpeas", "uk"),
        ("1 kg mussels in the shell", "1 kg mussel meat", "au"),
        ("500 g bone-in lamb shoulder", "500 g boneless lamb shoulder", "uk"),
        ("1 tbsp peanut butter", "1 heaped tbsp peanut butter", "uk"),
        ("1 stick celery", "1 stick butter", "uk"),
    ],
)
def test_of_two_lines_the_first_weighs_less(database: FoodDatabase, less: str, more: str, region: str) -> None:
    low, high = grams(less, database, region), grams(more, database, region)
    assert low is not None
    assert high is not None
    assert 0 < low < high


def test_drained_chickpeas(database: FoodDatabase) -> None:
    # 16358: 1 can drained = 253 g; 16058: 1 can, total contents = 448 g.
    assert grams("448 g can chickpeas, drained", database, "us") == pytest.approx(253.0, abs=1.0)


@pytest.mark.parametrize("measure", ["pinch", "dash", "knob", "handful", "glug", "splash"])
def test_small_measures_weigh_something(database: FoodDatabase, measure: str) -> None:
    mass_g = grams(f"1 {measure} of butter", database)
    assert mass_g is not None
    assert 0 < mass_g < 100


@pytest.mark.parametrize(
    ("sized", "plain", "times"),
    [
        ("a good glug of olive oil", "a glug of olive oil", 2.0),  # rows of the table of small measures
        ("a generous pinch of paprika", "a pinch of paprika", 2.0),
        ("a large knob of butter", "a knob of butter", 25 / 15),
        ("a small handful of almonds", "a handful of almonds", 2 / 3),  # a row without size, scaled
        ("a small dash of milk", "a dash of milk", 0.4 / 0.62),
        ("a large drop of milk", "a drop of milk", 1.5),  # no row of that size: our own factor
    ],
)
def test_a_size_scales_a_small_measure(database: FoodDatabase, sized: str, plain: str, times: float) -> None:
    usual = grams(plain, database)
    assert usual is not None
    assert grams(sized, database) == pytest.approx(usual * times)


@pytest.mark.parametrize(
    ("text", "mass_g"),
    [
        ("1 rack of lamb", 360.0),  # 8 cutlets of 45 g
        ("2 lamb racks", 720.0),
        ("1 rack baby back ribs", 455.0),  # 13 ribs of 35 g
        ("1 sleeve graham crackers", 126.0),  # 9 sheets of 14 g, SR28 18173
        ("2 peppers", 238.0),  # the vegetable: SR28 11333, 119 g a medium one
        ("1 tsp pepper", 2.335),  # the spice: SR28 02030, 2.3 g in a US teaspoon of 4.93 ml
    ],
)
def test_racks_sleeves_and_peppers(database: FoodDatabase, text: str, mass_g: float) -> None:
    assert grams(text, database) == pytest.approx(mass_g, rel=0.01)


def test_what_is_wrong_with_an_amount_is_told_once(database: FoodDatabase) -> None:
    for text in ("-2 eggs", "100 g", "3 blorps of sugar", "nan g butter"):
        line = parse_line(text, Span("recipe", 1, 1, len(text) + 1, text), "uk")
        found = weigh_lines([line], database, "uk")[0]
        assert [d.severity for d in diagnostics_of(found)] == ["error"], text


def test_a_handful_of_a_food_of_our_table_weighs_what_the_table_says(database: FoodDatabase) -> None:
    assert grams("a handful of spinach", database) == 30.0
    assert grams("a large handful of spinach", database) == 45.0


# --- what a weight still carries --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "mass_g", "gross_g"),
    [
        ("2 x 400 g cans black beans, drained", 480.0, 800.0),  # drained share 0.60
        ("1 kg bone-in pork spareribs", 700.0, 1000.0),  # SR28 10088: refuse 30 %
        ("500 g cherries with stones", 460.0, 500.0),  # SR28 09070: refuse 8 %
        ("500 g unpitted cherries", 460.0, 500.0),
        ("300 g dates (stones in)", 270.0, 300.0),  # SR28 09087: refuse 10 %
        ("500 g peaches, stones removed", 500.0, None),
        ("500 g peas in the pod", 190.0, 500.0),  # SR28 11304: refuse 62 %
        ("600 g sweetcorn on the cob", 330.0, 600.0),  # SR28 11168: refuse 45 %
        ("1 kg carrots [as bought]", 890.0, 1000.0),  # SR28 11124: refuse 11 %
        ("1 kg carrots", 1000.0, None),
        ("2 onions", 220.0, None),
    ],
)
def test_the_weight_before_refuse_and_liquid_are_off_is_kept(
    database: FoodDatabase, text: str, mass_g: float, gross_g: float | None
) -> None:
    line = parse_line(text, Span("recipe", 1, 1, len(text) + 1, text), "uk")
    found = weigh_lines([line], database, "uk")[0]
    assert found.mass_g == pytest.approx(mass_g)
    assert found.gross_mass_g == (None if gross_g is None else pytest.approx(gross_g))
