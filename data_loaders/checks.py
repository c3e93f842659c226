"""What must hold in a table of foods: checked on what a reader hands over, or on a table that is loaded (`audit`).

A breach is no error of the import: published tables hold figures from different samples, label claims and misprints.
The report lists the foods that break a rule, with the figure, so that a wrong unit or a shifted column shows at once.
The tolerances are our own judgement, set where the tables that we have read keep their rules but for a few foods in a
hundred.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from data_loaders.interface import Reader
from data_loaders.mapping import shipped_mapping, shipped_tables
from data_loaders.vocabulary import component_of
from mealcalc.components import KJ_PER_KCAL
from mealcalc.errors import FoodDatabaseError
from mealcalc.fooddb import FoodDatabase
from mealcalc.records import EnergyFactors, Food
from mealcalc.values import ValueStatus

PROXIMATES_G, PROXIMATES_WITHOUT_CARBOHYDRATE_G = 2.0, 3.0
"""How far the proximates may miss 100 g; more where carbohydrate was set to 0 and four analyses stand alone."""

ENERGY_KJ, ENERGY_SHARE = 12.0, 0.05
"""How far stated energy may lie from energy by factors: the greater of the two."""

KJ_IN_KCAL = (3.9, 4.4)
"""Where kJ and kcal are both stated, each summed by factors of its own: 37 / 9 for fat, 8 / 2 for fibre, 29 / 7."""

PART_SHARE = 0.02
"""How far a part may lie above its whole, beside one unit of the last digit that tables print."""

GENERAL_KJ_PER_G: Mapping[str, float] = {"PROCNT_G": 16.7, "FAT_G": 37.7, "CHOCDF_G": 16.7, "ALC_G": 29.3}
"""4, 9, 4 and 7 kcal per g, for a table whose definition is not known."""

_GENERAL_SHARE = 0.25
_LAST_DIGIT = {"g": 0.02, "mg": 0.5, "µg": 1.0, "IU": 1.0}
# What stands in for a component that the food database does not hold; the others that it lacks count as 0.
_STANDS_IN = {"PROCNT625_G": "PROCNT_G", "CHOAVL_G": "CHOAVLDF_G"}
_MUST_BE_KNOWN = frozenset(("PROCNT_G", "PROCNT625_G", "FAT_G", "CHOAVLDF_G", "CHOAVL_G", "CHOCDF_G"))


@dataclass(frozen=True, slots=True)
class Breach:
    """A food that breaks a check. `excess`: by how much, in `unit`, above 0 for too much."""

    check: str
    code: str
    description: str
    excess: float
    unit: str

    def __str__(self) -> str:
        return f"{self.check}: {self.code} {self.description}: {self.excess:+.4g} {self.unit}"


@dataclass(frozen=True, slots=True)
class CheckReport:
    """foods: how many there are. checked: check -> foods on which it could be made. breaches: in table order."""

    table: str
    foods: int
    checked: Mapping[str, int]
    breaches: tuple[Breach, ...]

    def lines(self, most: int = 10) -> list[str]:
        """The report as text: a line for each check, then the worst `most` breaches of it."""
        rows = [f"{self.table}: {self.foods} foods"]
        for check, count in self.checked.items():
            found = sorted((b for b in self.breaches if b.check == check), key=lambda b: -abs(b.excess))
            rows.append(f"{check}: {count} foods checked, {len(found)} break it")
            rows += [f"  {b.code} {b.description}: {b.excess:+.4g} {b.unit}" for b in found[:most]]
        return rows


@dataclass(frozen=True, slots=True)
class _Subject:
    code: str
    description: str
    amounts: Mapping[str, float]
    factors: EnergyFactors
    below_limit: frozenset[str] = frozenset()


def check_reader(reader: Reader) -> CheckReport:
    """Check the foods of a reader, with the components that only the loaders know; it reads the chunks."""
    table = reader.metadata.table
    return _check(table, _subjects_of_reader(reader), _definition(table))


def audit(database: FoodDatabase, table: str) -> CheckReport:
    """Check a loaded table.

    Raises
    ------
    FoodDatabaseError
        If the database has no such table or cannot be read.
    """
    headers = database.headers(table)
    if not headers:
        loaded = ", ".join(edition.table for edition in database.editions())
        raise FoodDatabaseError(f"there is no table '{table}'", f"loaded tables: {loaded}")
    foods = database.foods([(header.table, header.code) for header in headers]).values()
    return _check(table, map(_subject_of_food, foods), _definition(table))


def _definition(table: str) -> Mapping[str, float]:
    return shipped_mapping(table).energy_kj_per_g if table in shipped_tables() else {}


def _subject_of_food(food: Food) -> _Subject:
    amounts = {key: value.amount for key, value in food.composition.items() if value.amount is not None}
    below = frozenset(key for key, value in food.composition.items() if value.status is ValueStatus.BELOW_LIMIT)
    return _Subject(food.code, food.description, amounts, food.energy_factors, below)


def _subjects_of_reader(reader: Reader) -> Iterator[_Subject]:
    for chunk in reader.chunks():
        further: dict[str, dict[str, float]] = {}
        below: dict[str, set[str]] = {}
        for code, key, amount, status in chunk.further:
            further.setdefault(code, {})[key] = amount
            if status is ValueStatus.BELOW_LIMIT:
                below.setdefault(code, set()).add(key)
        for row in chunk.foods:
            amounts = {key: amount for key, amount, _ in row.values} | further.get(row.code, {})
            factors = EnergyFactors(row.protein_kcal_per_g, row.fat_kcal_per_g, row.carbohydrate_kcal_per_g)
            limits = {key for key, _, status in row.values if status is ValueStatus.BELOW_LIMIT}
            limits |= below.get(row.code, set())
            yield _Subject(row.code, row.description, amounts, factors, frozenset(limits))


def _check(table: str, subjects: Iterable[_Subject], definition: Mapping[str, float]) -> CheckReport:
    checked: Counter[str] = Counter()
    breaches: list[Breach] = []
    codes: Counter[str] = Counter()
    for one in subjects:
        codes[one.code] += 1
        checked["unique codes"] += 1
        if codes[one.code] > 1:
            breaches.append(Breach("unique codes", one.code, one.description, 1, "food"))
        for check, excess, unit in _checks_of(one, definition):
            checked[check] += 1
            if excess:
                breaches.append(Breach(check, one.code, one.description, excess, unit))
    return CheckReport(table, codes.total(), dict(checked), tuple(breaches))


def _checks_of(one: _Subject, definition: Mapping[str, float]) -> Iterator[tuple[str, float, str]]:
    """Name, excess (0 where the check holds) and unit of each check that this food's values allow."""
    amounts = one.amounts
    rest = _rest_of_100_g(amounts)
    if rest is not None:
        yield "proximates near 100 g", rest, "g"
    energy = _energy_gap_kj(one, definition)
    if energy is not None:
        yield energy[0], energy[1], "kJ"
    kj, kcal = amounts.get("ENERC_KJ"), amounts.get("ENERC_KCAL")
    if kj is not None and kcal is not None and min(kj, kcal * KJ_PER_KCAL) >= 100:
        low, high = KJ_IN_KCAL
        yield "kJ against kcal", 0.0 if low <= kj / kcal <= high else kj - kcal * KJ_PER_KCAL, "kJ"
    salt, sodium = amounts.get("NACL_G"), amounts.get("NA_MG")
    if salt is not None and sodium is not None:
        gap = salt - sodium * 2.5 / 1000
        yield "salt against sodium", gap if abs(gap) > max(0.02, 0.05 * salt) else 0.0, "g"
    for key in amounts:
        if key not in one.below_limit:  # half a limit may well lie above a smaller whole
            yield from _part(amounts, key)
    for check, parts, whole in (
        ("sugars and fibre within carbohydrate", ("SUGAR_G", "FIBTG_G"), "CHOCDF_G"),
        ("fatty acids within fat", ("FASAT_G", "FAMS_G", "FAPU_G"), "FAT_G"),
    ):
        if whole in amounts and all(part in amounts for part in parts):
            over = sum(amounts[part] for part in parts) - amounts[whole]
            yield check, over if over > 0.5 + PART_SHARE * amounts[whole] else 0.0, "g"


