"""The account of one figure: it adds up, names every ground, and says what is missing."""

import re
from pathlib import Path

import pytest

from mealcalc.components import EVERYDAY_NAMES, FOOD_COMPONENTS
from mealcalc.errors import UsageError
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import run
from mealcalc.records import BatchResult, LineStatus, MassSource
from mealcalc.reports.explain import Explanation, blend_keys, explain, key_of
from mealcalc.reports.explain_json import explanation_shape
from mealcalc.reports.explain_text import explanation_text
from mealcalc.reports.screen import Screen
from mealcalc.values import ValueStatus

RECIPE = """\
title: Mixed pots
region: uk
containers: 4
components:
  - name: Mince
    cooking: browned and drained, then simmered 40 min
    fat: drained
    ingredients: |
      750 g beef mince, 12% fat
      2 onions, diced
      150 ml red wine
      1 tbsp olive oil
      salt to taste
  - name: Sides
    cooking: boiled and drained
    ingredients: |
      350 g cooked white rice
      200 g broccoli
      1 litre water
  - name: Chicken
    cooking: roasted
    cooked_weight: 600 g
    ingredients: |
      800 g chicken breast
      200 g yoghurt, half discarded
      100 g yoghurt [used 25%]
"""
ONE_LINE = "title: T\nregion: uk\ncontainers: 1\ncomponents:\n  - name: A\n    ingredients: "
UNKNOWN_LINE = "      300 g unobtainium zzyzx\n"


@pytest.fixture(scope="module")
def result(database: FoodDatabase, tmp_path_factory: pytest.TempPathFactory) -> BatchResult:
    return _run(database, tmp_path_factory.mktemp("mixed"), RECIPE)


@pytest.fixture(scope="module")
def incomplete(database: FoodDatabase, tmp_path_factory: pytest.TempPathFactory) -> BatchResult:
    return _run(database, tmp_path_factory.mktemp("incomplete"), RECIPE + UNKNOWN_LINE)


def _run(database: FoodDatabase, folder: Path, recipe: str) -> BatchResult:
    path = folder / "mixed.batch.yaml"
    path.write_text(recipe, encoding="utf-8")
    return run(path, database=database)


def _text(explanation: Explanation) -> str:
    # Wide, so that no row is wrapped; the screen keeps its own bounds.
    return explanation_text(explanation, Screen(140))


def _flat(explanation: Explanation) -> str:
    return " ".join(_text(explanation).split())


@pytest.mark.parametrize("key", FOOD_COMPONENTS)
def test_the_account_adds_up(result: BatchResult, key: str) -> None:
    found = explain(result, key)
    for component in found.components:
        for line in component.lines:
            if line.amount is None:
                continue
            assert line.raw is not None
            assert line.mass_g is not None
            assert line.per_100g.amount is not None
            assert line.raw == pytest.approx(line.mass_g * line.used_share * line.per_100g.amount / 100.0)
            assert line.raw + sum(step.change for step in line.steps) == pytest.approx(line.amount, abs=1e-9)
            assert "other" not in {step.what for step in line.steps}, line.text
        parts = sum(line.amount or 0.0 for line in component.lines) + component.water_change
        assert parts + component.other_lines == pytest.approx(component.total, abs=1e-6)
        assert component.water_change == 0.0 or key == "WATER_G"
    assert sum(component.total for component in found.components) == pytest.approx(found.total)
    assert found.per_container * 4 == pytest.approx(found.total)
    assert found.total == result.totals[key].amount


@pytest.mark.parametrize(
    "key", ["ENERC_KCAL", "ENERC_KJ", "FAT_G", "CHOCDF_G", "CHOLE_MG", "VITC_MG", "WATER_G", "ALC_G"]
)
@pytest.mark.parametrize("line", [None, 9])
def test_the_figures_as_printed_add_up(result: BatchResult, key: str, line: int | None) -> None:
    shown = _text(explain(result, key, line=line))
    blocks = [block.split("\n\n")[0] for block in shown.split("adding up:")[1:]]
    assert blocks
    for block in blocks:
        rows = _rows(block)
        labels = [label for label, _ in rows]
        together = labels.index("together")
        assert round(sum(number for _, number in rows[:together]), 6) == rows[together][1]
    rows = _rows(shown.split("\nTotal\n")[1])
    whole = [label for label, _ in rows].index("whole batch")
    assert round(sum(number for _, number in rows[:whole]), 6) == rows[whole][1]


