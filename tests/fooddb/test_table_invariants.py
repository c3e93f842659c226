"""What must hold over the whole bundled table, and every food where it does not, by code and class.

tests/data/sr28_exceptions.csv lists the exceptions with the difference found; a food that leaves or enters the list
fails a test. The classes are our reading of the figures; the release gives no reasons:

acetic acid         vinegar: 5 g of acid belong to none of the five proximates
alcohol             known only as the remainder of five rounded figures
another sample      figures of one food that come from different samples or years, or were carried over from a relative
bakery label        one bakery's bread: water and label claims do not fit together by about 10 g
carbonate           baking soda: carbon dioxide is in no proximate
composite           retail composites of beef: energy was averaged over the cuts
fat substitute      olestra is in no proximate
flesh               meat and fish: four separate analyses, carbohydrate set to 0 or to a trace whatever they leave
fruit with sugar    one carbohydrate factor is printed, energy was computed from fruit and sugar apart
label claim         figures of a manufacturer, rounded as the label law has them
lactose             milk: sugars were analysed as anhydrous lactose or in other samples than carbohydrate by difference
misprinted factor   fat factor printed 3.37 where its neighbours have 8.37
mixture             composite foods: energy was summed over ingredients, each with factors of its own

All sums are exact: the figures are decimals as printed.
"""

import csv
from collections import Counter
from decimal import Decimal
from pathlib import Path

import pytest

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.fooddb import FoodDatabase
from mealcalc.fooddb.alcohol import PROXIMATES
from mealcalc.records import Food
from mealcalc.values import ValueStatus, amount_of

EXCEPTIONS = Path(__file__).parent.parent / "data" / "sr28_exceptions.csv"

KCAL_PER_G_ALCOHOL = Decimal("6.93")
"""USDA Agriculture Handbook 74, table 13 (from memory)."""

# How far a part may lie above its whole by printing: fat to 0.01 g and fatty acids to 0.001 g; sugars and carbohydrate
# to 0.01 g, both rounded; micrograms to whole ones.
PRINTED = {"FAT_G": "0.01", "CHOCDF_G": "0.02", "FOL_UG": "1", "VITA_RAE_UG": "1"}


def exact(food: Food, key: str) -> Decimal | None:
    amount = amount_of(food.composition, key)
    return None if amount is None else Decimal(str(amount))


def total(food: Food, *keys: str) -> Decimal | None:
    amounts = [exact(food, key) for key in keys]
    known = [amount for amount in amounts if amount is not None]
    return sum(known, Decimal(0)) if len(known) == len(amounts) else None


def rest_of_100_g(food: Food) -> Decimal | None:
    proximates = total(food, *PROXIMATES)
    alcohol = exact(food, "ALC_G") or Decimal(0)
    return None if proximates is None else 100 - proximates - alcohol


def energy_gap_kcal(food: Food) -> Decimal | None:
    """Stated energy minus the energy by the food's own factors, in kcal per 100 g; None without all three factors."""
    factors = food.energy_factors
    pairs = (("PROCNT_G", factors.protein), ("FAT_G", factors.fat), ("CHOCDF_G", factors.carbohydrate))
    gap = exact(food, "ENERC_KCAL") or Decimal(0)
    for key, factor in pairs:
        if factor is None:
            return None
        gap -= (exact(food, key) or Decimal(0)) * Decimal(str(factor))
    return gap - (exact(food, "ALC_G") or Decimal(0)) * KCAL_PER_G_ALCOHOL