def _part(amounts: Mapping[str, float], key: str) -> Iterator[tuple[str, float, str]]:
    component = component_of(key)
    whole = None if component is None else component_of(component.part_of)
    # Sugars are weighed, carbohydrate by difference: 1 g between them says nothing (`sugars and fibre` sees the rest).
    if component is None or whole is None or whole.key not in amounts or component.unit != whole.unit:
        return
    over = amounts[key] - amounts[whole.key]
    slack = _LAST_DIGIT[component.unit] + PART_SHARE * amounts[whole.key] + (1.0 if whole.key == "CHOCDF_G" else 0.0)
    yield f"{component.name} within {whole.name}", over if over > slack else 0.0, component.unit


def _rest_of_100_g(amounts: Mapping[str, float]) -> float | None:
    """What the proximates miss of 100 g beyond tolerance, above 0 for too much; None if one of them is not known.

    Without ash only too much can be told.
    """
    carbohydrate = amounts.get("CHOCDF_G")
    three = [amounts.get(key) for key in ("WATER_G", "PROCNT_G", "FAT_G")]
    known = [amount for amount in three if amount is not None]
    if carbohydrate is None or len(known) < len(three):
        return None
    total = sum(known) + carbohydrate + sum(amounts.get(key, 0.0) for key in ("ASH_G", "ALC_G", "OA_G"))
    tolerance = PROXIMATES_G if carbohydrate else PROXIMATES_WITHOUT_CARBOHYDRATE_G
    beyond = total - 100
    return beyond if beyond > tolerance or (beyond < -tolerance and "ASH_G" in amounts) else 0.0


