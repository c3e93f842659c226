"""Kitchen units: published values by region, spelling, and what pint may and may not decide."""

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.errors import UsageError
from mealcalc.units import (
    COUNT_UNITS,
    MASS_G,
    METRIC,
    REGIONS,
    VOLUME_ML,
    canonical_unit,
    check_region,
    is_other_unit,
    measure,
)

CUBIC_INCH_ML = 2.54**3

PUBLISHED_ML = [
    # US customary volumes, derived from the gallon of 231 cubic inches (UCUM, ticket 120).
    ("us", "tsp", "4.92892159375"),
    ("us", "tbsp", "14.78676478125"),
    ("us", "fl_oz", "29.5735295625"),
    ("us", "cup", "236.5882365"),
    ("us", "pint", "473.176473"),
    ("us", "quart", "946.352946"),
    ("us", "gallon", "3785.411784"),
    # NSW Health, Healthy Kids conversion chart: measures approved by the Standards Association of Australia.
    ("au", "tsp", "5"),
    ("au", "tbsp", "20"),
    ("au", "cup", "250"),
    # Canadian Nutrient File, MEASURE NAME table: 5 ml, 15 ml and 250 ml.
    ("ca", "tsp", "5"),
    ("ca", "tbsp", "15"),
    ("ca", "cup", "250"),
    # New Zealand and the UK: 15 ml, unlike Australia (conversion page of an Australian recipe publisher, secondary).
    ("nz", "tbsp", "15"),
    ("uk", "tbsp", "15"),
    # Imperial: 1/160 of the gallon of 4.54609 l (UK Units of Measurement Regulations 1995; from memory).
    ("uk", "fl_oz", "28.4130625"),
    ("uk", "pint", "568.26125"),
    ("uk", "quart", "1136.5225"),
    ("ie", "pint", "568.26125"),
]


@pytest.mark.parametrize(("region", "unit", "printed"), PUBLISHED_ML)
def test_published_volumes_to_the_digits_printed(region: str, unit: str, printed: str) -> None:
    digits = len(printed.partition(".")[2])
    ml = measure(unit, region).ml
    assert ml is not None
    assert f"{ml:.{digits}f}" == printed


def test_the_us_gallon_is_231_cubic_inches() -> None:
    # NIST Handbook 44, appendix C.
    assert measure("gallon", "us").ml == pytest.approx(231 * CUBIC_INCH_ML, rel=1e-12)


PUBLISHED_G = [
    ("oz", "28.349523125"),  # UCUM ticket 120 prints 28.3495; exact by the yard and pound agreement of 1959
    ("lb", "453.59237"),  # the same agreement
    ("stick", "113.4"),  # 4 oz; USDA SR28 gives 14.2 g for each of its 8 tablespoons, 113.6 g
]


@pytest.mark.parametrize(("unit", "printed"), PUBLISHED_G)
def test_published_masses_to_the_digits_printed(unit: str, printed: str) -> None:
    digits = len(printed.partition(".")[2])
    assert f"{MASS_G[unit]:.{digits}f}" == printed


@pytest.mark.parametrize("region", ["us", "ca", METRIC, "uk", "ie", "nz", "in", "eu", "au"])
def test_gallons_quarts_and_pints_are_parts_of_each_other(region: str) -> None:
    volumes = VOLUME_ML[region]
    ounces_in_a_pint = 16 if region in ("us", "ca", METRIC) else 20
    assert volumes["gallon"] == pytest.approx(4 * volumes["quart"], rel=1e-12)
    assert volumes["quart"] == pytest.approx(2 * volumes["pint"], rel=1e-12)
    assert volumes["pint"] == pytest.approx(ounces_in_a_pint * volumes["fl_oz"], rel=1e-12)


def test_us_spoons_and_cups_are_parts_of_each_other() -> None:
    us = VOLUME_ML["us"]
    assert us["tbsp"] == pytest.approx(3 * us["tsp"], rel=1e-12)
    assert us["cup"] == pytest.approx(16 * us["tbsp"], rel=1e-12)


