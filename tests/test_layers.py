"""Imports go downward only, and each library stays behind its own door."""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent

# From the ground up; modules on one row do not import each other, files inside one folder may.
ROWS = (
    ("errors", "diagnostics"),
    ("units", "components", "values", "money"),
    ("records",),
    ("reference",),
    ("fooddb",),
    ("text_files",),
    ("recipe", "matching", "calculation", "labelling"),
    ("pipeline",),
    ("reports", "planning"),
    ("cli", "web"),
)
ROW_OF = {name: row for row, names in enumerate(ROWS) for name in names}

# Examples are data with a reader of their own; the package root holds the public names.
FREE = {"examples", "__init__", "__main__"}

ONLY_IN = {
    "sqlalchemy": {"fooddb"},
    "click": {"cli"},
    "rich": {"reports", "cli"},
    "pint": {"units"},
    "rapidfuzz": {"matching", "recipe"},
    "numpy": {"calculation", "planning"},
    "scipy": {"planning"},
    "highspy": {"planning"},
    "matplotlib": {"reports"},
    "pandas": {"reports"},
    "openpyxl": {"reports"},
    "fpdf": {"reports"},
    "jinja2": {"reports"},
    "markupsafe": {"reports"},
}
NEVER_IN_MEALCALC = {"requests", "requests_cache"}


def _files() -> list[Path]:
    return sorted((ROOT / "mealcalc").rglob("*.py"))


def _part(path: Path) -> str:
    relative = path.relative_to(ROOT / "mealcalc")
    return relative.parts[0].removesuffix(".py")


def _imports(path: Path) -> list[tuple[str, int]]:
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [(alias.name, node.lineno) for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.append((node.module, node.lineno))
            found += [(f"{node.module}.{alias.name}", node.lineno) for alias in node.names]
    return found


def test_every_part_of_the_house_has_a_row() -> None:
    assert {_part(path) for path in _files()} <= set(ROW_OF) | FREE


@pytest.mark.parametrize("path", _files(), ids=lambda path: str(path.relative_to(ROOT)))
def test_imports_go_downward(path: Path) -> None:
    part = _part(path)
    if part in FREE:
        return
    for module, line in _imports(path):
        names = module.split(".")
        if names[0] != "mealcalc" or len(names) < 2 or names[1] in FREE:
            continue
        other = names[1]
        if other == part or other not in ROW_OF:
            continue
        allowed = ROW_OF[other] < ROW_OF[part] or {other, part} == {"errors", "diagnostics"}
        assert allowed, f"{path}:{line}: {part} must not import {other}"


@pytest.mark.parametrize("path", _files(), ids=lambda path: str(path.relative_to(ROOT)))
def test_libraries_stay_behind_their_door(path: Path) -> None:
    part = _part(path)
    for module, line in _imports(path):
        library = module.split(".")[0]
        assert library not in NEVER_IN_MEALCALC, f"{path}:{line}: {library} is for data_loaders"
        if library in ONLY_IN:
            assert part in ONLY_IN[library], f"{path}:{line}: only {sorted(ONLY_IN[library])} may import {library}"
        if library == "data_loaders":
            assert part == "cli", f"{path}:{line}: only the command line may import data_loaders"


def test_data_loaders_use_fooddb_and_below() -> None:
    for path in (ROOT / "data_loaders").rglob("*.py"):
        for module, line in _imports(path):
            names = module.split(".")
            if names[0] == "mealcalc" and len(names) > 1 and names[1] in ROW_OF:
                # What recomputes published dishes has to call the calculation that it checks.
                allowed = ROW_OF[names[1]] <= ROW_OF["fooddb"] or (
                    names[1] == "calculation" and path.stem.startswith("agreement_")
                )
                assert allowed, f"{path}:{line}: data_loaders must not import {module}"


def test_no_file_is_much_over_400_lines() -> None:
    long = {
        str(path.relative_to(ROOT)): lines
        for folder in ("mealcalc", "data_loaders", "tests", "benchmarks")
        for path in (ROOT / folder).rglob("*.py")
        for lines in [len(path.read_text(encoding="utf-8").splitlines())]
        if lines > 420
    }
    assert not long


def test_no_modules_import_each_other_in_a_circle() -> None:
    paths = [path for folder in ("mealcalc", "data_loaders") for path in (ROOT / folder).rglob("*.py")]
    name_of = {path: ".".join(path.relative_to(ROOT).with_suffix("").parts) for path in paths}
    # Records may name each other's types: a batch holds the results of its sub-batches, and each result its batch.
    modules = {name for name in name_of.values() if not name.startswith("mealcalc.records.")}
    used = {name_of[path]: {name for name, _ in _imports(path)} & modules for path in paths if name_of[path] in modules}
    # Modules that import nothing that is left are taken away until none is; what stays stands in a circle.
    left = set(used)
    while free := {name for name in left if not used[name] & (left - {name})}:
        left -= free
    assert left == set()
