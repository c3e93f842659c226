"""Reader of the USDA National Nutrient Database for Standard Reference, Release 28, in its ASCII form.

Format (SR28 documentation, 'Format of the Files'): one record per line, fields divided by `^`, text fields wrapped in
`~`, no header row, ISO 8859-1, lines ended by carriage return and line feed. A blank number is missing, never 0. The
publisher's documentation wins over this module.

Damage does not pass: a line that cannot be read whole is reported with its place and left out, and nothing is guessed.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Protocol, TypeVar

from data_loaders.readers.ascii_release import AsciiFile, FieldError, Fields, open_release_file
from mealcalc.diagnostics import Diagnostic, Severity, Span

ABBREVIATED_COLUMNS: Mapping[str, str] = MappingProxyType(
    {
        "Water": "WATER_G",
        "Energ_Kcal": "ENERC_KCAL",
        "Protein": "PROCNT_G",
        "Lipid_Tot": "FAT_G",
        "Ash": "ASH_G",
        "Carbohydrt": "CHOCDF_G",
        "Fiber_TD": "FIBTG_G",
        "Sugar_Tot": "SUGAR_G",
        "Calcium": "CA_MG",
        "Iron": "FE_MG",
        "Magnesium": "MG_MG",
        "Phosphorus": "P_MG",
        "Potassium": "K_MG",
        "Sodium": "NA_MG",
        "Zinc": "ZN_MG",
        "Copper": "CU_MG",
        "Manganese": "MN_MG",
        "Selenium": "SE_UG",
        "Vit_C": "VITC_MG",
        "Thiamin": "THIA_MG",
        "Riboflavin": "RIBF_MG",
        "Niacin": "NIA_MG",
        "Panto_Acid": "PANTAC_MG",
        "Vit_B6": "VITB6A_MG",
        "Folate_Tot": "FOL_UG",
        "Folic_Acid": "FOLAC_UG",
        "Food_Folate": "FOLFD_UG",
        "Folate_DFE": "FOLDFE_UG",
        "Choline_Tot": "CHOLN_MG",
        "Vit_B12": "VITB12_UG",
        "Vit_A_IU": "VITA_IU",
        "Vit_A_RAE": "VITA_RAE_UG",
        "Retinol": "RETOL_UG",
        "Alpha_Carot": "CARTA_UG",
        "Beta_Carot": "CARTB_UG",
        "Beta_Crypt": "CRYPX_UG",
        "Lycopene": "LYCPN_UG",
        "Lut+Zea": "LUT+ZEA_UG",
        "Vit_E": "TOCPHA_MG",
        "Vit_D_mcg": "VITD_UG",
        "Vit_D_IU": "VITD_IU",
        "Vit_K": "VITK1_UG",
        "FA_Sat": "FASAT_G",
        "FA_Mono": "FAMS_G",
        "FA_Poly": "FAPU_G",
        "Cholestrl": "CHOLE_MG",
    }
)
"""Columns of ABBREV.txt between the short description and the household weights, in file order -> our component key."""

FILES = ("FD_GROUP.txt", "FOOD_DES.txt", "ABBREV.txt", "WEIGHT.txt")

_CODE = re.compile(r"[0-9]{5}")
_GROUP_CODE = re.compile(r"[0-9]{4}")


@dataclass(frozen=True, slots=True)
class GroupRow:
    """A row of FD_GROUP.txt."""

    code: str
    description: str
    span: Span


@dataclass(frozen=True, slots=True)
class DescriptionRow:
    """A row of FOOD_DES.txt; None where a number is blank.

    refuse_percent: inedible share of the food as purchased. nitrogen_factor: g protein per g nitrogen. The last three:
    specific energy factors, kcal per g of protein, fat, carbohydrate.
    """

    code: str
    group_code: str
    long_description: str
    short_description: str
    common_names: str
    manufacturer: str
    in_survey: bool
    refuse_description: str
    refuse_percent: float | None
    scientific_name: str
    nitrogen_factor: float | None
    protein_kcal_per_g: float | None
    fat_kcal_per_g: float | None
    carbohydrate_kcal_per_g: float | None
    span: Span


@dataclass(frozen=True, slots=True)
class AbbreviatedRow:
    """A row of ABBREV.txt; `amounts` maps a component key to its amount per 100 g edible portion, None where blank.

    measures: the two household weights, each (grams or None, description or '').
    """

    code: str
    short_description: str
    amounts: Mapping[str, float | None]
    measures: tuple[tuple[float | None, str], tuple[float | None, str]]
    refuse_percent: float | None
    span: Span


@dataclass(frozen=True, slots=True)
class WeightRow:
    """A row of WEIGHT.txt: `amount` of `description` weighs `mass_g`, edible portion."""

    code: str
    sequence: int
    amount: float
    description: str
    mass_g: float
    data_points: int | None
    standard_deviation_g: float | None
    span: Span


@dataclass(frozen=True, slots=True)
class Release:
    """The four files of the release that carry the foods, rows in file order."""

    groups: tuple[GroupRow, ...]
    descriptions: tuple[DescriptionRow, ...]
    abbreviated: tuple[AbbreviatedRow, ...]
    weights: tuple[WeightRow, ...]


class _Row(Protocol):
    @property
    def span(self) -> Span: ...


RowT = TypeVar("RowT", bound=_Row)
_Rows = tuple[tuple[RowT, ...], tuple[Diagnostic, ...]]


def read_release(folder: Path) -> tuple[Release, tuple[Diagnostic, ...]]:
    """Read the four files of the release from a folder; each may be plain or end in `.gz`.

    Parameters
    ----------
    folder : Path
        Holds FD_GROUP.txt, FOOD_DES.txt, ABBREV.txt and WEIGHT.txt.

    Returns
    -------
    (Release, tuple of Diagnostic)
        All rows that could be read, and one error for every line that could not, for every duplicate, and for every
        code that one file has and another lacks.

    Raises
    ------
    InputFileError
        If a file is missing, unreadable, too large or binary.
    """
    groups, group_faults = read_groups(open_release_file(folder, "FD_GROUP.txt"))
    descriptions, description_faults = read_descriptions(open_release_file(folder, "FOOD_DES.txt"))
    abbreviated, abbreviated_faults = read_abbreviated(open_release_file(folder, "ABBREV.txt"))
    weights, weight_faults = read_weights(open_release_file(folder, "WEIGHT.txt"))
    release = Release(groups, descriptions, abbreviated, weights)
    faults = group_faults + description_faults + abbreviated_faults + weight_faults
    return release, faults + _faults_between_files(release)


def read_groups(file: AsciiFile) -> _Rows[GroupRow]:
    """Rows of FD_GROUP.txt and what is wrong with the others."""

    def make(f: Fields) -> GroupRow:
        return GroupRow(f.code(0, _GROUP_CODE), f.text(1, empty=False), f.span)

    return _read(file, 2, make, lambda row: row.code)


def read_descriptions(file: AsciiFile) -> _Rows[DescriptionRow]:
    """Rows of FOOD_DES.txt and what is wrong with the others."""

    def make(f: Fields) -> DescriptionRow:
        survey = f.text(6)
        if survey not in ("", "Y"):
            raise FieldError(6, "survey mark", "'Y' or nothing")
        return DescriptionRow(
            code=f.code(0, _CODE),
            group_code=f.code(1, _GROUP_CODE),
            long_description=f.text(2, empty=False),
            short_description=f.text(3, empty=False),
            common_names=f.text(4),
            manufacturer=f.text(5),
            in_survey=survey == "Y",
            refuse_description=f.text(7),
            refuse_percent=f.number(8, at_most=100),
            scientific_name=f.text(9),
            nitrogen_factor=f.number(10, at_most=10),
            protein_kcal_per_g=f.number(11, at_most=10),
            fat_kcal_per_g=f.number(12, at_most=10),
            carbohydrate_kcal_per_g=f.number(13, at_most=10),
            span=f.span,
        )

    return _read(file, 14, make, lambda row: row.code)


def read_abbreviated(file: AsciiFile) -> _Rows[AbbreviatedRow]:
    """Rows of ABBREV.txt and what is wrong with the others."""
    keys = tuple(ABBREVIATED_COLUMNS.values())
    # 100 g of food hold no more than 100 g of anything; other units have no such bound.
    bounds = tuple(100.0 if key.endswith("_G") else None for key in keys)
    after = 2 + len(keys)

    def make(f: Fields) -> AbbreviatedRow:
        return AbbreviatedRow(
            code=f.code(0, _CODE),
            short_description=f.text(1, empty=False),
            amounts={
                key: f.number(i, at_most=bound) for i, (key, bound) in enumerate(zip(keys, bounds, strict=True), 2)
            },
            measures=((f.number(after), f.text(after + 1)), (f.number(after + 2), f.text(after + 3))),
            refuse_percent=f.number(after + 4, at_most=100),
            span=f.span,
        )

    return _read(file, after + 5, make, lambda row: row.code)


def read_weights(file: AsciiFile) -> _Rows[WeightRow]:
    """Rows of WEIGHT.txt and what is wrong with the others."""

    def make(f: Fields) -> WeightRow:
        return WeightRow(
            code=f.code(0, _CODE),
            sequence=f.whole_number(1),
            amount=f.positive(2),
            description=f.text(3, empty=False),
            mass_g=f.positive(4),
            data_points=None if f.blank(5) else f.whole_number(5),
            standard_deviation_g=f.number(6),
            span=f.span,
        )

    return _read(file, 7, make, lambda row: (row.code, row.sequence))


def _read(file: AsciiFile, count: int, make: Callable[[Fields], RowT], key: Callable[[RowT], object]) -> _Rows[RowT]:
    rows: dict[object, RowT] = {}
    for fields in file.records(count):
        try:
            row = make(fields)
        except FieldError as error:
            file.report("bad-field", f"{error.what} is not {error.expected}", fields.place(error.index))
            continue
        first = rows.setdefault(key(row), row)
        if first is not row:
            file.report("duplicate-code", f"the same code as on line {first.span.line}", fields.place(0))
    return tuple(rows.values()), tuple(file.diagnostics)


def _faults_between_files(release: Release) -> tuple[Diagnostic, ...]:
    groups = {row.code for row in release.groups}
    described = {row.code: row for row in release.descriptions}
    composed = {row.code for row in release.abbreviated}
    faults = [
        *_missing((r for r in release.descriptions if r.group_code not in groups), "food group", "FD_GROUP.txt"),
        *_missing((r for r in release.descriptions if r.code not in composed), "food", "ABBREV.txt"),
        *_missing((r for r in release.abbreviated if r.code not in described), "food", "FOOD_DES.txt"),
        *_missing((r for r in release.weights if r.code not in described), "food", "FOOD_DES.txt"),
    ]
    for row in release.abbreviated:
        other = described.get(row.code)
        if other is not None and (other.refuse_percent, other.short_description) != (
            row.refuse_percent,
            row.short_description,
        ):
            message = f"food {row.code} has another refuse or short description in FOOD_DES.txt"
            faults.append(
                Diagnostic("files-disagree", Severity.ERROR, message, row.span, "take both files of one release")
            )
    return tuple(faults)


def _missing(rows: Iterable[_Row], what: str, file_name: str) -> Iterable[Diagnostic]:
    for row in rows:
        message = f"the {what} of this line is not in {file_name}"
        yield Diagnostic("unknown-code", Severity.ERROR, message, row.span, "take both files of one release")
