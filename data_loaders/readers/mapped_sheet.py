"""Reader of any table that is one sheet of foods by columns, described by a mapping (`data_loaders.mapping`).

Tried on the publishers' files, or copies of them, that the shipped mappings name; any other table comes in by a mapping
of its owner's. Columns are found by their headers, so their order does not matter. A row that cannot be read whole is
left out, with its place in the diagnostics.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from data_loaders.interface import FOODS_IN_CHUNK, Chunk, TableMetadata, ValueRow, source_file
from data_loaders.mapping import SheetMapping, same_header
from data_loaders.normalise import CellError, read_cell, read_number, with_conversions
from data_loaders.readers.sheet_rows import AGAIN, Cell, Sheet, SheetRow, read_sheet
from data_loaders.vocabulary import component_of
from mealcalc.components import FOOD_COMPONENTS
from mealcalc.diagnostics import Diagnostic, Severity, Span
from mealcalc.errors import InputFileError
from mealcalc.fooddb.writer import FoodRow, MeasureRow
from mealcalc.values import MISSING, Value, ValueStatus

MOST_REPORTED_ROWS = 50
"""After this many unreadable rows the file is plainly not what its mapping says, and reading stops."""

ROWS_SEARCHED_FOR_HEADER = 20
MOST_G = 100.0
"""100 g of food hold no more than 100 g of anything."""

_MOST_LISTED = 40


@dataclass(frozen=True, slots=True)
class _Columns:
    """Positions of the columns in the sheet; None where there is none."""

    code: int
    name: int
    group_code: int | None
    group_name: int | None
    scientific_name: int | None
    density: int | None
    figures: tuple[tuple[int, str, float, str], ...]  # position, component key, factor, header
    width: int


@dataclass(frozen=True, slots=True)
class _Found:
    """A food of a row: values per 100 g by component key, missing ones left out."""

    row: int
    code: str
    name: str
    group: str
    scientific_name: str
    density: float | None
    values: dict[str, Value]


class _RowError(Exception):
    """A row cannot be read whole; `code` of the diagnostic, and the column where there is one."""

    def __init__(self, code: str, message: str, column: str = "") -> None:
        super().__init__(message)
        self.code = code
        self.column = column


class MappedSheetReader:
    """Reads a sheet by its mapping.

    Parameters
    ----------
    path : Path
        CSV, xlsx or xls, plain or `.gz`.
    mapping : SheetMapping
        Of the shipped ones, or read from a file.
    """

    def __init__(self, path: Path, mapping: SheetMapping) -> None:
        self._path = path
        self._mapping = mapping
        self._diagnostics: list[Diagnostic] = []

    @cached_property
    def metadata(self) -> TableMetadata:
        """What the mapping says of the table, with the checksum of the file."""
        about = self._mapping.table
        return TableMetadata(
            about["code"],
            about["edition"],
            about["title"],
            about["publisher"],
            about["licence"],
            about["address"],
            (source_file(self._path),),
        )

    @property
    def diagnostics(self) -> Sequence[Diagnostic]:
        """Rows left out, columns not mapped, a number of foods other than the publisher's."""
        return self._diagnostics

    def groups(self) -> Iterable[tuple[str, str]]:
        """The food groups in the order in which foods name them; the first name of a code counts."""
        return self._read[0].items()

    def chunks(self) -> Iterator[Chunk]:
        """The foods in the order of the sheet."""
        foods = self._read[1]
        for start in range(0, len(foods), FOODS_IN_CHUNK):
            part = foods[start : start + FOODS_IN_CHUNK]
            further: list[ValueRow] = [row for food in part for row in _rows(food, stored=False)]
            yield Chunk(foods=[_food_row(food) for food in part], further=further)

    # --- reading ---

    @cached_property
    def _read(self) -> tuple[dict[str, str], list[_Found]]:
        mapping = self._mapping
        sheet = read_sheet(self._path, sheet=mapping.sheet, encoding=mapping.encoding, delimiter=mapping.delimiter)
        at, columns = self._header(sheet)
        rows = sheet.rows[at + 1 :]
        if sheet.ends_in_line and rows:
            self._error(sheet, rows[-1].number, "cut-short", "the last line does not end: the file is cut short")
            rows = rows[:-1]
        groups: dict[str, str] = {}
        foods: dict[str, _Found] = {}
        for row in rows:
            if not any(cell != "" for cell in row.cells):
                continue
            if sum(d.severity is Severity.ERROR for d in self._diagnostics) >= MOST_REPORTED_ROWS:
                message = f"reading stops after {MOST_REPORTED_ROWS} errors; the rest of the file is not read"
                self._error(sheet, row.number, "too-many-errors", message)
                break
            try:
                food = self._food(row, columns)
            except _RowError as error:
                self._error(sheet, row.number, error.code, str(error), error.column)
                continue
            if food.group and not groups.get(food.group):
                groups[food.group] = _text(row, columns.group_name)
            first = foods.setdefault(food.code, food)
            if first is not food:
                merged = self._merged(sheet, first, food)
                foods[food.code] = merged or first
        self._compare_count(sheet, len(foods))
        return groups, [replace(food, values=self._converted(food.values)) for food in foods.values()]

    def _header(self, sheet: Sheet) -> tuple[int, _Columns]:
        mapping = self._mapping
        for at, row in enumerate(sheet.rows[:ROWS_SEARCHED_FOR_HEADER]):
            if mapping.header_row is not None and row.number != mapping.header_row:
                continue
            headers = [same_header(str(cell)) for cell in row.cells]
            if mapping.header_row is not None or set(mapping.code) & set(headers):
                return at, self._columns(sheet, row.number, headers)
        wanted = " or ".join(f"'{header}'" for header in mapping.code)
        message = f"{sheet.name}: no header row with a column {wanted} among the first {ROWS_SEARCHED_FOR_HEADER}"
        raise InputFileError(message, "give the sheet with its header row, or correct the mapping")

    def _columns(self, sheet: Sheet, number: int, headers: list[str]) -> _Columns:
        missing: list[str] = []

        def find(wanted: tuple[str, ...]) -> int | None:
            found = [i for i, header in enumerate(headers) if header in wanted]
            if len(found) > 1:
                message = f"{sheet.place(number)}: {len(found)} columns '{headers[found[0]]}'"
                raise InputFileError(message, "give the sheet as published, or rename one of them")
            if not found and wanted:
                missing.append(" or ".join(f"'{header}'" for header in wanted))
            return found[0] if found else None

        mapping = self._mapping
        code, name = find(mapping.code), find(mapping.name)
        group_code, group_name = find(mapping.group_code), find(mapping.group_name)
        scientific_name, density = find(mapping.scientific_name), find(mapping.density)
        figures = [(find(column.headers), column) for column in mapping.columns]
        if missing or code is None or name is None:
            message = f"{sheet.place(number)}: no column {', '.join(missing)}"
            raise InputFileError(message, "this is another table or edition: correct the mapping for it")
        used = {code, name, group_code, group_name, scientific_name, density, *(position for position, _ in figures)}
        self._list_unmapped(sheet, number, [h for i, h in enumerate(headers) if h and i not in used])
        return _Columns(
            code,
            name,
            group_code,
            group_name,
            scientific_name,
            density,
            figures=tuple((i, c.key, c.factor, headers[i]) for i, c in figures if i is not None),
            width=max(i for i, header in enumerate(headers) if header) + 1,
        )

    def _list_unmapped(self, sheet: Sheet, number: int, headers: list[str]) -> None:
        unknown = [header for header in headers if header not in self._mapping.left_out]
        known = [header for header in headers if header in self._mapping.left_out]
        for severity, code, what, names in (
            (Severity.WARNING, "unmapped-columns", "not in the mapping, not read", unknown),
            (Severity.NOTE, "columns-left-out", "left out by the mapping", known),
        ):
            if names:
                shown = "; ".join(names[:_MOST_LISTED])
                message = f"{len(names)} columns are {what}: {shown}"
                hint = "add them to the mapping, under [components] or [left_out]" if names is unknown else ""
                self._diagnostics.append(Diagnostic(code, severity, message, Span(sheet.name, number), hint))

    def _food(self, row: SheetRow, columns: _Columns) -> _Found:
        if len(row.cells) < columns.width or any(cell != "" for cell in row.cells[columns.width :]):
            raise _RowError("cell-count", f"{len(row.cells)} cells instead of {columns.width}")
        code, name = _text(row, columns.code), _text(row, columns.name)
        if not code or not name:
            raise _RowError("no-code-or-name", "the row has no food code or no name")
        density = self._density(row, columns) if self._mapping.per_100_ml else None
        values: dict[str, Value] = {}
        for position, key, factor, header in columns.figures:
            try:
                value = read_cell(row.cells[position], self._mapping.marks)
                if value.amount is None:
                    continue
                # Dividing by a power of ten keeps the digits that multiplying by its inverse would blur.
                amount = value.amount * factor if factor >= 1 else value.amount / round(1 / factor, 6)
                amount = amount if density is None else amount / density
                _check_bound(key, amount)
            except CellError as error:
                raise _RowError("bad-cell", str(error), header) from error
            values[key] = Value(amount, value.status)
        group, scientific_name = _text(row, columns.group_code), _text(row, columns.scientific_name)
        return _Found(row.number, code, name, group, scientific_name, density, values)

    def _density(self, row: SheetRow, columns: _Columns) -> float:
        text = _text(row, columns.density)
        try:
            density = read_number(text, self._mapping.marks.decimal)
        except CellError:
            density = 0.0
        if not 0.1 <= density <= 3:
            message = f"'{text[:40]}' is no density in g per ml; without it 100 ml have no weight"
            raise _RowError("no-density", message)
        return density

    def _converted(self, values: dict[str, Value]) -> dict[str, Value]:
        counts_as = self._mapping.carbohydrate_counts_as
        by_weight = values.get("CHOAVL_G", MISSING).amount
        if counts_as and by_weight is not None and counts_as not in values:
            values = {**values, counts_as: Value(by_weight, ValueStatus.CALCULATED)}
        return with_conversions(values)

    def _merged(self, sheet: Sheet, first: _Found, second: _Found) -> _Found | None:
        same = [key for key in first.values if key in second.values and first.values[key] != second.values[key]]
        if not self._mapping.merge_same_code or first.name != second.name or same:
            because = f": they differ in {', '.join(same[:5])}" if same else ""
            message = f"the same code {second.code} as in row {first.row}{because}"
            self._error(sheet, second.row, "duplicate-code", message)
            return None
        fuller = max(first, second, key=lambda food: len(food.values))
        values = {**first.values, **second.values}
        message = f"food {second.code} stands on rows {first.row} and {second.row}; what they say is taken together"
        self._diagnostics.append(Diagnostic("code-on-two-rows", Severity.NOTE, message, Span(sheet.name, second.row)))
        return replace(fuller, row=first.row, values=values)

    def _compare_count(self, sheet: Sheet, found: int) -> None:
        wanted = self._mapping.food_count
        if wanted is not None and wanted != found:
            message = f"{found} foods were read, the publisher counts {wanted}"
            hint = f"{AGAIN}; a later edition needs its own mapping"
            self._diagnostics.append(Diagnostic("food-count", Severity.ERROR, message, Span(sheet.name, 1), hint))

    def _error(self, sheet: Sheet, row: int, code: str, message: str, column: str = "") -> None:
        where = f"column '{column}': " if column else ""
        hint = f"the row is left out; {AGAIN}, or correct the mapping"
        self._diagnostics.append(Diagnostic(code, Severity.ERROR, f"{where}{message}", Span(sheet.name, row), hint))


