"""From a calculated batch to a panel: masses, lines without amount, nitrogen factors, sugars, every shipped example."""

import pytest

from mealcalc.examples import examples, read_example
from mealcalc.fooddb import FoodDatabase
from mealcalc.labelling.claims import check_claims
from mealcalc.labelling.panel import make_panel
from mealcalc.labelling.panel_input import PanelInput, PanelLine, Product, SugarKind
from mealcalc.labelling.schemes import SCHEMES
from mealcalc.pipeline import calculate
from mealcalc.planning.label import panel_input
from mealcalc.recipe.reader import read_text
from mealcalc.records import BatchResult

POTS = """\
title: Bean pots
region: uk
containers: 4
components:
  - name: Rice
    cooking: boiled, all water absorbed
    ingredients: |
      300 g white rice
      600 ml water
  - name: Beans
    cooking: simmered 20 min
    cooked_weight: 1200 g
    ingredients: |
      2 x 400 g cans black beans, drained
      400 g canned chopped tomatoes
      1 tbsp honey
      2 onions, diced
      20 g pea powder
      salt to taste
foods:
  - name: pea powder
    per: 100 g
    energy: 1600 kJ
    protein: 80 g
    fat: 6 g
    carbohydrate: 3 g
    fibre: 2 g
    salt: 1 g
"""


def result_of(text: str, database: FoodDatabase, name: str = "pots.batch.yaml") -> BatchResult:
    found = read_text(text, name)
    assert found.batch is not None
    return calculate(found.batch, database)


@pytest.fixture
def pots(database: FoodDatabase) -> PanelInput:
    return panel_input(result_of(POTS, database))


def line_of(dish: PanelInput, words: str) -> PanelLine:
    return next(line for line in dish.lines if words in line.text)


def test_masses_and_portions(pots: PanelInput, database: FoodDatabase) -> None:
    result = result_of(POTS, database)
    assert pots.title == "Bean pots"
    assert pots.portions == 4
    assert pots.cooked_mass_g == pytest.approx(sum(c.cooked_mass_g for c in result.components))
    assert pots.cooked_mass_estimated
    assert "Beans: weighed" in pots.cooked_mass_ground
    assert pots.product is Product.MEAL


def test_a_weight_that_is_given_counts(database: FoodDatabase) -> None:
    dish = panel_input(result_of(POTS, database), cooked_mass_g=2000.0)
    assert (dish.cooked_mass_g, dish.cooked_mass_estimated) == (2000.0, False)


def test_a_drink_has_a_volume(database: FoodDatabase) -> None:
    dish = panel_input(result_of(POTS, database), volume_ml=2000.0, servings_per_package=2)
    assert dish.product is Product.DRINK
    assert dish.hundreds == 20.0
    assert dish.servings == 8


@pytest.mark.parametrize("text", ["400 g lentils\n800 ml water\n", "Stew:\n400 g lentils\n800 ml water\n"])
def test_no_word_on_cooking_means_no_cooked_weight(text: str, database: FoodDatabase) -> None:
    dish = panel_input(result_of(text, database, "list.txt"))
    assert dish.cooked_mass_g is None
    assert "nothing is said of cooking" in dish.cooked_mass_ground
    panel = make_panel(dish, "eu")
    assert panel.row("fat").printed_per_100g == "not known"
    assert panel.row("fat").raw_per_portion is not None


def test_a_raw_dish_weighs_what_went_in(database: FoodDatabase) -> None:
    text = POTS.replace("cooking: simmered 20 min", "cooking: raw").replace("    cooked_weight: 1200 g\n", "")
    assert panel_input(result_of(text, database)).cooked_mass_g is not None


def test_a_line_of_unknown_mass_leaves_the_weight_unknown(database: FoodDatabase) -> None:
    text = POTS.replace("    cooked_weight: 1200 g\n", "").replace("1 tbsp honey", "3 handfuls of zzyzx root")
    dish = panel_input(result_of(text, database))
    assert dish.cooked_mass_g is None
    assert "the mass of a line is not known" in dish.cooked_mass_ground


def test_salt_to_taste_is_carried_with_what_it_leaves_open(pots: PanelInput) -> None:
    salt = line_of(pots, "salt to taste")
    assert not salt.counted
    assert "NA_MG" in salt.incomplete_keys
    assert "PROCNT_G" not in salt.incomplete_keys
    # USDA SR28 02047, salt, table: 38758 mg sodium per 100 g.
    assert salt.per_gram["NA_MG"] == pytest.approx(387.58)
    panel = make_panel(pots, "uk")
    assert panel.row("salt").printed_per_portion.startswith("at least ")
    assert "each gram brings 0.24 g per container" in panel.row("salt").note


def test_nitrogen_factors_come_with_the_food(pots: PanelInput) -> None:
    # USDA SR28: rice 5.95; the powder's protein is that of its label.
    assert line_of(pots, "white rice").nitrogen_factor == 5.95
    assert line_of(pots, "pea powder").nitrogen_factor is None
    assert line_of(pots, "honey").nitrogen_factor == 6.25


def test_sugars_by_kind(pots: PanelInput) -> None:
    assert line_of(pots, "honey").sugars is SugarKind.ADDED
    assert line_of(pots, "onions").sugars is SugarKind.NATURAL
    assert line_of(pots, "tomatoes").sugars is SugarKind.UNKNOWN
    added = make_panel(pots, "us").row("added sugars")
    assert added.printed_per_portion == "at least 4 g"
    assert "chopped tomatoes" in added.note


def test_amounts_are_those_of_the_batch(pots: PanelInput, database: FoodDatabase) -> None:
    result = result_of(POTS, database)
    panel = make_panel(pots, "us", energy_method="specific", voluntary=["all"])
    for key in ("FAT_G", "FASAT_G", "FIBTG_G", "CHOLE_MG", "CA_MG", "FE_MG", "K_MG", "ENERC_KCAL"):
        assert panel.row(key).raw_per_portion == pytest.approx(result.per_container[key].amount), key


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("name", [example.name for example in examples()])
def test_every_example_has_a_panel(name: str, scheme: str, database: FoodDatabase) -> None:
    dish = panel_input(result_of(read_example(name), database, f"{name}.batch.yaml"))
    panel = make_panel(dish, scheme, voluntary=["all"])
    for row in panel.rows:
        assert row.printed_per_portion
        assert "-" not in row.printed_per_portion
        if not row.complete:
            assert row.note
    energy = panel.row("ENERC_KCAL" if scheme in ("us", "ca") else "ENERC_KJ")
    assert energy.complete
    assert check_claims(dish, scheme)


def test_per_100g_times_mass_is_the_portion(pots: PanelInput) -> None:
    panel = make_panel(pots, "anz")
    assert pots.serving_mass_g is not None
    for row in panel.rows:
        if row.raw_per_portion is not None and row.raw_per_100g is not None:
            assert row.raw_per_100g * pots.serving_mass_g / 100 == pytest.approx(row.raw_per_portion)


def test_energy_by_scheme_differs_as_the_laws_do(pots: PanelInput) -> None:
    # Total carbohydrate at 4 kcal per g counts fibre in full; the Union counts it at 2.
    kcal = {
        s: make_panel(pots, s, voluntary=["all"]).row("ENERC_KCAL").raw_per_portion or 0 for s in ("us", "eu", "ca")
    }
    assert kcal["eu"] < kcal["ca"]
    assert kcal["us"] != kcal["ca"]