def found(foods: dict[str, Food]) -> dict[tuple[str, str], Decimal]:
    """(check, code) -> difference, for every food where a check fails."""
    failures: dict[tuple[str, str], Decimal] = {}
    for code, food in foods.items():
        rest = rest_of_100_g(food)
        # Carbohydrate above 0 is a difference; where it is 0 it was set to 0, and the rest is what four analyses miss.
        if rest is not None and abs(rest) > (1 if exact(food, "CHOCDF_G") else 3):
            failures["proximates", code] = rest
        gap = energy_gap_kcal(food)
        if gap is not None and abs(gap) > 1:
            failures["energy", code] = gap
        for key, component in FOOD_COMPONENTS.items():
            part, whole = exact(food, key), exact(food, component.part_of)
            if part is not None and whole is not None and part > whole + Decimal(PRINTED[component.part_of]):
                failures[f"part {key}", code] = part - whole
        for check, keys, whole_key, allowed in (
            ("sugars and fibre", ("SUGAR_G", "FIBTG_G"), "CHOCDF_G", "1"),
            ("fatty acids", ("FASAT_G", "FAMS_G", "FAPU_G"), "FAT_G", "0.1"),
        ):
            parts, whole = total(food, *keys), exact(food, whole_key)
            if parts is not None and whole is not None and parts > whole + Decimal(allowed):
                failures[check, code] = parts - whole
    return failures


def listed() -> list[dict[str, str]]:
    with EXCEPTIONS.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def published(food: Food, key: str) -> bool:
    value = food.composition.get(key)
    return value is not None and value.status is ValueStatus.PUBLISHED


# --- rows and codes ---------------------------------------------------------------------------------------------------


def test_rows_and_codes(database: FoodDatabase, all_foods: dict[str, Food]) -> None:
    headers = database.headers("sr28")
    assert len(headers) == len(all_foods) == 8789
    assert len({header.code for header in headers}) == 8789
    assert all(len(header.code) == 5 and header.code.isdigit() for header in headers)
    assert len({header.description for header in headers}) == 8789
    groups = database.groups("sr28")
    assert len(groups) == 25
    assert {header.group for header in headers} == set(groups)


def test_measures(all_foods: dict[str, Food]) -> None:
    measures = [measure for food in all_foods.values() for measure in food.measures]
    assert len(measures) == 15438
    assert all(m.mass_g > 0 and m.amount > 0 and m.description for m in measures)
    assert sum(not food.measures for food in all_foods.values()) == 297


# Blanks per column, counted in ABBREV.txt of the release.
@pytest.mark.parametrize(
    ("key", "blanks"),
    [
        ("SUGAR_G", 1832),
        ("FIBTG_G", 594),
        ("ENERC_KCAL", 0),
        ("PROCNT_G", 0),
        ("FAT_G", 0),
        ("CHOCDF_G", 0),
        ("WATER_G", 1),
        ("ASH_G", 325),
        ("NA_MG", 83),
        ("CHOLE_MG", 410),
        ("FASAT_G", 349),
        ("CHOLN_MG", 4016),
    ],
)
def test_blanks_are_missing(all_foods: dict[str, Food], key: str, blanks: int) -> None:
    assert sum(not published(food, key) for food in all_foods.values()) == blanks


def test_refuse(all_foods: dict[str, Food]) -> None:
    refuse = [food.refuse_percent for food in all_foods.values()]
    assert sum(percent is None for percent in refuse) == 50
    assert all(0 <= percent < 100 for percent in refuse if percent is not None)


def test_factors_are_plausible_but_for_misprints(all_foods: dict[str, Food]) -> None:
    """Bands around Agriculture Handbook 74, table 13 (from memory); cocoa and bran have low protein factors rightly."""
    odd: dict[str, str] = {}
    for code, food in all_foods.items():
        protein, fat, carbohydrate = (
            food.energy_factors.protein,
            food.energy_factors.fat,
            food.energy_factors.carbohydrate,
        )
        if food.nitrogen_factor is not None and not 5.18 <= food.nitrogen_factor <= 6.4:
            odd[code] = f"nitrogen {food.nitrogen_factor}"
        if fat and not 7.63 <= fat <= 9.04:
            odd[code] = f"fat {fat}"
        if protein is not None and carbohydrate is not None and carbohydrate > 4.2:
            odd[code] = f"protein {protein}, carbohydrate {carbohydrate}"
        assert protein is None or 0 <= protein <= 4.36
    swapped = "protein 3.87, carbohydrate 4.27"
    assert odd == {
        "03963": "nitrogen 1.36",
        "04612": swapped,
        "04613": swapped,
        "04614": swapped,
        "04620": swapped,
        "04693": "nitrogen 6.93",
        "04694": "nitrogen 6.93",
        "05333": swapped,  # its stated energy follows the misprint and is 9 kcal low
        "07018": "fat 4.0",  # its stated energy follows the misprint and is 88 kcal low
        "08113": "fat 0.84",
        "11948": "fat 3.37",
        "11958": "fat 3.37",
        "14116": "fat 3.87",
    }


