"""Integrity of the tables of spreads and of evaporation: whole, closed, plausible, each row with its ground."""

from collections import Counter

import pytest

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.records import CookedMassSource, MassSource
from mealcalc.reference.cooking_vocabulary import cooking_methods
from mealcalc.reference.evaporation import evaporation, evaporation_for
from mealcalc.reference.tables import rows_of
from mealcalc.reference.uncertainty import composition_spread, spreads

MARKS = {"read", "read (secondary)", "read (derived)", "memory", "judgement"}
STEPS = {"spoon", "about", "net_weight", "retention", "fat_poured_off", "mineral", "vitamin"}
"""Names that are neither a source of a mass nor a food component."""


@pytest.mark.parametrize("file_name", ["uncertainty.csv", "evaporation.csv"])
def test_every_row_has_a_ground_and_a_mark(file_name: str) -> None:
    rows = [cells for _, cells in rows_of(file_name)]
    assert rows
    for row in rows:
        assert row["ground"].strip(), row
        assert row["mark"] in MARKS, row


def test_spreads_are_named_once() -> None:
    names = Counter(cells["input"] for _, cells in rows_of("uncertainty.csv"))
    assert [name for name, count in names.items() if count > 1] == []


def test_every_spread_is_used_and_every_step_has_one() -> None:
    sources = {source.value for source in MassSource}
    pots = {source.value for source in CookedMassSource} - {CookedMassSource.AS_WEIGHED_IN.value}
    assert sources | pots | STEPS <= set(spreads())
    assert set(spreads()) <= sources | pots | STEPS | set(FOOD_COMPONENTS)


def test_spreads_are_plausible() -> None:
    for spread in spreads().values():
        assert 0.005 <= spread.relative_sd <= 0.6, spread.name


def test_steps_stand_in_the_order_of_their_sureness() -> None:
    def sd(name: str) -> float:
        return spreads()[name].relative_sd

    assert (
        sd("scale") <= sd("net_weight") <= sd("volume_liquid") <= sd("pack") <= sd("volume_bulk") <= sd("small_measure")
    )
    assert sd("weighed_pot") < sd("yield") < sd("steam")
    assert sd("used_share_said") < sd("used_share")


def test_every_food_component_has_a_spread() -> None:
    for key in FOOD_COMPONENTS:
        assert composition_spread(key).relative_sd > 0.0


def test_energy_is_surer_than_what_it_is_made_of() -> None:
    own = composition_spread("ENERC_KCAL").relative_sd
    assert own < min(composition_spread(key).relative_sd for key in ("PROCNT_G", "FAT_G", "CHOCDF_G"))


def test_rates_of_evaporation_are_of_known_methods_and_stand_once() -> None:
    rows = evaporation()
    assert {row.method for row in rows} <= set(cooking_methods())
    assert [key for key, count in Counter((r.method, r.covered) for r in rows).items() if count > 1] == []


def test_rates_of_evaporation_are_plausible() -> None:
    for row in evaporation():
        assert 0.0 < row.percent_per_hour <= 40.0, row
        assert 0.0 < row.minutes_if_unsaid <= 180.0, row
        # What a pot loses in the time taken where none is said stays below half of it.
        assert row.percent_per_hour * row.minutes_if_unsaid / 60.0 < 50.0, row


def test_a_lid_keeps_steam_in() -> None:
    rates = {(row.method, row.covered): row.percent_per_hour for row in evaporation()}
    both = [method for method, covered in rates if covered and (method, False) in rates]
    assert both
    for method in both:
        assert rates[(method, True)] < rates[(method, False)], method


def test_the_rate_of_a_method_follows_the_lid_and_its_broader_method() -> None:
    lid_off, lid_on = evaporation_for("simmered", False), evaporation_for("simmered", True)
    assert lid_off is not None
    assert lid_on is not None
    assert lid_off.percent_per_hour > lid_on.percent_per_hour
    assert evaporation_for("simmered", None) == lid_off
    assert evaporation_for("raw", None) is None
