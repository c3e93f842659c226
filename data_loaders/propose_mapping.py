"""Proposes the mapping of a sheet from its header and cells, for its owner to correct.

Headers are reduced to plain words (accents, units and 'per 100 g' taken off) and looked up in `column_words.csv`, which
holds the words of English, French, German, Spanish, Italian, Dutch and some others (common usage, no source). What a
header cannot tell is left open with '?', and a mapping with '?' is refused: which carbohydrate the table means, and
whether vitamin E is alpha-tocopherol, only the publisher's documentation can say.
"""

import csv
import re
import unicodedata
from collections import Counter
from collections.abc import Sequence
from importlib import resources
from pathlib import Path

from data_loaders.mapping import UNDECIDED
from data_loaders.readers.sheet_rows import Sheet, read_sheet
from data_loaders.vocabulary import UNIT_WORDS, UnitError, component_of, conversion
from mealcalc.errors import InputFileError

ROWS_LOOKED_AT = 400
MARKS_LOOKED_FOR = {
    "missing": ("-", "–", "n/a", "na", "n.d.", "nd", "n", "..", "…", "*"),
    "trace": ("traces", "trace", "tr", "tr.", "t"),
    "logical_zero": ("lz",),
}

_UNIT = re.compile(
    r"(?:\(|\[|/|_|,|\s)\s*(kilojoules|kcal|kj|mcg_rae|mcg_dfe|mcg|mg|ug|µg|μg|g|iu|ui|ie)"
    r"\s*(?:/|per|pro|por|\s)*\s*(?:100\s*(?:g|ml))?\s*[)\]]?\s*$",
    re.IGNORECASE,
)
_OPEN = {
    "?CARBOHYDRATE": "CHOCDF_G with fibre, CHOAVLDF_G without, by difference; CHOAVL_G by weight; CHOAVLM_G as "
    "monosaccharides; CHO-_G if it is not known",
    "?ENERGY": "ENERC_KJ or ENERC_KCAL for the energy that the table means by default; move the others to [left_out]",
    "?VITAMIN_E": "TOCPHA_MG alpha-tocopherol, VITE_MG equivalents",
}


def propose_mapping(path: Path) -> str:
    """The text of a mapping file (TOML) for a sheet.

    Parameters
    ----------
    path : Path
        CSV, xlsx or xls, plain or `.gz`.

    Raises
    ------
    InputFileError
        If the file cannot be read, or none of its first rows looks like a header.
    """
    sheet = read_sheet(path)
    at, headers = _header(sheet)
    rows = [[str(cell).strip() for cell in row.cells] for row in sheet.rows[at + 1 : at + 1 + ROWS_LOOKED_AT]]
    food_columns, figures, open_columns, unknown = _sorted_columns(headers)
    texts = [cell for row in rows for cell in row]
    comma = sum(bool(re.fullmatch(r"\d+,\d+", t)) for t in texts) > sum(
        bool(re.fullmatch(r"\d+\.\d+", t)) for t in texts
    )
    lines = [
        "# Proposed from the header. Correct it, by the publisher's documentation, before use.",
        "[table]",
        f'code = "{re.sub(r"[^a-z0-9]+", "-", path.name.split(".")[0].lower()).strip("-") or "table"}"',
        'edition = "?"',
        f"title = {_quoted(path.name)}",
        "",
        "[layout]",
        f"header_row = {sheet.rows[at].number}",
        f'decimal = "{"," if comma else "."}"',
        "",
        "[foods]",
        *(f"{name} = {_quoted(header)}" for name, header in food_columns.items()),
        *(f'# {name} = "which column?"' for name in ("code", "name") if name not in food_columns),
        'basis = "100 g"        # or "100 ml", with a column density = "..." in g per ml',
        "",
        "[marks]",
        *_marks(texts),
        "",
        "[components]",
        *(f'{_quoted(header)} = "{target}"' for header, target in figures),
    ]
    for header, meaning, unit in open_columns:
        lines += [f"# {_OPEN[meaning]}", f'{_quoted(header)} = "{UNDECIDED} {unit}"']
    lines += ["", "[left_out]", *(f'{_quoted(header)} = "not recognised"' for header in unknown)]
    return "\n".join(lines) + "\n"


def plain_words(header: str) -> tuple[str, str]:
    """A header as plain words without unit, and the unit as written, '' if it names none."""
    text = " ".join(header.split())
    match = _UNIT.search(text)
    unit = match[1] if match else ""
    bare = text[: match.start()] if match else text
    folded = unicodedata.normalize("NFKD", bare.casefold())
    letters = "".join(" " if not c.isalnum() else c for c in folded if not unicodedata.combining(c))
    return " ".join(letters.split()), unit


def _words() -> dict[str, str]:
    text = resources.files("data_loaders").joinpath("column_words.csv").read_text(encoding="utf-8")
    return {word: row["meaning"] for row in csv.DictReader(text.splitlines()) for word in row["words"].split(";")}


def _header(sheet: Sheet) -> tuple[int, list[str]]:
    words = _words()
    best = (0, -1)
    for at, row in enumerate(sheet.rows[:20]):
        known = sum(plain_words(str(cell))[0] in words for cell in row.cells if cell != "")
        best = max(best, (known, -at))
    if best[0] < 3:
        hint = "write the mapping by hand: docs/food-tables.md shows one"
        raise InputFileError(f"{sheet.name}: no row looks like a header of foods and their composition", hint)
    at = -best[1]
    return at, [" ".join(str(cell).split()) for cell in sheet.rows[at].cells]


def _sorted_columns(
    headers: Sequence[str],
) -> tuple[dict[str, str], list[tuple[str, str]], list[tuple[str, str, str]], list[str]]:
    """Columns of foods by name, figures with their target, those left open with meaning and unit, those not known."""
    words = _words()
    foods: dict[str, str] = {}
    figures: dict[str, str] = {}
    opened: list[tuple[str, str, str]] = []
    unknown: list[str] = []
    for header in headers:
        if not header:
            continue
        bare, unit = plain_words(header)
        meaning = words.get(bare, "")
        written = UNIT_WORDS.get(unit.lower(), "")
        key = f"ENERC_{written.upper()}" if meaning == "ENERC_KJ" else meaning
        if meaning.startswith("%") and meaning[1:] not in foods:
            foods[meaning[1:]] = header
        elif meaning in _OPEN:
            opened.append((header, meaning, written or "g"))
        elif component_of(key) is not None and key not in figures and _fits(written, key):
            figures[key] = f"{header}\n{key} {written}"
        elif written in ("kJ", "kcal"):
            opened.append((header, "?ENERGY", written))
        else:
            unknown.append(header)
    pairs = [(header, target) for header, _, target in (text.partition("\n") for text in figures.values())]
    return foods, pairs, opened, unknown


def _fits(unit: str, key: str) -> bool:
    try:
        return conversion(unit, key) > 0
    except UnitError:
        return False


def _marks(texts: Sequence[str]) -> list[str]:
    counts = Counter(text.lower() for text in texts)
    lines = []
    for name, candidates in MARKS_LOOKED_FOR.items():
        found = [mark for mark in candidates if counts[mark] >= 3]
        if found:
            lines.append(f"{name} = [{', '.join(_quoted(mark) for mark in found)}]")
    if any(text.startswith("<") for text in texts):
        lines.append('below = ["<"]')
    return lines


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c for c in escaped if c.isprintable()) + '"'
