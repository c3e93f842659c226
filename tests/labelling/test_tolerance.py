"""Published tolerances beside declared values."""

from decimal import Decimal

import pytest

from mealcalc.labelling.panel import make_panel
from mealcalc.labelling.schemes import SCHEMES
from mealcalc.labelling.tolerance import tolerance_for
from tests.labelling.dishes import per_100g


@pytest.mark.parametrize(
    ("scheme", "key", "declared", "text"),
    [
        ("us", "PROCNT_G", "28", "22.4 g or more per serving"),
        ("us", "FAT_G", "5", "6 g or less per serving"),
        ("eu", "FAT_G", "8.0", "6.5 to 9.5 g per 100 g"),
        ("eu", "CHOAVLDF_G", "25", "20 to 30 g per 100 g"),
        ("uk", "PROCNT_G", "45", "37 to 53 g per 100 g"),
        ("eu", "FASAT_G", "0.5", "0 to 1.3 g per 100 g"),
        ("eu", "NACL_G", "0.80", "0.425 to 1.175 g per 100 g"),
        ("uk", "NACL_G", "2.0", "1.6 to 2.4 g per 100 g"),
        ("us", "SUGAD_G", "10", "12 g or less per serving"),
        ("us", "FATRN_G", "0.5", "0.6 g or less per serving"),
        ("ca", "FAT_G", "10", "12 g or less per serving"),
    ],
    ids=lambda value: str(value),
)
def test_tolerances_memory_or_in_part(scheme: str, key: str, declared: str, text: str) -> None:
    found = tolerance_for(scheme, key, Decimal(declared), "g")
    assert found is not None
    assert found.text == text
    assert not found.cited.verified


def test_australia_and_new_zealand_publish_none() -> None:
    assert tolerance_for("anz", "FAT_G", 5, "g") is None


def test_nothing_declared_has_no_tolerance() -> None:
    assert tolerance_for("us", "FAT_G", 0, "g") is None


@pytest.mark.parametrize("scheme", SCHEMES)
def test_a_panel_shows_the_tolerance_of_what_it_declares(scheme: str) -> None:
    panel = make_panel(per_100g({"FAT_G": 5.2, "FASAT_G": 1.0, "PROCNT_G": 12.0}), scheme)
    found = panel.row("FAT_G").tolerance
    if scheme == "anz":
        assert found is None
    else:
        assert found is not None
        assert found.accepts(5.2)
        assert found.basis == ("100 g" if panel.hundred_name else "serving")


def test_a_minimum_and_what_is_not_determined_have_none() -> None:
    panel = make_panel(per_100g({"FAT_G": 5.2, "PROCNT_G": None}), "us")
    assert panel.row("FATRN_G").tolerance is None
    assert panel.row("PROCNT_G").tolerance is None