def _check_bound(key: str, amount: float) -> None:
    component = component_of(key)
    if component is not None and component.unit in ("g", "mg"):
        most = MOST_G * (1 if component.unit == "g" else 1000)
        # Foods of one constituent (oil, salt, water) are printed rounded.
        if amount > most * 1.005:
            raise CellError(f"{amount:g} {component.unit} in 100 g is more than a food can hold")


def _text(row: SheetRow, position: int | None) -> str:
    if position is None:
        return ""
    cell: Cell = row.cells[position]
    if isinstance(cell, float) and cell.is_integer():
        cell = int(cell)  # an old workbook stores every code as a floating-point number
    return " ".join(str(cell).split())


def _rows(food: _Found, *, stored: bool) -> Iterator[ValueRow]:
    for key, value in food.values.items():
        if (key in FOOD_COMPONENTS) is stored and value.amount is not None:
            yield food.code, key, value.amount, value.status


def _food_row(food: _Found) -> FoodRow:
    return FoodRow(
        code=food.code,
        group_code=food.group,
        description=food.name,
        values=[(key, amount, status) for _, key, amount, status in _rows(food, stored=True)],
        measures=[] if food.density is None else [MeasureRow(100.0, "ml", 100 * food.density)],
        scientific_name=food.scientific_name,
    )
