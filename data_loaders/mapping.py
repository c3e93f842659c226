"""Mappings: small TOML files that describe a table which is one sheet of foods by columns.

    [table]        code, edition, title, publisher, licence, address; foods = how many the publisher counts (optional)
    [layout]       sheet, header_row, encoding, delimiter, decimal (all optional)
    [foods]        code, name, group_code, group_name, scientific_name: columns; basis = "100 g" or "100 ml";
                   density = column in g per ml, for 100 ml; same_code = "refuse" or "merge"
    [marks]        missing, trace, logical_zero, below: lists of texts; borrowed = "()"; status of plain numbers
    [definitions]  energy = factors in kJ per g by component, for the checks; carbohydrate_counts_as = "CHOAVLDF_G"
    [components]   "column header" = "KEY unit"; alternatives of a header are parted by " | "
    [left_out]     "column header" = "why"

Headers are compared without regard to case, to blanks and line breaks in them. Every column that is neither mapped nor
left out is listed when the table is read.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from data_loaders.normalise import Marks
from data_loaders.vocabulary import UnitError, component_of, conversion
from mealcalc.errors import InputFileError
from mealcalc.values import ValueStatus

MAPPINGS_FOLDER = Path(__file__).parent / "mappings"
UNDECIDED = "?"
"""Stands in a proposed mapping where only the cook, or the publisher's documentation, can decide."""

_SECTIONS = {
    "table": {"code", "edition", "title", "publisher", "licence", "address", "foods"},
    "layout": {"sheet", "header_row", "encoding", "delimiter", "decimal"},
    "foods": {"code", "name", "group_code", "group_name", "scientific_name", "basis", "density", "same_code"},
    "marks": {"missing", "trace", "logical_zero", "below", "borrowed", "status"},
    "definitions": {"energy", "carbohydrate_counts_as"},
}
_OPEN_SECTIONS = {"components", "left_out"}
_ALTERNATIVES = " | "
_STATUSES = {s.value: s for s in (ValueStatus.PUBLISHED, ValueStatus.ANALYSED, ValueStatus.CALCULATED)}


@dataclass(frozen=True, slots=True)
class MappedColumn:
    """A column of figures: its possible headers, the component, and what a figure is multiplied by."""

    headers: tuple[str, ...]
    key: str
    factor: float


@dataclass(frozen=True, slots=True)
class SheetMapping:
    """A mapping as read. Headers of food columns are tuples of alternatives, empty where there is no such column.

    food_count: that the publisher states, None if not known. energy_kj_per_g: component key -> factor, empty if the
    table's definition is not known. carbohydrate_counts_as: a key under which CHOAVL_G is stored too, or ''.
    """

    place: str
    table: Mapping[str, str]
    food_count: int | None
    sheet: str
    header_row: int | None
    encoding: str
    delimiter: str
    code: tuple[str, ...]
    name: tuple[str, ...]
    group_code: tuple[str, ...]
    group_name: tuple[str, ...]
    scientific_name: tuple[str, ...]
    per_100_ml: bool
    density: tuple[str, ...]
    merge_same_code: bool
    marks: Marks
    energy_kj_per_g: Mapping[str, float]
    carbohydrate_counts_as: str
    columns: tuple[MappedColumn, ...]
    left_out: frozenset[str]


def same_header(text: str) -> str:
    """A header as it is compared: lower case, one blank between words."""
    return " ".join(text.split()).casefold()


def shipped_mapping(table: str) -> SheetMapping:
    """The mapping that comes with the package for a table whose real file was read; InputFileError for another."""
    path = MAPPINGS_FOLDER / f"{table}.toml"
    if not path.is_file():
        known = ", ".join(shipped_tables())
        raise InputFileError(f"there is no mapping of a table '{table}'", f"known: {known}; or give a mapping file")
    return read_mapping(path)


def shipped_tables() -> list[str]:
    """The codes of the tables that have a shipped mapping."""
    return sorted(path.stem for path in MAPPINGS_FOLDER.glob("*.toml"))


def read_mapping(path: Path) -> SheetMapping:
    """Read a mapping file.

    Raises
    ------
    InputFileError
        If it is missing, is no TOML, or says something that cannot be meant; all of it in one message.
    """
    try:
        document = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise InputFileError(f"{path} cannot be read: {error.strerror}", "give a mapping file") from error
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise InputFileError(f"{path} is no TOML: {error}", "correct it there") from error
    return _Reading(path.name, document).mapping()


