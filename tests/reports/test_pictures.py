"""Pictures: written the same every time, shown by notebooks with words that say what they show."""

from collections.abc import Callable
from pathlib import Path

import pytest

import mealcalc
from mealcalc.errors import UsageError
from mealcalc.fooddb import FoodDatabase
from mealcalc.records import BatchResult
from mealcalc.reports.pictures import Picture
from tests.command import EXAMPLES, write

pytest.importorskip("matplotlib", reason="matplotlib is not installed")

PNG = b"\x89PNG\r\n\x1a\n"
Draw = Callable[[BatchResult, FoodDatabase], Picture]


@pytest.fixture(scope="module")
def smoky(database: FoodDatabase) -> BatchResult:
    return mealcalc.run(EXAMPLES / "smoky-bean-turkey.batch.yaml", database=database)


def energy(result: BatchResult, database: FoodDatabase) -> Picture:  # noqa: ARG001
    return mealcalc.energy_picture(result)


def comparison(result: BatchResult, database: FoodDatabase) -> Picture:
    return mealcalc.comparison_picture(mealcalc.compare(result, database))


def portions(result: BatchResult, database: FoodDatabase) -> Picture:
    eaters = [mealcalc.Eater("runner", 1.5, 2), mealcalc.Eater("desk worker", 1.0, 4)]
    wanted = ["protein at least 35 g", "desk worker: energy at most 500 kcal", "fibre about 12 g"]
    return mealcalc.portions_picture(mealcalc.aim(result, wanted, database, eaters=eaters))


def a_compromise(result: BatchResult, database: FoodDatabase) -> Picture:
    wanted = ["protein at least 50 g", "energy at most 500 kcal"]
    return mealcalc.portions_picture(mealcalc.aim(result, wanted, database))


def amounts(result: BatchResult, database: FoodDatabase) -> Picture:
    return mealcalc.portions_picture(
        mealcalc.aim(result, ["energy at most 600 kcal"], database, change=["turkey mince"])
    )


DRAWN = [
    (energy, ["Beans and turkey 462 kcal", "protein 175"]),
    (comparison, ["leaner mince: energy 654 kcal", "as written", "fat 11.4 g"]),
    (portions, ["runner: Brown rice", "desk worker", "(at most 500 kcal)", "(about 12 g)"]),
    (a_compromise, ["(at least 50 g)", "Brown rice 31 g"]),
    (amounts, ["(at most 600 kcal)"]),
]


@pytest.mark.parametrize(("draw", "said"), DRAWN, ids=lambda value: getattr(value, "__name__", ""))
def test_a_picture_says_what_it_shows(
    smoky: BatchResult, database: FoodDatabase, tmp_path: Path, draw: Draw, said: list[str]
) -> None:
    picture = draw(smoky, database)
    for words in said:
        assert words in picture.words
    png, metadata = picture._repr_png_()
    assert png.startswith(PNG)
    assert metadata == {"alt": picture.words}
    for name in ("a.png", "a.svg", "a.pdf"):
        picture.save(tmp_path / name)
        assert (tmp_path / name).stat().st_size > 1000


def test_the_same_picture_gives_the_same_file(smoky: BatchResult, database: FoodDatabase, tmp_path: Path) -> None:
    for ending in ("png", "pdf"):
        portions(smoky, database).save(tmp_path / f"a.{ending}")
        portions(smoky, database).save(str(tmp_path / f"b.{ending}"))
        assert (tmp_path / f"a.{ending}").read_bytes() == (tmp_path / f"b.{ending}").read_bytes()


def test_a_picture_goes_into_no_other_file(smoky: BatchResult, database: FoodDatabase, tmp_path: Path) -> None:
    picture = energy(smoky, database)
    for path in (tmp_path / "a.gif", tmp_path / "nowhere" / "a.png", tmp_path / "a"):
        with pytest.raises(UsageError) as caught:
            picture.save(path)
        assert caught.value.hint


def test_names_of_any_script_and_markup_are_drawn(database: FoodDatabase, tmp_path: Path) -> None:
    text = 'title: "$x^ 🍲 <b>"\nregion: uk\ncontainers: 2\ncomponents:\n'
    text += '  - name: "米 $a$"\n    ingredients: 300 g brown rice\n  - name: "b & $"\n    ingredients: 200 g carrots\n'
    result = mealcalc.run(write(tmp_path, "odd.batch.yaml", text), database=database)
    for draw in (energy, comparison):
        assert draw(result, database)._repr_png_()[0].startswith(PNG)
    eaters = [mealcalc.Eater("$\\frac{1$ 🍲", 1.0, 2)]
    aimed = mealcalc.aim(result, ["energy at most 300 kcal"], database, eaters=eaters)
    mealcalc.portions_picture(aimed).save(tmp_path / "odd.svg")


def test_a_batch_without_energy_is_drawn(database: FoodDatabase, tmp_path: Path) -> None:
    result = mealcalc.run(write(tmp_path, "list.txt", "500 ml water\n"), "uk", database=database)
    assert energy(result, database)._repr_png_()[0].startswith(PNG)
