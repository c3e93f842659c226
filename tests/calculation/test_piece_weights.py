"""Look-ups of the weights tables, on tables of a few rows."""

import pytest

from mealcalc.calculation import piece_weights
from mealcalc.calculation.piece_weights import bulk_density, drained_share, edible_share, piece_mass
from mealcalc.diagnostics import Span
from mealcalc.records import Food, HouseholdMeasure, RecipeLine
from mealcalc.reference.tables import BulkDensity, DrainedShare, EdibleShare, PieceWeight


def piece_row(unit: str, size: str, regions: str, mass_g: float) -> PieceWeight:
    return PieceWeight("zedoary", unit, size, frozenset(regions.split()), mass_g, "a source", "read")


PIECES = {
    "zedoary": (
        piece_row("piece", "small", "uk", 60),
        piece_row("piece", "", "uk", 90),
        piece_row("piece", "large", "", 150),
        piece_row("piece", "", "", 100),
        piece_row("head", "", "us", 700),
        piece_row("can", "", "au uk", 400),
        piece_row("sprig", "", "", 2),
    ),
    "tall zedoary": (piece_row("piece", "large", "uk", 300), piece_row("piece", "medium", "", 200)),
}
DENSITIES = {
    "zedoary": (
        BulkDensity("zedoary", "chopped", 0.5, "chopped source", "read"),
        BulkDensity("zedoary", "", 0.6, "plain source", "read"),
    ),
    "flaked zedoary": (BulkDensity("flaked zedoary", "flaked", 0.1, "flaked source", "memory"),),
}
DRAINED = {
    "zedoary": (
        DrainedShare("zedoary", frozenset(["us"]), 0.7, "a us source", "read"),
        DrainedShare("zedoary", frozenset(), 0.6, "a source", "read"),
    ),
    "salted zedoary": (DrainedShare("salted zedoary", frozenset(["us"]), 0.5, "a us source", "read"),),
}
EDIBLE = {
    "zedoary": (
        EdibleShare("zedoary", "unpeeled", False, 0.8, "a source", "read"),
        EdibleShare("zedoary", "whole", False, 0.7, "a source", "read"),
    ),
    "zedoary ribs": (EdibleShare("zedoary ribs", "bone in", True, 0.6, "a source", "read"),),
}
SLICE, CUP = HouseholdMeasure(1, "slice", 7), HouseholdMeasure(1, "cup", 118.294)
ZEDOARY = Food(
    "sr28", "test", "1", "Zedoary, raw", "1100", {}, (SLICE, CUP), refuse_percent=25.0, refuse_description="Skin"
)


@pytest.fixture(autouse=True)
def small_tables(monkeypatch: pytest.MonkeyPatch) -> None:
    for name, rows in (("pieces", PIECES), ("densities", DENSITIES), ("drained", DRAINED), ("edible", EDIBLE)):
        monkeypatch.setattr(piece_weights, f"_{name}_by_food", lambda rows=rows: rows)


def mass_g(unit: str, region: str, size: str = "", default_food: str = "zedoary") -> float | None:
    line = RecipeLine("zedoary", Span("recipe", 1), name="zedoary", size=size)
    found = piece_mass(unit, line, ZEDOARY, default_food, region)
    return None if found is None else found.value


@pytest.mark.parametrize(
    ("unit", "region", "size", "expected_g"),
    [
        ("piece", "uk", "", 90.0),  # the region's own row
        ("piece", "au", "", 100.0),  # the row without a region
        ("piece", "uk", "small", 60.0),
        ("piece", "uk", "large", 150.0),  # the wanted size, though of no region
        ("piece", "uk", "extra large", 90.0),  # no such size: the middling one of the region
        ("slice", "uk", "", 7.0),  # the food's own measure
        ("can", "uk", "", 400.0),
        ("jar", "uk", "", 400.0),  # a pack of another kind
        ("head", "us", "", 700.0),
        ("stalk", "uk", "", 2.0),
        ("clove", "uk", "", None),
    ],
)
def test_grams_of_a_piece(unit: str, region: str, size: str, expected_g: float | None) -> None:
    assert mass_g(unit, region, size) == expected_g


def test_a_piece_without_a_size_is_a_middling_one_even_if_another_size_is_of_the_region() -> None:
    assert mass_g("piece", "uk", default_food="tall zedoary") == 200.0
    assert mass_g("piece", "uk", "large", default_food="tall zedoary") == 300.0


def test_a_size_from_abroad_is_said() -> None:
    found = piece_mass("can", RecipeLine("", Span("recipe", 1)), ZEDOARY, "zedoary", "us")
    assert found is not None
    assert found.ground == "400 g each (a source, size as in au/uk)"


def test_without_a_default_food_the_own_measures_serve() -> None:
    assert mass_g("slice", "uk", default_food="") == 7.0
    assert mass_g("piece", "uk", default_food="") == 7.0
    assert mass_g("can", "uk", default_food="") is None


@pytest.mark.parametrize(
    ("default_food", "words", "g_per_ml", "ground"),
    [
        ("zedoary", "chopped", 0.5, "chopped, chopped source"),
        ("zedoary", "", 0.6, "plain source"),
        ("flaked zedoary", "", 0.5, "sr28:1 1 US cup = 118.294 g"),  # own measure before another form
        ("flaked zedoary", "flaked", 0.1, "flaked, flaked source"),
        ("", "", 0.5, "sr28:1 1 US cup = 118.294 g"),
    ],
)
def test_bulk_density(default_food: str, words: str, g_per_ml: float, ground: str) -> None:
    found = bulk_density(ZEDOARY, default_food, frozenset(words.split()))
    assert found is not None
    assert found.value == pytest.approx(g_per_ml, rel=1e-4)
    assert found.ground == ground


def test_a_form_that_nobody_said_is_better_than_nothing() -> None:
    bare = Food("sr28", "test", "2", "Zedoary, flaked", "1100", {})
    found = bulk_density(bare, "flaked zedoary", frozenset())
    assert found is not None
    assert found.value == 0.1
    assert bulk_density(bare, "", frozenset()) is None


@pytest.mark.parametrize(
    ("default_food", "region", "share"),
    [("zedoary", "us", 0.7), ("zedoary", "uk", 0.6), ("salted zedoary", "uk", 0.5), ("fresh zedoary", "uk", None)],
)
def test_drained_share(default_food: str, region: str, share: float | None) -> None:
    found = drained_share(default_food, region)
    assert (None if found is None else found.value) == share


@pytest.mark.parametrize(
    ("default_food", "conditions", "as_bought", "share"),
    [
        ("zedoary", ["unpeeled"], False, 0.8),
        ("zedoary", ["unpeeled", "whole"], False, 0.7),  # of two conditions the one that leaves less
        ("zedoary", [], False, None),
        ("zedoary", [], True, 0.8),
        ("zedoary ribs", [], False, 0.6),  # the bare name carries bone
        ("", ["bone in"], False, 0.75),  # the refuse that the food table prints
        ("", ["in shell"], False, 0.75),
        ("", [], True, 0.75),
        ("", ["whole"], False, None),  # whole almonds have no refuse
        ("", [], False, None),
    ],
)
def test_edible_share(default_food: str, conditions: list[str], as_bought: bool, share: float | None) -> None:
    found = edible_share(ZEDOARY, default_food, conditions, as_bought)
    assert (None if found is None else found.value) == share


def test_a_food_without_refuse_keeps_its_weight() -> None:
    assert edible_share(Food("sr28", "test", "2", "Zedoary meat", "1100", {}), "", [], True) is None