class _Reading:
    """Takes a document apart and collects what is wrong with it."""

    def __init__(self, place: str, document: dict[str, object]) -> None:
        self.place = place
        self.document = document
        self.faults: list[str] = []

    def mapping(self) -> SheetMapping:
        self._unknown_names()
        table = {name: self._text("table", name, "") for name in sorted(_SECTIONS["table"] - {"foods"})}
        for name in ("code", "edition", "title"):
            if table[name] in ("", UNDECIDED):
                self.faults.append(f"[table] needs '{name}'")
        if not (self._section("foods").get("code") and self._section("foods").get("name")):
            self.faults.append("[foods] needs the columns 'code' and 'name'")
        counts_as = self._text("definitions", "carbohydrate_counts_as", "")
        if counts_as not in ("", "CHOAVLDF_G"):
            self.faults.append("carbohydrate_counts_as can only be 'CHOAVLDF_G'")
        basis = self._text("foods", "basis", "100 g")
        if basis not in ("100 g", "100 ml"):
            self.faults.append(f"basis '{basis}' is neither '100 g' nor '100 ml'")
        if basis == "100 ml" and not self._headers("density"):
            self.faults.append("a basis of 100 ml needs the column 'density' (g per ml)")
        same_code = self._text("foods", "same_code", "refuse")
        if same_code not in ("refuse", "merge"):
            self.faults.append(f"same_code '{same_code}' is neither 'refuse' nor 'merge'")
        found = SheetMapping(
            place=self.place,
            table=table,
            food_count=self._count("table", "foods"),
            sheet=self._text("layout", "sheet", ""),
            header_row=self._count("layout", "header_row"),
            encoding=self._text("layout", "encoding", ""),
            delimiter=self._text("layout", "delimiter", ""),
            code=self._headers("code"),
            name=self._headers("name"),
            group_code=self._headers("group_code"),
            group_name=self._headers("group_name"),
            scientific_name=self._headers("scientific_name"),
            per_100_ml=basis == "100 ml",
            density=self._headers("density"),
            merge_same_code=same_code == "merge",
            marks=self._marks(),
            energy_kj_per_g=self._energy(),
            carbohydrate_counts_as=counts_as,
            columns=self._columns(),
            left_out=frozenset(
                same_header(part) for text in self._section("left_out") for part in text.split(_ALTERNATIVES)
            ),
        )
        if self.faults:
            raise InputFileError(f"{self.place}: {'; '.join(self.faults)}", "correct the mapping and import again")
        return found

    def _unknown_names(self) -> None:
        for section, content in self.document.items():
            if not isinstance(content, dict):
                self.faults.append(f"'{section}' stands outside the sections")
            elif section in _SECTIONS:
                self.faults += [f"[{section}] knows no '{name}'" for name in content if name not in _SECTIONS[section]]
            elif section not in _OPEN_SECTIONS:
                self.faults.append(f"there is no section [{section}]")

    def _section(self, name: str) -> dict[str, object]:
        content = self.document.get(name, {})
        return content if isinstance(content, dict) else {}

    def _text(self, section: str, name: str, default: str) -> str:
        value = self._section(section).get(name, default)
        if not isinstance(value, str):
            self.faults.append(f"{name} in [{section}] is no text")
            return default
        return value

    def _count(self, section: str, name: str) -> int | None:
        value = self._section(section).get(name)
        if value is None:
            return None
        if not isinstance(value, int) or isinstance(value, bool) or value < 1:
            self.faults.append(f"{name} in [{section}] is no whole number from 1")
            return None
        return value

    def _headers(self, name: str) -> tuple[str, ...]:
        text = self._text("foods", name, "")
        return tuple(same_header(part) for part in text.split(_ALTERNATIVES)) if text else ()

    def _words(self, name: str, default: tuple[str, ...]) -> tuple[str, ...]:
        value = self._section("marks").get(name)
        if value is None:
            return default
        if not isinstance(value, list) or not all(isinstance(word, str) for word in value):
            self.faults.append(f"{name} in [marks] is no list of texts")
            return default
        return tuple(word.strip().lower() for word in value if word.strip())

    def _marks(self) -> Marks:
        decimal = self._text("layout", "decimal", ".")
        borrowed = self._text("marks", "borrowed", "")
        status = self._text("marks", "status", ValueStatus.PUBLISHED.value)
        if decimal not in (".", ","):
            self.faults.append(f"decimal '{decimal}' is neither '.' nor ','")
        if len(borrowed) not in (0, 2):
            self.faults.append("borrowed in [marks] is no pair of brackets")
        if status not in _STATUSES:
            self.faults.append(f"status '{status}' is none of {', '.join(_STATUSES)}")
        return Marks(
            missing=self._words("missing", ()),
            trace=self._words("trace", ()),
            logical_zero=self._words("logical_zero", ()),
            below=self._words("below", ("<",)),
            borrowed=borrowed,
            decimal=decimal,
            status=_STATUSES.get(status, ValueStatus.PUBLISHED),
        )

    def _energy(self) -> dict[str, float]:
        content = self._section("definitions").get("energy", {})
        if not isinstance(content, dict):
            self.faults.append("energy in [definitions] is no table of factors")
            return {}
        factors = {}
        for key, factor in content.items():
            if component_of(key) is None or not isinstance(factor, (int, float)) or isinstance(factor, bool):
                self.faults.append(f"energy: {key} = {factor} is no factor in kJ per g of a known component")
            else:
                factors[key] = float(factor)
        return factors

    def _columns(self) -> tuple[MappedColumn, ...]:
        columns: dict[str, MappedColumn] = {}
        for header, target in self._section("components").items():
            key, _, unit = target.partition(" ") if isinstance(target, str) else ("", "", "")
            if key == UNDECIDED:
                self.faults.append(f"'{header}' is not decided: put a component in place of '{UNDECIDED}'")
            elif key in columns:
                self.faults.append(f"'{header}' is a second column of {key}")
            else:
                try:
                    headers = tuple(same_header(part) for part in header.split(_ALTERNATIVES))
                    columns[key] = MappedColumn(headers, key, conversion(unit, key))
                except UnitError as error:
                    self.faults.append(f"'{header}': {error}")
        if not columns and not self.faults:
            self.faults.append("[components] maps no column")
        return tuple(columns.values())