def _energy_gap_kj(one: _Subject, definition: Mapping[str, float]) -> tuple[str, float] | None:
    """Check and stated minus computed energy beyond tolerance; None if a main part of it is not known."""
    factors, share, check = definition, ENERGY_SHARE, "energy by the table's definition"
    specific = (one.factors.protein, one.factors.fat, one.factors.carbohydrate)
    stated_kj = one.amounts.get("ENERC_KJ")
    kcal = one.amounts.get("ENERC_KCAL")
    if stated_kj is None and kcal is not None:
        stated_kj = kcal * KJ_PER_KCAL
    known = [factor for factor in specific if factor is not None]
    if len(known) == len(specific):
        check = "energy by the food's own factors"
        keys = ("PROCNT_G", "FAT_G", "CHOCDF_G")
        factors = {key: factor * KJ_PER_KCAL for key, factor in zip(keys, known, strict=True)}
        factors["ALC_G"] = 6.93 * KJ_PER_KCAL  # USDA Agriculture Handbook 74, table 13 (from memory)
    elif not factors:
        factors, share, check = GENERAL_KJ_PER_G, _GENERAL_SHARE, "energy by general factors"
    computed = 0.0
    for key, factor in factors.items():
        amount = one.amounts.get(key)
        if amount is None:
            amount = one.amounts.get(_STANDS_IN.get(key, ""))
        if amount is None and key in _MUST_BE_KNOWN:
            return None
        computed += factor * (amount or 0.0)
    if stated_kj is None:
        return None
    gap = stated_kj - computed
    allowed = max(ENERGY_KJ * (4 if check.endswith("general factors") else 1), share * max(stated_kj, computed))
    return check, gap if abs(gap) > allowed else 0.0
