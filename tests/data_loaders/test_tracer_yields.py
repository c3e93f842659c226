"""Yields and changes by tracer: the arithmetic, the pairs, and that the shipped rows are what the scripts give."""

import dataclasses
from collections.abc import Callable
from pathlib import Path

import pytest

from data_loaders import derive_mince_changes, derive_pair_yields
from data_loaders.tracer_yields import (
    PublishedFood,
    cholesterol_retention_percent,
    dry_matter_tracer,
    foods_of_bundle,
    protein_tracer,
    yield_row,
)

Main = Callable[[list[str]], int]

# USDA SR28, g per 100 g: minced beef 80 % lean, raw (23572) and crumbles, pan-browned (23575).
RAW = PublishedFood("23572", "1300", "Beef, ground, 80% lean meat / 20% fat, raw", 61.87, 17.17, 20.0)
BROWNED = PublishedFood("23575", "1300", "Beef, ground, 80% lean meat / 20% fat, crumbles, cooked", 54.54, 27.0, 17.36)


@pytest.fixture(scope="module")
def foods() -> dict[str, PublishedFood]:
    return foods_of_bundle()


def test_protein_stays_and_water_and_fat_account_for_the_loss() -> None:
    changes = protein_tracer(RAW, BROWNED)
    assert changes.yield_percent == pytest.approx(100 * 17.17 / 27.0)
    assert changes.moisture_change_g == pytest.approx(changes.yield_percent / 100 * 54.54 - 61.87)
    assert changes.fat_change_g == pytest.approx(changes.yield_percent / 100 * 17.36 - 20.0)
    assert abs(changes.unexplained_g) < 1.5


def test_dry_matter_stays_and_only_water_changes() -> None:
    # USDA SR28: long-grain white rice raw 11.62, cooked 68.44 g water per 100 g.
    raw = PublishedFood("20044", "2000", "Rice", 11.62, 7.13, 0.66)
    cooked = PublishedFood("20045", "2000", "Rice", 68.44, 2.69, 0.28)
    changes = dry_matter_tracer(raw, cooked)
    assert changes.yield_percent == pytest.approx(280.0, abs=0.05)
    assert changes.moisture_change_g == pytest.approx(changes.yield_percent - 100)


def test_cholesterol_stays_better_than_fat() -> None:
    # USDA SR28: minced beef 80 % lean, raw 71, pan-browned crumbles 89 mg cholesterol per 100 g.
    raw = dataclasses.replace(RAW, cholesterol_mg=71.0)
    browned = dataclasses.replace(BROWNED, cholesterol_mg=89.0)
    changes = protein_tracer(raw, browned)
    kept = cholesterol_retention_percent(raw, browned, changes)
    assert kept is not None
    assert kept == pytest.approx(100 * 17.17 / 27.0 * 89 / 71)
    fat_kept = 100 * (1 + changes.fat_change_g / raw.fat_g)
    assert kept > fat_kept + 20
    assert cholesterol_retention_percent(RAW, browned, changes) is None
    assert cholesterol_retention_percent(raw, BROWNED, changes) is None


def test_unlike_samples_are_named_in_the_row() -> None:
    fatter = PublishedFood("1", "1300", "x", 54.54, 27.0, 36.0)
    row = yield_row(RAW, fatter, protein_tracer(RAW, fatter), {"method": "grilled_broiled", "note": "as is"})
    assert row["note"].startswith("as is; unlike samples")
    assert "fat per 100 g though none is added" in row["note"]
    assert row["derived_from"] == "23572-1"


def test_every_mince_published_raw_and_cooked_is_paired(foods: dict[str, PublishedFood]) -> None:
    pairs = derive_mince_changes.mince_pairs(foods)
    assert len(pairs) == 58
    beef = [
        cooked
        for _, cooked in pairs
        if cooked.description.startswith("Beef, ground, ") and "lean" in cooked.description
    ]
    assert len(beef) == 32  # 8 fat levels, 4 methods
    paired = {cooked.code for _, cooked in pairs}
    alone = {
        food.code
        for food in foods.values()
        if food.group_code in derive_mince_changes.MEAT_GROUPS
        and "ground" in food.description.lower().replace(",", " ").split()
        and "raw" not in food.description
        and food.code not in paired
    }
    # Cooked without a raw record: pork 72 % lean (2), frozen patties, fat not said, and ground squirrel, an animal.
    assert alone == {"10974", "10977", "13317", "23220", "35075"}


@pytest.mark.parametrize("main", [derive_mince_changes.main, derive_pair_yields.main])
def test_the_shipped_rows_are_what_the_script_gives(main: Main, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--check"]) == 0, capsys.readouterr().out


@pytest.mark.parametrize("main", [derive_mince_changes.main, derive_pair_yields.main])
def test_the_published_files_give_the_same_rows(main: Main, reference_data: Path) -> None:
    assert main([str(reference_data / "data" / "sr28"), "--check"]) == 0


def test_a_missing_folder_is_said_and_nothing_is_raised(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert derive_mince_changes.main([str(tmp_path)]) == 1
    assert "hint" in capsys.readouterr().out


def test_pairs_are_listed_once() -> None:
    pairs = derive_pair_yields.ALL_PAIRS
    assert len({(pair.raw, pair.cooked) for pair in pairs}) == len(pairs) == 101


def test_vegetables_are_in_only_where_both_tracers_agree(foods: dict[str, PublishedFood]) -> None:
    for pair in derive_pair_yields.BAKED_OR_FRIED_VEGETABLES:
        raw, cooked = foods[pair.raw], foods[pair.cooked]
        protein, dry_matter = protein_tracer(raw, cooked), dry_matter_tracer(raw, cooked)
        assert protein.yield_percent == pytest.approx(dry_matter.yield_percent, rel=0.03)
