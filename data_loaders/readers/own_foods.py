"""Reader of the cook's own foods: a plain CSV with one row per pack label.

`template()` gives the header and two invented foods. Figures hold for what `per` says: 100 g, 100 ml (with a density)
or serving (with its weight). Energy may be in kJ, kcal or both; salt or sodium. An empty cell is missing, never 0.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from pathlib import Path

from data_loaders.interface import FOODS_IN_CHUNK, Chunk, TableMetadata, source_file
from data_loaders.normalise import CellError, Marks, read_cell, with_conversions
from data_loaders.readers.sheet_rows import Sheet, SheetRow, read_sheet
from mealcalc.components import FOOD_COMPONENTS, KJ_PER_KCAL
from mealcalc.diagnostics import Diagnostic, Severity, Span
from mealcalc.errors import InputFileError
from mealcalc.fooddb.writer import FoodRow, MeasureRow
from mealcalc.values import Value, ValueStatus

TABLE = "my-foods"

FIGURES: Mapping[str, str] = {
    "energy_kj": "ENERC_KJ",
    "energy_kcal": "ENERC_KCAL",
    "protein_g": "PROCNT_G",
    "fat_g": "FAT_G",
    "saturates_g": "FASAT_G",
    "carbohydrate_without_fibre_g": "CHOAVLDF_G",
    "carbohydrate_with_fibre_g": "CHOCDF_G",
    "sugars_g": "SUGAR_G",
    "fibre_g": "FIBTG_G",
    "salt_g": "NACL_G",
    "sodium_mg": "NA_MG",
    "alcohol_g": "ALC_G",
}
"""Column -> component. Labels of the EU, the UK, Australia and New Zealand state carbohydrate without fibre, those of
the US and Canada with it (21 CFR 101.9(c)(6); Canada from memory)."""

COLUMNS = ("code", "name", "per", "serving_g", "density_g_per_ml", *FIGURES)
NEEDED = ("name", "per")

ENERGY_SHARE, ENERGY_KJ = 0.25, 80.0
"""How far stated energy may lie from 17, 37, 17, 8 and 29 kJ per g before it is doubted: labels round, and some foods
hold polyols or acids; a figure in the wrong column is off by four times (our judgement)."""

SAME_SHARE = 0.05
"""Two statements of one figure that differ by less say the same, rounded (our judgement)."""

_KJ_PER_G = {"PROCNT_G": 17.0, "FAT_G": 37.0, "CHOAVLDF_G": 17.0, "FIBTG_G": 8.0, "ALC_G": 29.0}
_MARKS = Marks(missing=("-", "?"), trace=("trace", "traces", "tr"))
_DECIMAL_COMMA = Marks(missing=("-", "?"), trace=("trace", "traces", "tr"), decimal=",")
_EXAMPLES = (
    (
        "",
        "pea protein powder",
        "100 g",
        "30",
        "",
        "1640",
        "392",
        "80",
        "6",
        "1.4",
        "3.1",
        "",
        "0.5",
        "4",
        "2.1",
        "",
        "",
    ),
    ("", "oat drink", "100 ml", "", "1.03", "195", "", "1", "1.5", "0.2", "6.6", "", "3.3", "0.8", "", "40", ""),
)


def template() -> str:
    """A CSV to fill in: the header and two invented foods."""
    return "".join(",".join(row) + "\n" for row in (COLUMNS, *_EXAMPLES))


class OwnFoodsReader:
    """Reads the CSV; columns may stand in any order, those not used may be left away.

    Parameters
    ----------
    path : Path
        Text with commas, or with semicolons and then with decimal commas if it holds any; a workbook too.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._diagnostics: list[Diagnostic] = []

    @cached_property
    def metadata(self) -> TableMetadata:
        """The file's name is the edition."""
        file = source_file(self._path)
        return TableMetadata(TABLE, self._path.name, "own foods, from pack labels", "", "", "", (file,))

    @property
    def diagnostics(self) -> Sequence[Diagnostic]:
        """Rows left out, and figures that contradict each other."""
        return self._diagnostics

    def groups(self) -> Iterable[tuple[str, str]]:
        """None: own foods have no groups."""
        return ()

    def chunks(self) -> Iterator[Chunk]:
        """The foods in the order of the file."""
        for start in range(0, len(self._foods), FOODS_IN_CHUNK):
            yield Chunk(self._foods[start : start + FOODS_IN_CHUNK])

    @cached_property
    def _foods(self) -> list[FoodRow]:
        sheet = read_sheet(self._path)
        if not sheet.rows:
            raise InputFileError(f"{sheet.name} has no rows", "start from the template")
        at = self._header(sheet, sheet.rows[0])
        foods: dict[str, FoodRow] = {}
        for row in sheet.rows[1:]:
            if not any(str(cell).strip() for cell in row.cells):
                continue
            try:
                food = self._food(sheet, row, at)
            except CellError as error:
                self._report(sheet, row, Severity.ERROR, "bad-row", f"{error}; the food is left out")
                continue
            if food.code in foods:
                self._report(
                    sheet, row, Severity.ERROR, "duplicate-code", f"'{food.code}' stands on an earlier row too"
                )
                continue
            foods[food.code] = food
        return list(foods.values())

    def _header(self, sheet: Sheet, row: SheetRow) -> dict[str, int]:
        names = [str(cell).strip().lower() for cell in row.cells]
        unknown = [name for name in names if name and name not in COLUMNS]
        lacking = [name for name in NEEDED if name not in names]
        twice = sorted({name for name in names if name and names.count(name) > 1})
        for what, found in (("unknown", unknown), ("missing", lacking), ("repeated", twice)):
            if found:
                hint = f"columns: {', '.join(COLUMNS)}"
                raise InputFileError(f"{sheet.name}:{row.number}: {what} column {', '.join(found)}", hint)
        return {name: i for i, name in enumerate(names) if name}

    def _food(self, sheet: Sheet, row: SheetRow, at: Mapping[str, int]) -> FoodRow:
        if len(row.cells) > max(at.values()) + 1 and any(cell != "" for cell in row.cells[max(at.values()) + 1 :]):
            raise CellError(f"{len(row.cells)} cells under {len(at)} columns")
        cells = {name: row.cells[i] for name, i in at.items() if i < len(row.cells)}
        name = str(cells.get("name", "")).strip()
        if not name:
            raise CellError("there is no name")
        serving_g = self._number(cells, "serving_g")
        density = self._number(cells, "density_g_per_ml")
        basis_g = self._basis_g(sheet, row, str(cells.get("per", "")), serving_g, density)
        values: dict[str, Value] = {}
        for column, key in FIGURES.items():
            value = self._value(cells, column)
            if value.amount is not None:
                values[key] = Value(value.amount * 100 / basis_g, value.status)
        values = with_conversions(_agreeing(values))
        _check(values)
        self._doubt_energy(sheet, row, name, values)
        measures = [MeasureRow(1, "serving", serving_g)] if serving_g else []
        measures += [MeasureRow(100, "ml", 100 * density)] if density else []
        stored = [(k, v.amount, v.status) for k in FOOD_COMPONENTS if (v := values.get(k)) and v.amount is not None]
        return FoodRow(str(cells.get("code", "")).strip() or _slug(name), "", name, stored, measures)

    def _basis_g(self, sheet: Sheet, row: SheetRow, per: str, serving_g: float | None, density: float | None) -> float:
        match = re.fullmatch(r"(?:per\s+)?(100\s*g|100\s*ml|serving)", per.strip().lower())
        if match is None:
            raise CellError(f"per '{per.strip()[:30]}' is none of '100 g', '100 ml', 'serving'")
        if match[1] == "serving":
            if not serving_g:
                raise CellError("figures per serving need serving_g")
            return serving_g
        if match[1].endswith("ml"):
            if not density:
                message = "no density_g_per_ml is given: 100 ml are taken to weigh 100 g, as water would"
                self._report(sheet, row, Severity.WARNING, "density-assumed", message)
            return 100 * (density or 1.0)
        return 100.0

    def _value(self, cells: Mapping[str, str | float], column: str) -> Value:
        cell = cells.get(column, "")
        comma = isinstance(cell, str) and "," in cell and "." not in cell
        try:
            return read_cell(cell, _DECIMAL_COMMA if comma else _MARKS)
        except CellError as error:
            raise CellError(f"{column}: {error}") from error

    def _number(self, cells: Mapping[str, str | float], column: str) -> float | None:
        value = self._value(cells, column)
        if value.amount is not None and (value.amount <= 0 or value.status is not ValueStatus.PUBLISHED):
            raise CellError(f"{column} must be a number above 0")
        if column.startswith("density") and value.amount is not None and not 0.1 <= value.amount <= 3:
            raise CellError(f"{column} of {value.amount:g} is no density of a food")
        return value.amount

    def _doubt_energy(self, sheet: Sheet, row: SheetRow, name: str, values: Mapping[str, Value]) -> None:
        energy = values.get("ENERC_KCAL")
        needed = [values.get(key) for key in ("PROCNT_G", "FAT_G", "CHOAVLDF_G")]
        if energy is None or energy.amount is None or None in needed:
            return
        stated = energy.amount * KJ_PER_KCAL
        amounts = {key: value.amount or 0.0 for key, value in values.items()}
        computed = sum(amounts.get(key, 0.0) * factor for key, factor in _KJ_PER_G.items())
        if abs(stated - computed) > max(ENERGY_KJ, ENERGY_SHARE * max(stated, computed)):
            message = f"{name}: energy of {stated:.0f} kJ per 100 g, but its parts give about {computed:.0f} kJ"
            self._report(sheet, row, Severity.WARNING, "energy-doubtful", f"{message}: are kJ and kcal swapped?")

    def _report(self, sheet: Sheet, row: SheetRow, severity: Severity, code: str, message: str) -> None:
        hint = "correct the row and import again"
        self._diagnostics.append(Diagnostic(code, severity, message, Span(sheet.name, row.number), hint))


