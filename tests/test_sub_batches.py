"""Batches in batches: a batch that another one uses as a food is calculated first, once, and keeps what is unknown."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mealcalc import pipeline
from mealcalc.components import FOOD_COMPONENTS
from mealcalc.fooddb import FoodDatabase
from mealcalc.recipe.reader import read_batch
from mealcalc.records import BatchResult, LineStatus
from mealcalc.values import ValueStatus
from tests.command import mealcalc, write

STOCK = """\
title: Vegetable stock
region: uk
components:
  - name: Stock
    cooking: simmered 1 hour
    cooked_weight: 1500 g
    ingredients: |
      2 l water
      300 g carrots
      200 g onions
      10 g salt
"""
SOUP = """\
title: Lentil soup
region: uk
containers: 2
components:
  - name: Soup
    ingredients: |
      {line}
      200 g red lentils, dry
foods:
  - name: vegetable stock
    batch: {path}
{more}"""


@pytest.fixture(autouse=True)
def _configuration(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MEALCALC_CONFIG", str(tmp_path / "configuration"))


def soup(
    folder: Path,
    line: str = "500 g vegetable stock",
    path: str = "stock.batch.yaml",
    more: str = "",
    name: str = "soup",
) -> Path:
    return write(folder, f"{name}.batch.yaml", SOUP.format(line=line, path=path, more=more))


def codes(result: BatchResult) -> list[str]:
    return [d.code for d in result.diagnostics if d.severity == "error"]


def test_a_share_of_the_pot_brings_that_share_of_everything(tmp_path: Path, database: FoodDatabase) -> None:
    stock = pipeline.run(write(tmp_path, "stock.batch.yaml", STOCK), database=database)
    result = pipeline.run(soup(tmp_path), database=database)
    brought = result.contributions[0]
    for key in FOOD_COMPONENTS:
        whole, part = stock.totals[key], brought.amounts[key]
        assert part is None if not whole.complete else part == pytest.approx(whole.amount * 500 / 1500), key
    assert brought.ingredient.matched.strategy == "own food of the batch"
    assert result.sub_results["vegetable-stock"].totals == stock.totals


@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    salt_g=st.integers(1, 50), oil_g=st.integers(1, 500), share=st.sampled_from([0.1, 0.5, 1.0]), apart=st.booleans()
)
def test_what_is_cooked_before_adds_up_to_the_same(
    tmp_path: Path, database: FoodDatabase, salt_g: int, oil_g: int, share: float, apart: bool
) -> None:
    """A dressing mixed in a file of its own, or written out line by line."""
    lines = [f"{salt_g} g salt", f"{oil_g} g olive oil", "100 g whole milk"]
    mass_g = salt_g + oil_g + 100
    heading = ["Other part:"] if apart else []
    write(tmp_path, "dressing.txt", "\n".join(["region: uk", *lines[:1], *heading, *lines[1:]]))
    mixed = write(
        tmp_path,
        "mixed.batch.yaml",
        f"region: uk\ncontainers: 1\ncomponents: [{{name: a, ingredients: ['{mass_g * share:.12g} g dressing']}}]\n"
        "foods: [{name: dressing, batch: dressing.txt}]\n",
    )
    once = pipeline.run(mixed, database=database)
    written_out = pipeline.run(tmp_path / "dressing.txt", database=database)
    for key in FOOD_COMPONENTS:
        assert once.totals[key].amount == pytest.approx(share * written_out.totals[key].amount, rel=1e-9, abs=1e-12)
        assert once.totals[key].complete == written_out.totals[key].complete


def test_a_stock_of_its_own_is_a_liquid_to_cook_in(tmp_path: Path, database: FoodDatabase) -> None:
    """Rice takes up what its yield says; the stock that it took up is not added again, only its solids."""
    write(tmp_path, "stock.batch.yaml", STOCK)
    text = SOUP.format(line="600 g vegetable stock", path="stock.batch.yaml", more="")
    text = text.replace("200 g red lentils, dry", "200 g brown rice")
    in_stock = text.replace("  - name: Soup\n", "  - name: Soup\n    cooking: boiled, all water absorbed\n")
    result = pipeline.run(write(tmp_path, "stock-rice.batch.yaml", in_stock), database=database)
    in_water = in_stock.replace("600 g vegetable stock", "600 g water")
    plain = pipeline.run(write(tmp_path, "rice.batch.yaml", in_water), database=database)
    water_g = result.contributions[0].amounts["WATER_G"]
    assert water_g is not None
    masses_g = [one.components[0].cooked_mass_g for one in (result, plain)]
    assert masses_g[0] - masses_g[1] == pytest.approx(600 - water_g)


def test_statuses_are_kept(tmp_path: Path, database: FoodDatabase) -> None:
    write(tmp_path, "stock.batch.yaml", "region: uk\ncomponents: [{name: a, ingredients: [10 g olive oil]}]\n")
    (sub,) = pipeline.run(soup(tmp_path), database=database).batch.sub_batches
    assert sub.food is not None
    assert sub.food.composition["ALC_G"].status is ValueStatus.LOGICAL_ZERO
    assert sub.food.composition["FAT_G"].status is ValueStatus.CALCULATED
    assert sub.food.composition["FAT_G"].amount == pytest.approx(100.0)
    assert sub.food.edition == "stock.batch.yaml, a batch of its own"


def test_missing_stays_missing(tmp_path: Path, database: FoodDatabase) -> None:
    write(tmp_path, "stock.batch.yaml", STOCK.replace("10 g salt", "salt to taste"))
    result = pipeline.run(soup(tmp_path), database=database)
    assert result.totals["NA_MG"].unknown_lines == (7,)
    assert result.complete
    write(tmp_path, "stock.batch.yaml", STOCK.replace("10 g salt", "200 g zorgle berries"))
    result = pipeline.run(soup(tmp_path), database=database)
    assert not result.complete
    assert result.totals["PROCNT_G"].unknown_lines == (7,)
    warning = next(d for d in result.diagnostics if d.code == "incomplete-sub-batch")
    assert "energy, fat, carbohydrate, protein are not known" in warning.message
    own = [d for d in result.diagnostics if d.code in ("unmatched-food", "food-not-in-tables")]
    assert [(Path(d.span.file).name, d.span.line) for d in own if d.span] == [("stock.batch.yaml", 11)]


def test_without_a_cooked_weight_nothing_is_known_per_100_g(tmp_path: Path, database: FoodDatabase) -> None:
    text = STOCK.replace("    cooked_weight: 1500 g\n", "").replace("10 g salt", "3 zorgle berries")
    write(tmp_path, "stock.batch.yaml", text)
    result = pipeline.run(soup(tmp_path), database=database)
    assert result.totals["ENERC_KCAL"].unknown_lines == (7,)
    assert any("cooked weight is not known" in d.message for d in result.diagnostics)


def test_by_volume_only_with_a_density(tmp_path: Path, database: FoodDatabase) -> None:
    write(tmp_path, "stock.batch.yaml", STOCK)
    result = pipeline.run(soup(tmp_path, "500 ml vegetable stock"), database=database)
    (error,) = [d for d in result.diagnostics if d.code == "no-weight"]
    assert "density: 1.03 g/ml" in error.hint
    result = pipeline.run(soup(tmp_path, "2 tbsp vegetable stock", more="    density: 1.2 g/ml\n"), database=database)
    assert result.contributions[0].ingredient.mass_g == pytest.approx(2 * 15 * 1.2)


def test_a_missing_file_is_unknown_and_no_stranger(tmp_path: Path, database: FoodDatabase) -> None:
    result = pipeline.run(soup(tmp_path, path="stok.batch.yaml"), database=database)
    assert codes(result) == ["no-sub-batch"]
    error = next(d for d in result.diagnostics if d.code == "no-sub-batch")
    assert error.span is not None
    assert (error.span.line, error.span.column) == (11, 12)
    matched = result.contributions[0].ingredient.matched
    assert matched.status is LineStatus.MATCHED
    assert matched.food is not None
    assert matched.food.table == "own"
    assert result.totals["ENERC_KCAL"].unknown_lines == (7,)
    assert result.sub_results == {}


def test_a_file_without_a_recipe(tmp_path: Path, database: FoodDatabase) -> None:
    write(tmp_path, "stock.batch.yaml", "title: nothing\n")
    result = pipeline.run(soup(tmp_path), database=database)
    assert "no-sub-batch" in codes(result)
    assert any(d.span is not None and d.span.file.endswith("stock.batch.yaml") for d in result.diagnostics)


def test_a_batch_that_contains_itself(tmp_path: Path, database: FoodDatabase) -> None:
    result = pipeline.run(soup(tmp_path, path="soup.batch.yaml"), database=database)
    (error,) = [d for d in result.diagnostics if d.code == "batch-in-itself"]
    assert "soup.batch.yaml -> soup.batch.yaml" in error.message


def test_a_cycle_is_named_as_a_chain(tmp_path: Path, database: FoodDatabase) -> None:
    soup(tmp_path, path="b.batch.yaml", name="a")
    soup(tmp_path, path="./c.batch.yaml", name="b")
    soup(tmp_path, path="b.batch.yaml", name="c")
    result = pipeline.run(tmp_path / "a.batch.yaml", database=database)
    (error,) = [d for d in result.diagnostics if d.code == "batch-in-itself"]
    assert error.message.endswith("contains itself: b.batch.yaml -> c.batch.yaml -> b.batch.yaml")
    assert error.span is not None
    assert Path(error.span.file).name == "c.batch.yaml"
    assert result.totals["ENERC_KCAL"].unknown_lines == (7,)


def test_a_chain_without_end_stops(tmp_path: Path, database: FoodDatabase) -> None:
    for number in range(25):
        soup(tmp_path, path=f"s{number + 1}.batch.yaml", name=f"s{number}")
    result = pipeline.run(tmp_path / "s0.batch.yaml", database=database)
    assert any("more than 20 deep" in d.message for d in result.diagnostics)


def test_each_file_is_calculated_once(tmp_path: Path, database: FoodDatabase, monkeypatch: pytest.MonkeyPatch) -> None:
    write(tmp_path, "stock.batch.yaml", STOCK)
    soup(tmp_path, name="sauce")
    top = soup(
        tmp_path, more="  - {name: tomato sauce, batch: sauce.batch.yaml}\n  - {name: broth, batch: stock.batch.yaml}\n"
    )
    read: list[str] = []

    def reading(path: str | Path, *rest: str | None, default_region: str | None = None) -> object:
        read.append(Path(path).name)
        return read_batch(path, *rest, default_region=default_region)

    monkeypatch.setattr("mealcalc.pipeline.read_batch", reading)
    result = pipeline.run(top, database=database)
    assert sorted(read) == ["sauce.batch.yaml", "soup.batch.yaml", "stock.batch.yaml"]
    assert list(result.sub_results) == ["vegetable-stock", "tomato-sauce", "broth"]
    assert list(result.sub_results["tomato-sauce"].sub_results) == ["vegetable-stock"]
    pipeline.calculate(result.batch, database)  # a changed batch is run again without reading anything
    assert len(read) == 3


def test_region_and_decisions_of_its_own(tmp_path: Path, database: FoodDatabase) -> None:
    """An Australian tablespoon is 20 ml in the stock; a stock that names no region has that of the soup."""
    lines = "components: [{name: a, ingredients: [1 tbsp olive oil, 100 g dulse]}]\n"
    write(tmp_path, "stock.batch.yaml", f"region: au\n{lines}")
    write(
        tmp_path,
        "stock.decisions.yaml",
        'decisions: [{food: dulse, table: sr28, code: "11445"}]\n',  # seaweed, kelp, raw
    )
    sub = pipeline.run(soup(tmp_path), database=database).sub_results["vegetable-stock"]
    assert sub.contributions[0].ingredient.mass_g == pytest.approx(20 * 216 / 236.588, rel=1e-3)
    assert sub.contributions[1].ingredient.matched.strategy == "saved decision"
    write(tmp_path, "stock.batch.yaml", lines)
    sub = pipeline.run(soup(tmp_path), database=database).sub_results["vegetable-stock"]
    assert sub.region == "uk"
    write(tmp_path, "stock.decisions.yaml", "decisions: [{food: dulse}]\n")
    assert "unusable-decisions" in codes(pipeline.run(soup(tmp_path), database=database))


def test_text_that_is_no_file_opens_no_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(tmp_path, "stock.batch.yaml", STOCK)
    monkeypatch.chdir(tmp_path)
    answer = mealcalc("macros", "-", given=SOUP.format(line="1 kg vegetable stock", path="stock.batch.yaml", more=""))
    assert answer.status == 1
    assert "has no folder in which 'stock.batch.yaml' could stand" in answer.err
    assert "carrots" not in answer.out + answer.err


def test_the_commands_know_sub_batches(tmp_path: Path, database: FoodDatabase) -> None:  # noqa: ARG001
    write(tmp_path, "stock.batch.yaml", STOCK)
    path = soup(tmp_path)
    answer = mealcalc("macros", path, "--json", "--strict")
    assert (answer.status, answer.err) == (0, "")
    assert answer.json["sub_batches"] == [
        {
            "name": "vegetable stock",
            "code": "vegetable-stock",
            "file": "stock.batch.yaml",
            "complete": True,
            "cooked_mass_g": 1500.0,
        }
    ]
    first = mealcalc("match", path, "--json").json_lines[0]
    assert (first["food"]["table"], first["food"]["code"]) == ("own", "vegetable-stock")
    assert mealcalc("check", path).status == 0
    assert "vegetable stock" in mealcalc("explain", path, "--of", "sodium").out