def test_every_region_knows_the_same_volumes() -> None:
    assert set(VOLUME_ML) == {*REGIONS, METRIC}
    assert len({frozenset(volumes) for volumes in VOLUME_ML.values()}) == 1


SPELLINGS = [
    ("T", "tbsp"),
    ("t", "tsp"),
    ("Tb", "tbsp"),
    ("TBSP", "tbsp"),
    ("Tablespoons", "tbsp"),
    ("TEASPOONS", "tsp"),
    ("c", "cup"),
    ("C", "cup"),
    ("G", "g"),
    ("gms", "g"),
    ("KG", "kg"),
    ("mL", "ml"),
    ("ML", "ml"),
    ("Ml", "ml"),
    ("Lb", "lb"),
    ("lbs", "lb"),
    ("#", "lb"),
    ("fl oz", "fl_oz"),
    ("fluid ounces", "fl_oz"),
    ("katori", "cup"),
    ("litre", "l"),
    ("liters", "l"),
    ("egg", None),
    ("", None),
    ("m", None),
]


@pytest.mark.parametrize(("word", "unit"), SPELLINGS)
def test_spellings(word: str, unit: str | None) -> None:
    assert canonical_unit(word) == unit


@given(st.sampled_from(sorted({*MASS_G, *VOLUME_ML["us"]} - {"fl_oz"})))
def test_a_canonical_unit_is_a_spelling_of_itself(unit: str) -> None:
    assert canonical_unit(unit) == unit


@given(st.text(max_size=20))
def test_a_spelling_leads_to_a_unit_that_can_be_measured(word: str) -> None:
    unit = canonical_unit(word)
    assert unit is None or unit in MASS_G or unit in VOLUME_ML[METRIC]


@given(st.sampled_from(sorted(MASS_G)), st.sampled_from(REGIONS), st.sampled_from(REGIONS))
def test_masses_are_the_same_everywhere(unit: str, here: str, there: str) -> None:
    assert measure(unit, here) == measure(unit, there)


def test_pint_knows_what_the_table_does_not_hold() -> None:
    # 14 lb of 453.59237 g; a US gill is half a cup of 236.588 ml (NIST SP 430).
    assert measure("stone", "uk").g == pytest.approx(14 * 453.59237, rel=1e-9)
    assert measure("gill", "us").ml == pytest.approx(118.29411825, rel=1e-9)
    assert is_other_unit("bushel")


@pytest.mark.parametrize(
    "word", ["pinch", "m", "T", "t", "c", "C", "K", "Pa", "min", "inch", "blorps", "cup of", "1+1", ""]
)
def test_symbols_of_physics_and_other_words_never_become_kitchen_units(word: str) -> None:
    # pint would read T as tesla, c as the speed of light and pinch as a pico-inch.
    assert not is_other_unit(word)
    with pytest.raises(ValueError, match="neither a mass nor a volume"):
        measure(word, "us")


def test_counts_are_neither_masses_nor_volumes() -> None:
    assert not COUNT_UNITS & {*MASS_G, *VOLUME_ML["us"]}


def test_the_kitchen_table_answers_without_pint() -> None:
    code = (
        "import sys\n"
        "from mealcalc.units import measure\n"
        "measure('cup', 'us'), measure('lb', 'uk')\n"
        "assert 'pint' not in sys.modules\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


def test_an_unknown_region_names_the_known_ones() -> None:
    with pytest.raises(UsageError, match="unknown region 'xx'") as raised:
        check_region("xx")
    assert raised.value.hint == "use one of: au, nz, uk, ie, us, ca, in, eu"


def test_the_ground_of_a_measure_is_told() -> None:
    assert measure("cup", "us").ground == "1 cup (us) = 236.588 ml"
    assert measure("oz", "us").ground == "1 oz = 28.3495 g"
