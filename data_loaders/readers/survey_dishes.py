"""Readers of USDA's survey databases (FNDDS): recipes of foods and dishes, their published composition, their changes.

Tried on: 2017-2018, the workbook 'FNDDS Nutrient Values' and the sheet 'FNDDS Ingredients' saved as CSV (UTF-8, title
row dropped), and an 'Ingredient Nutrient Values' table with one row per ingredient; 2003-2004, the ASCII tables
FNDDSSRLinks, MoistNFatAdjust and MainFoodDesc (`^` between fields, `~` around text; with a header row
or without); MoistNFatAdjust of 2005-2006 to 2013-2014 (ASCII without a header, the last one CSV). Any file may end in
`.gz`.

An ingredient code of eight digits is another survey food (recipes nest), a shorter one an NDB number, written here with
five digits. Retention code 0 means none. Composition is per 100 g; a blank cell is missing, never 0.
"""

import csv
import gzip
import io
import zlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType

from mealcalc.errors import InputFileError
from mealcalc.values import Composition, Value

NUTRIENT_COLUMNS: Mapping[str, tuple[str, int]] = MappingProxyType(
    {
        # Column of 'FNDDS Nutrient Values' without its unit -> our key, decimals printed.
        "Energy": ("ENERC_KCAL", 0),
        "Protein": ("PROCNT_G", 2),
        "Carbohydrate": ("CHOCDF_G", 2),
        "Sugars, total": ("SUGAR_G", 2),
        "Fiber, total dietary": ("FIBTG_G", 1),
        "Total Fat": ("FAT_G", 2),
        "Fatty acids, total saturated": ("FASAT_G", 3),
        "Fatty acids, total monounsaturated": ("FAMS_G", 3),
        "Fatty acids, total polyunsaturated": ("FAPU_G", 3),
        "Cholesterol": ("CHOLE_MG", 0),
        "Retinol": ("RETOL_UG", 0),
        "Vitamin A, RAE": ("VITA_RAE_UG", 0),
        "Carotene, alpha": ("CARTA_UG", 0),
        "Carotene, beta": ("CARTB_UG", 0),
        "Cryptoxanthin, beta": ("CRYPX_UG", 0),
        "Lycopene": ("LYCPN_UG", 0),
        "Lutein + zeaxanthin": ("LUT+ZEA_UG", 0),
        "Thiamin": ("THIA_MG", 3),
        "Riboflavin": ("RIBF_MG", 3),
        "Niacin": ("NIA_MG", 3),
        "Vitamin B-6": ("VITB6A_MG", 3),
        "Folic acid": ("FOLAC_UG", 0),
        "Folate, food": ("FOLFD_UG", 0),
        "Folate, DFE": ("FOLDFE_UG", 0),
        "Folate, total": ("FOL_UG", 0),
        "Choline, total": ("CHOLN_MG", 1),
        "Vitamin B-12": ("VITB12_UG", 2),
        "Vitamin C": ("VITC_MG", 1),
        "Vitamin D (D2 + D3)": ("VITD_UG", 1),
        "Vitamin E (alpha-tocopherol)": ("TOCPHA_MG", 2),
        "Vitamin K (phylloquinone)": ("VITK1_UG", 1),
        "Calcium": ("CA_MG", 0),
        "Phosphorus": ("P_MG", 0),
        "Magnesium": ("MG_MG", 0),
        "Iron": ("FE_MG", 2),
        "Zinc": ("ZN_MG", 2),
        "Copper": ("CU_MG", 3),
        "Selenium": ("SE_UG", 1),
        "Potassium": ("K_MG", 0),
        "Sodium": ("NA_MG", 0),
        "Alcohol": ("ALC_G", 1),
        "Water": ("WATER_G", 2),
    }
)
"""Not read, since they are outside our vocabulary: added vitamins B-12 and E, caffeine, theobromine, fatty acids."""

CHANGE_COLUMNS = ("food code", "start date", "end date", "moisture change", "fat change", "type of fat")
LINK_COLUMNS = 15
"""Fields of FNDDSSRLinks: food, start, end, sequence, ingredient, its description, amount, measure, portion code,
retention code, flag, mass in g, three marks of change."""

_SURVEY_CODE_DIGITS = 8


@dataclass(frozen=True, slots=True)
class SurveyIngredient:
    """An ingredient of a survey recipe. retention_code: of USDA's retention factors, '' for none."""

    code: str
    description: str
    mass_g: float
    retention_code: str

    @property
    def is_dish(self) -> bool:
        """Whether the code is that of another survey food."""
        return is_survey_code(self.code)


@dataclass(frozen=True, slots=True)
class Changes:
    """Changes of a recipe in percent of its mass. fat_code: of the fat, '' where there is no fat change."""

    moisture_percent: float = 0.0
    fat_percent: float = 0.0
    fat_code: str = ""


@dataclass(frozen=True, slots=True)
class SurveyDish:
    """A survey food with its recipe; a food of one ingredient is a dish too."""

    code: str
    description: str
    ingredients: tuple[SurveyIngredient, ...]
    changes: Changes = field(default_factory=Changes)

    @property
    def mass_g(self) -> float:
        """Mass of the ingredients, in g; they do not add up to 100 g in most recipes."""
        return sum(ingredient.mass_g for ingredient in self.ingredients)


def is_survey_code(code: str) -> bool:
    """Whether a code is that of a survey food, not an NDB number."""
    return len(code) == _SURVEY_CODE_DIGITS


def read_nutrient_values(path: Path) -> dict[str, Composition]:
    """Published composition per 100 g of every survey food, by its code ('FNDDS Nutrient Values').

    Raises
    ------
    InputFileError
        As all readers here: if the file is missing or damaged, lacks a column, or a cell holds no number.
    """
    return _compositions(path, "Food code")