def _agreeing(values: dict[str, Value]) -> dict[str, Value]:
    """The values, if what is stated twice agrees."""
    for one, other, factor, slack, what in (
        ("ENERC_KJ", "ENERC_KCAL", KJ_PER_KCAL, 8.0, "energy in kJ and in kcal"),
        ("NACL_G", "NA_MG", 2.5 / 1000, 0.03, "salt and sodium"),
    ):
        if one in values and other in values:
            first, second = values[one].amount or 0.0, (values[other].amount or 0.0) * factor
            if abs(first - second) > max(slack, SAME_SHARE * max(first, second)):
                raise CellError(f"{what} do not agree: {first:g} against {second:g} per 100 g")
    return values


def _check(values: Mapping[str, Value]) -> None:
    amounts = {key: value.amount or 0.0 for key, value in values.items() if value.status is not ValueStatus.BELOW_LIMIT}
    for part, whole in (("FASAT_G", "FAT_G"), ("SUGAR_G", "CHOAVLDF_G"), ("SUGAR_G", "CHOCDF_G")):
        if part in amounts and whole in amounts and amounts[part] > amounts[whole] * (1 + SAME_SHARE) + 0.1:
            names = FOOD_COMPONENTS[part].name, FOOD_COMPONENTS[whole].name
            raise CellError(f"{names[0]} of {amounts[part]:g} g are more than {names[1]} of {amounts[whole]:g} g")
    carbohydrate = max(amounts.get("CHOCDF_G", 0.0), amounts.get("CHOAVLDF_G", 0.0) + amounts.get("FIBTG_G", 0.0))
    total = carbohydrate + sum(amounts.get(key, 0.0) for key in ("PROCNT_G", "FAT_G", "NACL_G", "ALC_G"))
    if total > 102:
        raise CellError(f"its parts add up to {total:.1f} g in 100 g")


def _slug(name: str) -> str:
    bare = unicodedata.normalize("NFKD", name.casefold())
    return re.sub(r"[^\w]+", "-", "".join(c for c in bare if not unicodedata.combining(c))).strip("-") or "food"
