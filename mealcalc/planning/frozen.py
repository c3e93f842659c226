"""What is stated of a batch, as a record; and what changed since an older record, with the reasons."""

import hashlib
from collections.abc import Mapping
from datetime import date
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from importlib.resources import files
from importlib.resources.abc import Traversable

from mealcalc.labelling.panel import Panel
from mealcalc.records import BatchResult, Contribution, LineStatus
from mealcalc.records.frozen import FrozenComponent, FrozenLine, FrozenRecord, FrozenRow

DIGITS = 4
"""Decimals of the amounts in a record."""

MACROS = ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G", "CHOAVLDF_G", "FIBTG_G", "NA_MG")
LINE_KEYS = (*MACROS, "FASAT_G", "SUGAR_G", "CHOLE_MG", "K_MG", "CA_MG", "FE_MG", "VITD_UG")


def freeze(
    result: BatchResult,
    panel: Panel,
    stated: date,
    *,
    variant: str = "",
    voluntary: tuple[str, ...] = (),
    package: Mapping[str, float] | None = None,
) -> FrozenRecord:
    """The record of what is stated.

    Parameters
    ----------
    result : BatchResult
        The calculated batch.
    panel : Panel
        Its panel.
    stated : date
        The day.
    variant, voluntary, package :
        How it was asked for, so that it can be asked for again.
    """
    return FrozenRecord(
        stated=stated,
        version=tool_version(),
        code=fingerprint(".py"),
        tables=fingerprint(".csv", ".tsv", ".toml"),
        title=result.batch.title,
        region=result.region,
        containers=result.batch.containers,
        scheme=panel.scheme,
        energy_method=panel.energy_method,
        variant=variant,
        voluntary=voluntary,
        package=dict(package or {}),
        rows=tuple(
            FrozenRow(
                row.row,
                row.name,
                row.key,
                row.unit,
                None if row.raw_per_portion is None else round(row.raw_per_portion, DIGITS),
                row.printed_per_portion,
                row.printed_per_100g,
                row.percent,
            )
            for row in panel.rows
        ),
        macros={key: round(result.per_container[key].amount, DIGITS) for key in MACROS if key in result.per_container},
        components=tuple(
            FrozenComponent(
                c.component.name,
                c.component.cooking,
                round(c.cooked_mass_g, DIGITS) if c.cooked_mass_known else None,
            )
            for c in result.components
        ),
        lines=tuple(_line(c, result) for c in result.contributions if _is_food(c)),
    )


def tool_version() -> str:
    """Version of the installed package; 'source' where it is run without being installed."""
    try:
        return version("mealcalc")
    except PackageNotFoundError:
        return "source"


@cache
def fingerprint(*endings: str) -> str:
    """Short checksum over the package's files of some endings: the same code, or tables, give the same."""
    digest = hashlib.sha256()
    for name, content in sorted(_files(files("mealcalc"), "", endings)):
        digest.update(f"{name}\0{len(content)}\0".encode())
        digest.update(content)
    return digest.hexdigest()[:12]


def _files(folder: Traversable, path: str, endings: tuple[str, ...]) -> list[tuple[str, bytes]]:
    found = []
    for entry in folder.iterdir():
        name = f"{path}/{entry.name}"
        if entry.is_dir():
            found += _files(entry, name, endings)
        elif entry.name.endswith(endings):
            found.append((name, entry.read_bytes()))
    return found


def _line(contribution: Contribution, result: BatchResult) -> FrozenLine:
    matched, line = contribution.ingredient.matched, contribution.line
    food, mass_g = matched.food, contribution.ingredient.mass_g
    containers = result.batch.containers
    return FrozenLine(
        component=line.component,
        text=line.text,
        table="" if food is None else food.table,
        edition="" if food is None else food.edition,
        code="" if food is None else food.code,
        food="" if food is None else food.description,
        mass_g=None if mass_g is None else round(mass_g, DIGITS),
        used_share=contribution.ingredient.used_share,
        amounts={key: _share(contribution.amounts.get(key), containers) for key in LINE_KEYS},
    )


def _share(amount: float | None, containers: int) -> float | None:
    return None if amount is None else round(amount / containers, DIGITS)


def _is_food(contribution: Contribution) -> bool:
    return contribution.ingredient.matched.status is not LineStatus.NOT_FOOD