def read_ingredient_values(path: Path) -> dict[str, Composition]:
    """Composition per 100 g of the ingredients, by code ('Ingredient Nutrient Values', one row per ingredient)."""
    return _compositions(path, "Ingredient code")


def read_recipes(path: Path) -> dict[str, SurveyDish]:
    """Recipes of the 2017-2018 release, by food code ('FNDDS Ingredients'); a blank moisture change counts as 0."""
    names: dict[str, str] = {}
    moisture: dict[str, float] = {}
    ingredients: dict[str, list[SurveyIngredient]] = {}
    for place, row in _csv_rows(path):
        code = _cell(row, "Food code", place)
        names[code] = _cell(row, "Main food description", place)
        moisture[code] = _number(_cell(row, "Moisture change (%)", place) or "0", place)
        ingredients.setdefault(code, []).append(
            SurveyIngredient(
                code=_ingredient_code(_cell(row, "Ingredient code", place)),
                description=_cell(row, "Ingredient description", place),
                mass_g=_number(_cell(row, "Ingredient weight (g)", place), place),
                retention_code=_retention_code(_cell(row, "Retention code", place)),
            )
        )
    return {
        code: SurveyDish(code, names[code], tuple(rows), Changes(moisture[code])) for code, rows in ingredients.items()
    }


def read_changes(path: Path) -> dict[str, Changes]:
    """Moisture and fat change of every food, by code (MoistNFatAdjust of any release)."""
    changes = {}
    for place, fields in _separated_rows(path):
        if len(fields) < len(CHANGE_COLUMNS):
            raise InputFileError(f"{place}: {len(fields)} fields, not {', '.join(CHANGE_COLUMNS)}", "take another file")
        code, _, _, moisture, fat, fat_code = fields[: len(CHANGE_COLUMNS)]
        fat_percent = _number(fat, place)
        changes[code] = Changes(
            _number(moisture, place), fat_percent, _ingredient_code(fat_code) if fat_percent else ""
        )
    return changes


def read_linked_recipes(links: Path, descriptions: Path, changes: Path) -> dict[str, SurveyDish]:
    """Recipes of an older release, by food code, from FNDDSSRLinks, MainFoodDesc and MoistNFatAdjust."""
    names = {fields[0]: fields[3] for _, fields in _separated_rows(descriptions)}
    changes_of = read_changes(changes)
    ingredients: dict[str, list[SurveyIngredient]] = {}
    for place, fields in _separated_rows(links):
        if len(fields) < LINK_COLUMNS:
            raise InputFileError(f"{place}: {len(fields)} fields instead of {LINK_COLUMNS}", "fetch the file again")
        ingredients.setdefault(fields[0], []).append(
            SurveyIngredient(
                code=_ingredient_code(fields[4]),
                description=fields[5],
                mass_g=_number(fields[11], place),
                retention_code=_retention_code(fields[9]),
            )
        )
    return {
        code: SurveyDish(code, names.get(code, ""), tuple(rows), changes_of.get(code, Changes()))
        for code, rows in ingredients.items()
    }


def _compositions(path: Path, code_column: str) -> dict[str, Composition]:
    found: dict[str, Composition] = {}
    keys: dict[str, str] = {}
    for place, row in _csv_rows(path):
        if not keys:
            keys = _columns_of(row, place)
        code = _ingredient_code(_cell(row, code_column, place))
        found[code] = {key: Value(_number(row[column], place)) for column, key in keys.items() if row[column]}
    return found


def _columns_of(row: Mapping[str, str], place: str) -> dict[str, str]:
    """Column as written -> key. The workbook adds a unit in parentheses, after a blank or a line break."""
    keys = {}
    for name, (key, _) in NUTRIENT_COLUMNS.items():
        columns = [c for c in row if (flat := c.replace("\n", " ")) == name or _without_unit(flat) == name]
        if len(columns) != 1:
            raise InputFileError(f"{place}: no single column '{name}'", "give the sheet with its header row")
        keys[columns[0]] = key
    return keys


def _without_unit(column: str) -> str:
    return column.rpartition(" (")[0]


def _ingredient_code(text: str) -> str:
    return text if is_survey_code(text) else text.zfill(5)


def _retention_code(text: str) -> str:
    return "" if text == "0" else text


def _number(text: str, place: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise InputFileError(f"{place}: '{text}' is no number", "fetch the file again from its publisher") from None


def _cell(row: Mapping[str, str], column: str, place: str) -> str:
    if column not in row:
        raise InputFileError(
            f"{place}: no column '{column}'", "give the sheet with its header row, without its title row"
        )
    return row[column]


def _csv_rows(path: Path) -> Iterator[tuple[str, dict[str, str]]]:
    reader = csv.DictReader(io.StringIO(_text_of(path, "utf-8-sig"), newline=""), restval="")
    for row in reader:
        yield f"{path.name}:{reader.line_num}", row


def _separated_rows(path: Path) -> Iterator[tuple[str, list[str]]]:
    """Fields of an ASCII table, or of a CSV file; a header row is left out."""
    text = _text_of(path, "latin-1").removeprefix("\xef\xbb\xbf")
    delimiter, quote = ("^", "~") if "^" in text.partition("\n")[0] else (",", '"')
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, quotechar=quote)
    for fields in reader:
        if fields and fields[0].isdigit():
            yield f"{path.name}:{reader.line_num}", fields


def _text_of(path: Path, encoding: str) -> str:
    try:
        with gzip.open(path) if path.suffix == ".gz" else path.open("rb") as stream:
            return stream.read().decode(encoding)
    except (OSError, EOFError, zlib.error, UnicodeDecodeError) as error:
        raise InputFileError(f"{path} cannot be read: {error}", "fetch the file again from its publisher") from error
