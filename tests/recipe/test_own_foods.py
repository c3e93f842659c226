"""The cook's own foods: figures of a pack label become values per 100 g."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.diagnostics import has_errors
from mealcalc.recipe.food_values import read_energy
from mealcalc.recipe.quantities import Fault
from mealcalc.recipe.reader import ReadResult
from mealcalc.records import Food, HouseholdMeasure
from mealcalc.values import Value, ValueStatus
from tests.recipe.reading import batch_of, codes, errors, read, shown

PUBLISHED, CALCULATED = ValueStatus.PUBLISHED, ValueStatus.CALCULATED


def read_food(fields: str, region: str = "au", name: str = "oat drink") -> ReadResult:
    """Read a batch whose one own food has these fields, parted by '; '."""
    rows = "".join(f"    {field}\n" for field in fields.split("; "))
    text = f"region: {region}\ncontainers: 1\ncomponents: [{{name: A, ingredients: 1 egg}}]\nfoods:\n  - name: {name}\n"
    return read(text + rows)


def food_of(fields: str, region: str = "au") -> Food:
    result = read_food(fields, region)
    assert not has_errors(result.diagnostics), shown(result.diagnostics)
    (food,) = batch_of(result).own_foods
    return food


def amounts(food: Food) -> dict[str, float | None]:
    return {key: value.amount for key, value in food.composition.items()}


def assert_value(food: Food, key: str, amount: float, status: ValueStatus) -> None:
    value = food.composition[key]
    assert value.amount == pytest.approx(amount)
    assert value.status is status


def test_figures_per_100_g() -> None:
    food = food_of("per: 100 g; names: [oatly drink, oat milk]; energy: 1640 kJ; PROCNT: 80 g; FAT: 6 g; piece: 35 g")
    assert (food.table, food.code, food.description, food.edition) == (
        "own",
        "oat-drink",
        "oat drink",
        "pots.batch.yaml",
    )
    assert food.names == ("oatly drink", "oat milk")
    assert food.measures == (HouseholdMeasure(1.0, "piece", 35.0),)
    assert list(food.composition) == ["ENERC_KCAL", "ENERC_KJ", "PROCNT_G", "FAT_G"]
    assert_value(food, "ENERC_KJ", 1640, PUBLISHED)
    assert_value(food, "ENERC_KCAL", 1640 / 4.184, CALCULATED)
    assert_value(food, "PROCNT_G", 80, PUBLISHED)
    assert_value(food, "FAT_G", 6, PUBLISHED)


def test_what_is_not_stated_stays_missing() -> None:
    assert amounts(food_of("per: 100 g; protein: 20 g")) == {"PROCNT_G": 20.0}


def test_figures_per_serving() -> None:
    food = food_of("per: serving; serving: 30 g; protein: 24 g; fat: 0.5 g")
    assert amounts(food) == {"PROCNT_G": pytest.approx(80), "FAT_G": pytest.approx(5 / 3)}
    assert food.measures == (HouseholdMeasure(1.0, "serving", 30.0),)


@pytest.mark.parametrize("per", ["serving", "per serving", "1 serving", "Portion", "per portion"])
def test_ways_to_say_serving(per: str) -> None:
    assert amounts(food_of(f"per: {per}; serving: 50 g; protein: 10 g")) == {"PROCNT_G": 20.0}


def test_figures_per_100_ml_with_a_density() -> None:
    food = food_of("per: 100 ml; density: 1.03 g/ml; protein: 3.4 g")
    assert amounts(food) == {"PROCNT_G": pytest.approx(3.4 / 1.03)}
    # 100 ml by the food's own measure hold what the label says: a US cup is 236.5882365 ml.
    (cup,) = food.measures
    assert (cup.amount, cup.description) == (1.0, "cup")
    assert cup.mass_g == pytest.approx(1.03 * 236.5882365)


def test_a_missing_density_is_assumed_with_a_warning() -> None:
    result = read_food("per: 100 ml; protein: 3.4 g")
    assert shown(result.diagnostics) == (
        "pots.batch.yaml:6:10: warning: no density is given: 100 ml is taken to weigh 100 g, as water would "
        "[density-assumed]\n"
        "        per: 100 ml\n"
        "             ^^^^^^\n"
        "  hint: add 'density: 1.03 g/ml'; weigh 100 ml if the pack does not say"
    )
    assert amounts(batch_of(result).own_foods[0]) == {"PROCNT_G": 3.4}


def test_a_serving_in_millilitres() -> None:
    assert amounts(food_of("per: serving; serving: 250 ml; density: 1.04 kg/l; fat: 2.6 g")) == {
        "FAT_G": pytest.approx(1.0)
    }


@pytest.mark.parametrize(
    ("fields", "sodium_mg", "status"),
    [
        ("salt: 1.2 g", 480.0, CALCULATED),  # Regulation (EU) No 1169/2011, Annex I, point 11: salt = sodium x 2.5
        ("salt: 1200 mg", 480.0, CALCULATED),
        ("sodium: 480 mg", 480.0, PUBLISHED),
        ("NA: 0.48 g", 480.0, PUBLISHED),
        ("sodium: 480 mg; salt: 1.2 g", 480.0, PUBLISHED),
        ("salt: trace", 0.0, ValueStatus.TRACE),
        ("salt: <0.1 g", 20.0, ValueStatus.BELOW_LIMIT),
    ],
)
def test_salt_and_sodium(fields: str, sodium_mg: float, status: ValueStatus) -> None:
    assert_value(food_of(f"per: 100 g; {fields}"), "NA_MG", sodium_mg, status)


@pytest.mark.parametrize(
    ("written", "amount", "status"),
    [
        ("6 g", 6.0, PUBLISHED),
        ("6.5g", 6.5, PUBLISHED),
        ("6,5 g", 6.5, PUBLISHED),
        ("6000 mg", 6.0, PUBLISHED),
        ("0", 0.0, PUBLISHED),
        ("0 g", 0.0, PUBLISHED),
        ("trace", 0.0, ValueStatus.TRACE),
        ("<0.5 g", 0.25, ValueStatus.BELOW_LIMIT),
        ("less than 0.5 g", 0.25, ValueStatus.BELOW_LIMIT),
    ],
)
def test_ways_to_write_a_figure(written: str, amount: float, status: ValueStatus) -> None:
    assert_value(food_of(f"per: 100 g; fat: {written}"), "FAT_G", amount, status)


@pytest.mark.parametrize(
    ("field", "kj", "kcal"),
    [
        ("energy: 1640 kJ", 1640.0, None),
        ("energy: 392 kcal", None, 392.0),
        ("energy: 392 Calories", None, 392.0),
        ("energy: 392Cal", None, 392.0),
        ("energy: 1,640 kJ / 392 kcal", 1640.0, 392.0),
        ("energy: 1640 kJ (392 kcal)", 1640.0, 392.0),
        ("energy: [1640 kJ, 392 kcal]", 1640.0, 392.0),
        ("ENERC: 392 kcal", None, 392.0),
        ("ENERC_KJ: 1640; ENERC_KCAL: 392 kcal", 1640.0, 392.0),
    ],
)
def test_ways_to_write_energy(field: str, kj: float | None, kcal: float | None) -> None:
    food = food_of(f"per: 100 g; {field}")
    # 1 kcal = 4.184 kJ, exact (thermochemical calorie, NIST SP 811 B.8)
    assert_value(food, "ENERC_KJ", kj or (kcal or 0) * 4.184, PUBLISHED if kj else CALCULATED)
    assert_value(food, "ENERC_KCAL", kcal or (kj or 0) / 4.184, PUBLISHED if kcal else CALCULATED)


@pytest.mark.parametrize("region", ["au", "nz", "uk", "ie", "eu", "in"])
def test_carbohydrate_is_available_on_most_labels(region: str) -> None:
    result = read_food("per: 100 g; carbohydrate: 40 g; fibre: 8 g", region)
    assert shown(result.diagnostics) == (
        "pots.batch.yaml:7:5: note: 'carbohydrate' is read as available, without fibre (CHOAVLDF), as labels of the "
        f"region '{region}' state it [carbohydrate-definition]\n"
        "        carbohydrate: 40 g\n"
        "        ^^^^^^^^^^^^\n"
        "  hint: write 'CHOCDF' instead if the label counts it the other way"
    )
    composition = batch_of(result).own_foods[0].composition
    assert composition["CHOAVLDF_G"] == Value(40.0, PUBLISHED)
    assert composition["CHOCDF_G"] == Value(48.0, CALCULATED)


@pytest.mark.parametrize("region", ["us", "ca"])
def test_carbohydrate_is_total_on_american_labels(region: str) -> None:
    result = read_food("per: 100 g; carbohydrate: 48 g; fiber: 8 g", region)
    composition = batch_of(result).own_foods[0].composition
    assert composition["CHOCDF_G"] == Value(48.0, PUBLISHED)
    assert composition["CHOAVLDF_G"] == Value(40.0, CALCULATED)
    assert "total, fibre included (CHOCDF)" in result.diagnostics[0].message


def test_carbohydrate_without_a_region_is_a_warning() -> None:
    result = read_food("per: 100 g; carbohydrate: 40 g", "metric")
    assert [(d.code, d.severity) for d in result.diagnostics] == [("carbohydrate-definition", "warning")]


def test_the_other_carbohydrate_needs_the_fibre() -> None:
    assert amounts(food_of("per: 100 g; carbohydrate: 40 g")) == {"CHOAVLDF_G": 40.0}


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        (
            "per: 100 g; fat: 5 g; saturates: 6 g",
            (
                "pots.batch.yaml:8:16: error: oat drink: a part is above its whole: saturated fatty acids 6 g, fat 5 g "
                "per 100 g [food-part-above-whole]\n"
                "        saturates: 6 g\n"
                "                   ^^^\n"
                "  hint: compare both with the pack"
            ),
        ),
        (
            "per: 100 g; PROCNT: 60 g; FAT: 30 g; CHOCDF: 20 g",
            (
                "pots.batch.yaml:7:13: error: oat drink: 100 g of the food would hold 110 g: protein 60 + fat 30 + "
                "carbohydrate, total by difference 20 [food-over-100]\n"
                "        PROCNT: 60 g\n"
                "                ^^^^\n"
                "  hint: compare the figures and their basis ('per', 'serving', 'density') with the pack"
            ),
        ),
        (
            "per: 100 g; fat: -3 g",
            (
                "pots.batch.yaml:7:10: error: fat '-3 g' is below zero [food-value]\n"
                "        fat: -3 g\n"
                "             ^^^^\n"
                "  hint: write it like 80 g"
            ),
        ),
        (
            "per: 100 g; energy: 250 kJ; PROCNT: 80 g; FAT: 6 g; CHOAVLDF: 3 g",
            (
                "pots.batch.yaml:7:13: warning: oat drink: energy of 59.75 kcal per 100 g does not agree with protein, "
                "fat and carbohydrate, which make 386 kcal [food-energy]\n"
                "        energy: 250 kJ\n"
                "                ^^^^^^\n"
                "  hint: check units and basis; alcohol, polyols or organic acids may explain it"
            ),
        ),
        (
            "per: 100 g; energy: [1640 kJ, 300 kcal]",
            (
                "pots.batch.yaml:7:13: warning: oat drink: 1640 kJ and 300 kcal per 100 g are not the same energy: 300 "
                "kcal are 1255 kJ [food-energy]\n"
                "        energy: [1640 kJ, 300 kcal]\n"
                "                ^^^^^^^^^^^^^^^^^^^\n"
                "  hint: compare both with the pack"
            ),
        ),
        (
            "per: 100 g; energy: 1640 kcal",
            (
                "pots.batch.yaml:7:13: error: oat drink: energy of 1640 kcal per 100 g is more than pure fat has "
                "(about 900) [food-energy]\n"
                "        energy: 1640 kcal\n"
                "                ^^^^^^^^^\n"
                "  hint: check the unit (kJ or kcal) and the basis ('per')"
            ),
        ),
        (
            "per: serving; protein: 3 g",
            (
                "pots.batch.yaml:6:10: error: the weight of a serving is not given [missing-key]\n"
                "        per: serving\n"
                "             ^^^^^^^\n"
                "  hint: add 'serving: 30 g'"
            ),
        ),
        (
            "protein: 3 g",
            (
                "pots.batch.yaml:5:11: error: the food 'oat drink' does not say what its figures are for "
                "[missing-key]\n"
                "      - name: oat drink\n"
                "              ^^^^^^^^^\n"
                "  hint: add 'per: 100 g, 100 ml or serving'"
            ),
        ),
        (
            "per: 100 g; protien: 3 g; fat: 1 g",
            (
                "pots.batch.yaml:7:5: error: unknown key 'protien' in food 1 [unknown-key]\n"
                "        protien: 3 g\n"
                "        ^^^^^^^\n"
                "  hint: did you mean 'protein'?"
            ),
        ),
    ],
    ids=["part", "sum", "negative", "energy", "kJ and kcal", "unit of energy", "serving", "per", "key"],
)
def test_figures_that_cannot_be(fields: str, message: str) -> None:
    assert shown(read_food(fields).diagnostics) == message


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ("per: 100 g; fat: 6", "food-value"),
        ("per: 100 g; fat: 6 kJ", "food-value"),
        ("per: 100 g; fat: much", "food-value"),
        ("per: 100 g; fat: [6 g, 7 g]", "wrong-type"),
        ("per: 100 g; fat: {a: 6 g}", "wrong-type"),
        ("per: 100 g; fat:", "missing-value"),
        ("per: 100 g; energy: 1640", "food-value"),
        ("per: 100 g; energy: 1640 cal", "food-value"),
        ("per: 100 g; energy: -5 kJ", "food-value"),
        ("per: 100 g; energy: 1640 kJ / 1650 kJ", "food-value"),
        ("per: 100 g; energy: 1640 g", "food-value"),
        ("per: 100 g; energy: /", "food-value"),
        ("per: 100 g; fat: 6 g; FAT: 8 g", "duplicate-value"),
        ("per: 100 g; salt: 1 g; sodium: 1 g", "duplicate-value"),
        ("per: 100 g; sugars: 12 g; CHOAVLDF: 10 g", "food-part-above-whole"),
        ("per: 100 g; FIBTG: 12 g; CHOCDF: 10 g", "food-part-above-whole"),
        ("per: 100 g; sodium: 48 g", "food-over-100"),
        ("per: 100 g; fibre: 120 g", "food-over-100"),
        ("per: 100 g; sugars: 120 g", "food-over-100"),
        ("per: 0 g; fat: 6 g", "bad-basis"),
        ("per: 100; fat: 6 g", "bad-basis"),
        ("per: pack; fat: 6 g", "bad-basis"),
        ("per: [100 g]; fat: 6 g", "wrong-type"),
        ("per: serving; serving: 0 g; fat: 6 g", "bad-basis"),
        ("per: serving; serving: one bowl; fat: 6 g", "bad-basis"),
        ("per: 100 ml; density: 1.03; fat: 6 g", "bad-density"),
        ("per: 100 ml; density: 103 g/ml; fat: 6 g", "bad-density"),
        ("per: 100 ml; density: thick; fat: 6 g", "bad-density"),
        ("per: 100 g; piece: 35; fat: 6 g", "bad-weight"),
        ("per: 100 g; piece: 35 ml; fat: 6 g", "bad-weight"),
        ("per: 100 g; names: {a: b}; fat: 6 g", "wrong-type"),
    ],
)
def test_faults_of_a_food(fields: str, code: str) -> None:
    result = read_food(fields)
    assert errors(result) == [code]
    assert all(d.hint for d in result.diagnostics)


@pytest.mark.parametrize(
    "fields",
    [
        "energy: 1640 kJ; PROCNT: 80 g; FAT: 6 g; CHOAVLDF: 3 g",  # 386 kcal against 392
        "energy: 240 kcal; PROCNT: 0 g; FAT: 0 g; CHOAVLDF: 0 g; FIBTG: 0 g; ALC: 34 g",  # a spirit: 7 kcal/g
        "energy: 200 kcal; PROCNT: 2 g; FAT: 0 g; CHOCDF: 90 g; FIBTG: 80 g",  # fibre of the total at 2 kcal/g
        "energy: 9 kcal; PROCNT: 0 g; FAT: 0 g; CHOAVLDF: 0.5 g",  # within 10 kcal
        "energy: 3700 kJ / 900 kcal; FAT: 100 g; FASAT: 14 g; CHOAVLDF: 0 g; PROCNT: 0 g",  # an oil
        "salt: 100 g",
        "PROCNT: 34 g; FAT: 34 g; CHOCDF: 33 g",  # 101 g by rounding
    ],
)
def test_figures_that_agree_pass_in_silence(fields: str) -> None:
    assert read_food(f"per: 100 g; {fields}").diagnostics == ()


def test_a_food_without_figures_is_a_warning() -> None:
    assert codes(read_food("per: 100 g")) == ["empty-food"]


def test_names_count_once() -> None:
    text = (
        "region: au\ncontainers: 1\ncomponents: [{name: A, ingredients: 1 egg}]\nfoods:\n"
        "- {name: pea powder, names: green dust, per: 100 g, fat: 1 g}\n"
        "- {name: Green dust, per: 100 g, fat: 2 g}\n"
        "- {per: 100 g, fat: 3 g}\n"
        "- {name: 豆粉, per: 100 g, fat: 4 g}\n"
    )
    result = read(text)
    assert shown(result.diagnostics, "duplicate-food") == (
        "pots.batch.yaml:6:10: error: the food 'Green dust' stands twice, first on line 5; the first counts "
        "[duplicate-food]\n"
        "    - {name: Green dust, per: 100 g, fat: 2 g}\n"
        "             ^^^^^^^^^^\n"
        "  hint: give each food names of its own"
    )
    assert errors(result) == ["duplicate-food", "missing-key"]
    assert [food.code for food in batch_of(result).own_foods] == ["pea-powder", "food-4"]


@given(st.text(max_size=30))
def test_no_text_of_energy_raises(text: str) -> None:
    energy = read_energy(text)
    assert isinstance(energy, Fault) or (energy.kj or energy.kcal or 0.0) >= 0


_GRAMS = st.integers(0, 300).map(lambda tenths: tenths / 10)


@given(_GRAMS, _GRAMS, _GRAMS, st.integers(1, 500), st.floats(0.95, 1.4))
def test_a_label_gives_back_what_it_states(
    protein: float, fat: float, carbohydrate: float, serving: int, density: float
) -> None:
    fields = f"protein: {protein} g; fat: {fat} g; CHOAVLDF: {carbohydrate} g"
    per_100_g = amounts(food_of(f"per: 100 g; {fields}"))
    assert per_100_g == {"PROCNT_G": protein, "FAT_G": fat, "CHOAVLDF_G": carbohydrate}
    scaled = {key: (value or 0.0) * 100 / serving for key, value in per_100_g.items()}
    if sum(scaled.values()) < 100:
        assert amounts(food_of(f"per: serving; serving: {serving} g; {fields}")) == pytest.approx(scaled)
    per_ml = amounts(food_of(f"per: 100 ml; density: {density:.3f} g/ml; {fields}"))
    assert per_ml == pytest.approx({key: (value or 0.0) / round(density, 3) for key, value in per_100_g.items()})
