"""A small invented table and its mapping, for tests of the reader of sheets."""

from pathlib import Path

from data_loaders.interface import whole_foods
from data_loaders.mapping import read_mapping
from data_loaders.readers.mapped_sheet import MappedSheetReader
from mealcalc.fooddb.writer import FoodRow

MAPPING = """\
[table]
code = "garden"
edition = "1"
title = "Garden table"
foods = 3

[layout]
decimal = ","
delimiter = ";"

[foods]
code = "Code"
name = "Name"
group_code = "Group"

[marks]
missing = ["-", "n.d."]
trace = ["tr"]
logical_zero = ["lz"]
borrowed = "()"

[components]
"Energy (kJ)" = "ENERC_KJ kJ"
"Water (g)" = "WATER_G g"
"Fat (g)" = "FAT_G g"
"Carbohydrate, available (g)" = "CHOAVLDF_G g"
"Fibre (g)" = "FIBTG_G g"
"Salt (g)" = "NACL_G g"
"Vitamin D (IU)" = "VITD_UG IU"
"Iodine (mg)" = "ID_UG mg"

[left_out]
"Remark" = "words"
"""

HEADER = (
    "Code;Name;Group;Energy (kJ);Water (g);Fat (g);Carbohydrate, available (g);Fibre (g);Salt (g);Vitamin D (IU);"
    "Iodine (mg);Remark"
)
ROWS = (
    "001;Swede, raw;roots;150;90,5;0,2;5;2,4;0,03;-;0,002;",
    "002;Oat bran;grains;1400;10;7;50;15,5;< 0,1;tr;n.d.;coarse",
    "003;Café crème;drinks;(60);97,25;0,5;0,7;lz;0,1;40;;",
)
SHEET = "\r\n".join((HEADER, *ROWS, ""))


def reader_of(folder: Path, sheet: str | bytes = SHEET, mapping: str = MAPPING) -> MappedSheetReader:
    """A reader of a sheet and a mapping that are written into the folder."""
    (folder / "garden.csv").write_bytes(sheet if isinstance(sheet, bytes) else sheet.encode("utf-8"))
    (folder / "garden.toml").write_text(mapping, encoding="utf-8")
    return MappedSheetReader(folder / "garden.csv", read_mapping(folder / "garden.toml"))


def foods_of(reader: MappedSheetReader) -> dict[str, FoodRow]:
    """The foods of a reader by their codes."""
    return {food.code: food for food in whole_foods(reader)}