def _rows(block: str) -> list[tuple[str, float]]:
    """Label and first number of each row of a block; what is wrapped belongs to the row above."""
    found = [re.match(r" {4}(\S.*?) {2,}(\S.*)$", row) for row in block.splitlines()]
    return [(match[1], _number(match[2])) for match in found if match is not None and re.search(r"\d", match[2])]


def _number(text: str) -> float:
    found = re.search(r"-?\d+(?:\.\d+)?", text)
    assert found is not None, text
    return float(found[0])


def test_every_ground_of_the_result_is_named(result: BatchResult) -> None:
    shown = {key: _flat(explain(result, key)) for key in ("FAT_G", "ENERC_KCAL", "VITC_MG")}
    for component in result.components:
        assert component.cooked_mass_ground in shown["FAT_G"]
        for c in component.contributions:
            if c.ingredient.mass_g is None:
                continue
            assert c.ingredient.ground in shown["FAT_G"] or f"{c.ingredient.mass_g:g} g: as written" in shown["FAT_G"]
            assert c.cooking.fat_ground in shown["FAT_G"]
            if c.cooking.yield_share not in (None, 0.0, 1.0) and c.amounts["FAT_G"]:
                assert c.cooking.yield_ground in shown["FAT_G"]
            if c.cooking.retention.get("VITC_MG") and c.amounts["VITC_MG"]:
                assert c.cooking.retention_ground in shown["VITC_MG"]
    wine = next(c for c in result.contributions if c.line.name == "red wine")
    assert wine.cooking.retention_ground in shown["ENERC_KCAL"]


def test_a_blend_shows_its_foods_with_their_own_values(result: BatchResult, database: FoodDatabase) -> None:
    found = explain(result, "FAT_G", database.foods(blend_keys(result)), line=9)
    (line,) = found.components[0].lines
    assert line.food is not None
    # SR28 23562 and 23567: beef, ground, 10 % and 15 % fat, with 10 and 15 g in 100 g.
    assert [(part.food, part.per_100g) for part in line.food.blend] == [("sr28:23562", 10.0), ("sr28:23567", 15.0)]
    mixed = sum(part.share * (part.per_100g or 0.0) for part in line.food.blend)
    assert line.per_100g.amount == pytest.approx(mixed)
    assert "(blend of the foods above)" in _text(found)


def test_without_their_foods_a_blend_shows_shares_alone(result: BatchResult) -> None:
    (line,) = explain(result, "FAT_G", line=9).components[0].lines
    assert line.food is not None
    assert {part.per_100g for part in line.food.blend} == {None}
    assert "60 % sr28:23562" in _flat(explain(result, "FAT_G", line=9))


def test_drained_fat_is_a_step_of_fat_and_of_energy(result: BatchResult) -> None:
    (fat,) = explain(result, "FAT_G", line=9).components[0].lines
    (energy,) = explain(result, "ENERC_KCAL", line=9).components[0].lines
    (saturated,) = explain(result, "FASAT_G", line=9).components[0].lines
    (protein,) = explain(result, "PROCNT_G", line=9).components[0].lines
    cooking = result.contributions[0].cooking
    assert cooking.fat_lost_g > 0
    (step,) = fat.steps
    assert step.what == "fat poured off"
    assert step.change == pytest.approx(-cooking.fat_lost_g)
    assert [s.what for s in energy.steps] == ["fat poured off"]
    # In proportion: the same share of the saturated fat is left.
    assert saturated.steps[0].factor == pytest.approx(step.factor)
    assert protein.steps == ()