def test_a_nitrogen_factor_of_zero_is_none(all_foods: dict[str, Food]) -> None:
    assert all(food.nitrogen_factor is None or food.nitrogen_factor > 0 for food in all_foods.values())
    milk = all_foods["01174"]  # FOOD_DES.txt prints 0.00 for this milk, with 3.3 g of protein
    assert (milk.nitrogen_factor, amount_of(milk.composition, "PROCNT_G")) == (None, 3.3)


# --- sums -------------------------------------------------------------------------------------------------------------


def test_exceptions_are_those_on_the_list(all_foods: dict[str, Food]) -> None:
    failures = found(all_foods)
    rows = {(row["check"], row["code"]): Decimal(row["difference"]) for row in listed()}
    assert rows == failures


def test_exceptions_are_classed() -> None:
    classes = Counter(row["class"] for row in listed())
    explained = [line.split("  ")[0] for line in (__doc__ or "").splitlines() if "  " in line.strip()]
    assert set(classes) == set(explained)


def test_carbohydrate_by_difference(all_foods: dict[str, Food]) -> None:
    """Holds to 0.06 g for 5,185 of the 5,976 foods outside beverages that have carbohydrate.

    Without the alcohol of the two vanilla extracts it is 5,183; binary fractions, whose rounding throws out 18 foods at
    exactly 0.06 g, would make it 5,165.
    """
    rests = [
        rest
        for food in all_foods.values()
        if food.group != "1400" and exact(food, "CHOCDF_G") and (rest := rest_of_100_g(food)) is not None
    ]
    assert (len(rests), sum(abs(rest) <= Decimal("0.06") for rest in rests)) == (5976, 5185)


def test_energy_by_the_foods_own_factors(all_foods: dict[str, Food]) -> None:
    """Within 1 kcal per 100 g for 4,283 of 4,411 foods outside beverages, and for 4,430 of all 4,565 with such factors.

    Without alcohol it is 4,281, the two vanilla extracts failing.
    """
    gaps = {code: gap for code, food in all_foods.items() if (gap := energy_gap_kcal(food)) is not None}
    solid = [gap for code, gap in gaps.items() if all_foods[code].group != "1400"]
    assert (len(solid), sum(abs(gap) <= 1 for gap in solid)) == (4411, 4283)
    assert (len(gaps), sum(abs(gap) <= 1 for gap in gaps.values())) == (4565, 4430)
    # Beyond 6 kcal: a goat cheese, two instant cereals and a meat substitute.
    assert sorted(code for code, gap in gaps.items() if abs(gap) > 6) == ["01157", "08092", "08122", "22120"]


def test_flesh_is_not_carbohydrate_by_difference(all_foods: dict[str, Food]) -> None:
    """Where carbohydrate is printed 0 the other four leave -6.5 to 8.5 g: it must not be recomputed."""
    rests = [
        rest
        for food in all_foods.values()
        if food.code != "18372" and exact(food, "CHOCDF_G") == 0 and (rest := rest_of_100_g(food)) is not None
    ]
    assert (min(rests), max(rests)) == (Decimal("-6.46"), Decimal("8.50"))
    assert sum(abs(rest) > Decimal("0.25") for rest in rests) == 1528


def test_available_carbohydrate_is_never_negative(all_foods: dict[str, Food]) -> None:
    for food in all_foods.values():
        carbohydrate, fibre = amount_of(food.composition, "CHOCDF_G"), amount_of(food.composition, "FIBTG_G")
        available = amount_of(food.composition, "CHOAVLDF_G")
        assert (available is None) == (fibre is None)
        if carbohydrate is not None and fibre is not None:
            assert available == pytest.approx(carbohydrate - fibre, abs=1e-9)
            assert available is not None
            assert available >= 0
