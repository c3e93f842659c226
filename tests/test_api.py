"""The Python API: what the README shows, and the public names."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

import mealcalc
from mealcalc.fooddb import FoodDatabase
from tests.command import EXAMPLES, ROOT, process_environment, write


def test_the_code_of_the_readme_takes_five_lines() -> None:
    """That it prints what stands below it is tested in test_documents.py."""
    blocks = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)
    assert len(blocks) == 1
    assert len(blocks[0].strip().splitlines()) <= 5


def test_run_gives_the_figures_of_the_command(database: FoodDatabase) -> None:
    result = mealcalc.run(EXAMPLES / "smoky-bean-turkey.batch.yaml", database=database)
    assert result.batch.containers == 6
    assert result.complete
    assert result.incomplete["NA_MG"] == (12,)
    assert [component.component.name for component in result.components] == ["Brown rice", "Beans and turkey"]
    assert result.per_container["PROCNT_G"].amount == pytest.approx(result.totals["PROCNT_G"].amount / 6)


def test_the_region_can_be_given(database: FoodDatabase, tmp_path: Path) -> None:
    path = write(tmp_path, "list.txt", "2 tbsp olive oil\n")
    grams = [
        mealcalc.run(path, region, database=database).contributions[0].ingredient.mass_g for region in ("au", "uk")
    ]
    assert grams[0] is not None
    assert grams[1] is not None
    assert grams[0] / grams[1] == pytest.approx(20 / 15)


def test_a_variant_in_python(database: FoodDatabase) -> None:
    found = mealcalc.read_batch(EXAMPLES / "smoky-bean-turkey.batch.yaml")
    assert found.batch is not None
    lean = mealcalc.calculate(mealcalc.apply_variant(found.batch, "leaner mince"), database)
    plain = mealcalc.calculate(found.batch, database)
    assert lean.totals["FAT_G"].amount < plain.totals["FAT_G"].amount


def test_errors_are_of_one_family_and_carry_a_way_out(tmp_path: Path) -> None:
    empty = write(tmp_path, "empty.txt", "")
    some = write(tmp_path, "list.txt", "100 g rice\n")
    for path, region in ((tmp_path / "gone.txt", None), (empty, None), (some, "atlantis")):
        with pytest.raises(mealcalc.MealcalcError) as caught:
            mealcalc.run(path, region)
        assert caught.value.message
        assert caught.value.hint


def test_a_frame_of_the_result(database: FoodDatabase) -> None:
    pytest.importorskip("pandas")
    result = mealcalc.run(EXAMPLES / "smoky-bean-turkey.batch.yaml", database=database)
    frame = mealcalc.to_frame(result)
    by_component = frame.groupby("component", sort=False)["PROCNT_G"].sum()
    assert list(by_component.index) == ["Brown rice", "Beans and turkey"]
    assert by_component.sum() == pytest.approx(result.totals["PROCNT_G"].amount)


def test_public_names_are_there_and_documented() -> None:
    assert sorted(mealcalc.__all__) == list(mealcalc.__all__)
    assert set(mealcalc.__all__) <= set(dir(mealcalc))
    for name in mealcalc.__all__:
        assert getattr(mealcalc, name).__doc__, name
    with pytest.raises(AttributeError, match="no attribute 'nonsense'"):
        mealcalc.nonsense  # noqa: B018 - that asking fails is what is tested


def test_the_version_waits_for_no_library() -> None:
    code = (
        "import sys\nfrom click.testing import CliRunner\nfrom mealcalc.cli.app import app\n"
        "assert CliRunner().invoke(app, ['--version']).exit_code == 0\n"
        "sys.exit(bool({'sqlalchemy', 'yaml', 'rich'} & set(sys.modules)))\n"
    )
    assert subprocess.run([sys.executable, "-c", code], env=process_environment(), check=False).returncode == 0


@pytest.mark.parametrize("module", ["pandas", "numpy", "pint", "data_loaders"])
def test_an_answer_does_not_import_what_it_does_not_need(module: str) -> None:
    path = EXAMPLES / "smoky-bean-turkey.batch.yaml"
    code = (
        "import sys\nfrom click.testing import CliRunner\nfrom mealcalc.cli.app import app\n"
        f"assert CliRunner().invoke(app, ['macros', {str(path)!r}]).exit_code == 0\n"
        f"sys.exit({module!r} in sys.modules)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], env=process_environment(), capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