def test_cholesterol_has_a_retention_of_its_own_when_fat_is_drained(result: BatchResult) -> None:
    (line,) = explain(result, "CHOLE_MG", line=9).components[0].lines
    (step,) = line.steps
    assert step.what == "retention"
    assert step.ground == result.contributions[0].cooking.fat_ground


def test_alcohol_driven_off_takes_its_energy_along(result: BatchResult) -> None:
    (alcohol,) = explain(result, "ALC_G", line=11).components[0].lines
    (energy,) = explain(result, "ENERC_KCAL", line=11).components[0].lines
    lost_g = -sum(step.change for step in alcohol.steps)
    assert lost_g > 0
    # Alcohol: 6.93 kcal per g (USDA Agriculture Handbook 74, 1973).
    assert energy.steps[0].change == pytest.approx(-6.93 * lost_g)
    assert energy.steps[0].what == "alcohol driven off"


def test_retention_is_a_factor_with_its_row(result: BatchResult) -> None:
    (line,) = explain(result, "VITC_MG", line=18).components[0].lines
    (step,) = line.steps
    assert step.what == "retention"
    assert step.factor is not None
    assert line.raw is not None
    assert line.amount == pytest.approx(line.raw * step.factor)
    assert "USDA Table of Nutrient Retention Factors" in step.ground


def test_cooking_water_is_poured_off(result: BatchResult) -> None:
    (line,) = explain(result, "WATER_G", line=19).components[0].lines
    assert [step.what for step in line.steps] == ["poured off"]
    assert line.amount == 0.0


def test_a_converted_state_is_told_with_its_yield(database: FoodDatabase, tmp_path: Path) -> None:
    result = _run(database, tmp_path, f"{ONE_LINE}500 g cooked cassava\n")
    (c,) = result.contributions
    assert MassSource.CONVERSION in c.ingredient.sources
    (line,) = explain(result, "PROCNT_G").components[0].lines
    assert line.mass_ground == c.ingredient.ground
    shown = _flat(explain(result, "PROCNT_G"))
    assert "500 g; cooked to raw x" in shown
    assert c.ingredient.ground in shown


def test_shares_eaten_are_told_with_their_ground(result: BatchResult) -> None:
    shown = _flat(explain(result, "FAT_G", component="chicken"))
    assert "50% eaten: 'half discarded'" in shown
    assert "50 % of 200 g = 100 g" in shown
    assert "25% eaten: set on the line" in shown
    assert "25 % of 100 g = 25 g" in shown


def test_values_say_how_they_came_about(result: BatchResult) -> None:
    (available,) = explain(result, "CHOAVLDF_G", line=10).components[0].lines
    # SR28 11282, onions: 9.34 g carbohydrate and 1.7 g fibre in 100 g.
    assert available.per_100g_note == "carbohydrate 9.34 g less fibre 1.7 g"
    (fibre,) = explain(result, "FIBTG_G", line=12).components[0].lines
    assert fibre.per_100g.status in (ValueStatus.LOGICAL_ZERO, ValueStatus.PUBLISHED)
    (kj,) = explain(result, "ENERC_KJ", line=10).components[0].lines
    assert kj.per_100g_note == "40.0 kcal x 4.184"


def test_a_zero_by_rule_names_the_rule(result: BatchResult) -> None:
    by_rule = [
        line
        for key in ("FIBTG_G", "SUGAR_G", "CHOLE_MG", "ALC_G")
        for component in explain(result, key).components
        for line in component.lines
        if line.per_100g.status is ValueStatus.LOGICAL_ZERO
    ]
    assert by_rule
    assert all(line.per_100g_note not in ("", "can only be 0") for line in by_rule)


def test_water_that_belongs_to_no_line_is_told_apart(result: BatchResult) -> None:
    shown = _text(explain(result, "WATER_G", component="Mince"))
    assert re.search(r"^ +given off +-\d", shown, re.MULTILINE)


def test_a_line_without_amount_is_said_not_to_count(result: BatchResult) -> None:
    found = explain(result, "NA_MG")
    (salt,) = [line for line in found.components[0].lines if line.line == 13]
    assert salt.note == "no amount is written: not counted"
    assert salt.amount is None
    assert found.unknown_lines == (13,)
    assert "INCOMPLETE" in _text(found)


def test_an_unmatched_line_makes_the_total_a_lower_bound(incomplete: BatchResult) -> None:
    found = explain(incomplete, "PROCNT_G")
    assert found.unknown_lines == (27,)
    (line,) = [line for component in found.components for line in component.lines if line.line == 27]
    assert line.note == "NOT COUNTED: no table holds this food"
    shown = _text(found)
    assert "protein in one container: ≥" in shown
    assert "not known of line 27: the true figure is larger" in shown
    assert incomplete.contributions[-1].ingredient.matched.status is LineStatus.UNMATCHED


def test_a_value_the_table_leaves_blank_is_no_zero(database: FoodDatabase, tmp_path: Path) -> None:
    own = "foods:\n  - name: pea protein powder\n    per: 100 g\n    energy: 1640 kJ\n    PROCNT: 80 g\n    FAT: 6 g\n"
    recipe = f"{ONE_LINE}100 g pea protein powder\n{own}"
    found = explain(_run(database, tmp_path, recipe), "VITC_MG")
    (line,) = found.components[0].lines
    assert line.note == "NOT KNOWN: the table leaves it blank"
    assert line.amount is None
    assert "≥ 0.0 mg" in _text(found)


def test_one_line_or_component_leaves_the_others_summed_up(result: BatchResult) -> None:
    whole = explain(result, "PROCNT_G")
    one = explain(result, "PROCNT_G", component="sides", line=18)
    assert [component.name for component in one.components] == ["Sides"]
    (line,) = one.components[0].lines
    assert line.line == 18
    assert one.components[0].other_lines == pytest.approx(one.components[0].total - (line.amount or 0.0))
    assert one.other_components == pytest.approx(whole.total - one.components[0].total)
    assert "other components" in _text(one)


@pytest.mark.parametrize(("asked", "names"), [({"component": "Mincs"}, "Mince"), ({"line": 99}, "9, 10, 11")])
def test_what_is_not_there_is_refused(result: BatchResult, asked: dict[str, object], names: str) -> None:
    with pytest.raises(UsageError) as error:
        explain(result, "FAT_G", **asked)  # type: ignore[arg-type]
    assert names in error.value.hint


@pytest.mark.parametrize(
    ("name", "key"),
    [*EVERYDAY_NAMES.items(), ("VITC_MG", "VITC_MG"), ("vitc", "VITC_MG"), ("Vitamin  C", "VITC_MG"), ("Fat", "FAT_G")],
)
def test_food_components_are_known_by_everyday_names_keys_and_tagnames(name: str, key: str) -> None:
    assert key_of(name) == key


def test_an_unknown_food_component_gets_a_hint() -> None:
    with pytest.raises(UsageError, match="no food component 'protien'") as error:
        key_of("protien")
    assert "'protein'" in error.value.hint


def test_the_machine_shape_says_the_same(result: BatchResult) -> None:
    found = explain(result, "FAT_G")
    shape = explanation_shape(found)
    assert shape["total"] == pytest.approx(found.total, abs=1e-4)
    assert shape["complete"] is True
    components = shape["components"]
    assert isinstance(components, list)
    for component in components:
        parts = sum(line["amount"] or 0.0 for line in component["lines"]) + component["other_lines"]
        assert parts == pytest.approx(component["total"], abs=1e-3)
    mince = components[0]["lines"][0]
    assert mince["food"]["food"] == "sr28:23562"
    assert mince["steps"][0]["what"] == "fat poured off"
    assert mince["per_100g_status"]


def test_text_of_the_recipe_cannot_steer_the_terminal(database: FoodDatabase, tmp_path: Path) -> None:
    recipe = 'title: "A\\e[31mB"\nregion: uk\ncontainers: 1\ncomponents:\n  - name: A\n    ingredients: 100 g carrots\n'
    shown = _text(explain(_run(database, tmp_path, recipe), "FAT_G"))
    assert "\x1b" not in shown
