"""`mealcalc freeze`: keeps a dated record of what was stated, and says later what changed and why."""

from collections.abc import Mapping
from pathlib import Path

import click

from mealcalc.cli import app
from mealcalc.cli.batch import calculated
from mealcalc.cli.inputs import STANDARD_INPUT
from mealcalc.cli.keep import today
from mealcalc.cli.labelled import dish_of, package_options, scheme_of, scheme_option
from mealcalc.cli.streams import print_json, print_text, screen, tell
from mealcalc.errors import UsageError
from mealcalc.records.frozen import FrozenRecord
from mealcalc.text_files import beside


@click.command("freeze")
@app.file_argument
@scheme_option
@click.option("--variant", metavar="NAME", help="Freeze a variant that the file defines.")
@app.region_option
@package_options
@click.option("--also", multiple=True, metavar="ROW", help="A voluntary row of the panel, or all.")
@click.option("--check", is_flag=True, help="Freeze nothing: show what changed since the last records, and why.")
@app.json_option
def command(
    file: str,
    scheme: str | None,
    variant: str | None,
    region: str | None,
    cooked_mass_g: float | None,
    volume_ml: float | None,
    servings: float,
    reference_amount_g: float | None,
    also: tuple[str, ...],
    check: bool,
    as_json: bool,
) -> None:
    """Keep a dated record of what is stated of the batch in FILE, in <batch>.published.yaml beside it.

    With --check: which printed figures are others now, and why (a line, a food, the edition of a table, cooking, the
    code of this tool). Exit status 1 where a printed figure changed. A check asks as the record was asked for.
    """
    from mealcalc.planning.frozen_file import read_records, write_records

    if file == STANDARD_INPUT:
        raise UsageError("standard input has no place beside which a record could stand", "save the recipe as a file")
    path = beside(Path(file), "published")
    records = read_records(path)
    if check:
        _check(file, path, _latest(records, scheme, variant), region, as_json)
        return
    given = {
        "cooked_mass_g": cooked_mass_g,
        "volume_ml": volume_ml,
        "servings": servings if servings != 1 else None,
        "reference_amount_g": reference_amount_g,
    }
    package = {name: value for name, value in given.items() if value is not None}
    record = _record_now(file, scheme, variant, region, also, package)
    write_records(path, (*records, record))
    tell(f"kept in {path}: {len(record.rows)} rows, {len(record.lines)} lines, {record.stated}")
    if as_json:
        print_json({"file": str(path), "stated": record.stated.isoformat(), "records": len(records) + 1})


def _check(file: str, path: Path, records: tuple[FrozenRecord, ...], region: str | None, as_json: bool) -> None:
    from mealcalc.planning.frozen_comparison import compare

    if not records:
        raise UsageError(f"{path} holds no record that is asked for", f"keep one: mealcalc freeze {file}")
    comparisons = []
    for record in records:
        now = _record_now(file, record.scheme, record.variant or None, region, record.voluntary, record.package)
        comparisons.append(compare(record, now))
    from mealcalc.reports.frozen_text import comparisons_shape, comparisons_text

    if as_json:
        print_json(comparisons_shape(comparisons))
    else:
        print_text(comparisons_text(comparisons, screen()))
    if not all(comparison.same for comparison in comparisons):
        raise SystemExit(app.BAD_DATA)


def _latest(records: tuple[FrozenRecord, ...], scheme: str | None, variant: str | None) -> tuple[FrozenRecord, ...]:
    """The last record of each scheme and variant, of those that are asked for."""
    last = {record.asked_for: record for record in records}
    return tuple(
        record
        for record in last.values()
        if (scheme is None or record.scheme == scheme.strip().lower())
        and (variant is None or record.variant.casefold() == variant.casefold())
    )


def _record_now(
    file: str,
    scheme: str | None,
    variant: str | None,
    region: str | None,
    also: tuple[str, ...],
    package: Mapping[str, float],
) -> FrozenRecord:
    """The record of the batch as it is now."""
    from mealcalc.labelling.panel import make_panel
    from mealcalc.planning.frozen import freeze

    with calculated(file, region, variant) as (result, _, _):
        law = scheme_of(scheme, result)
    dish = dish_of(
        result,
        cooked_mass_g=package.get("cooked_mass_g"),
        volume_ml=package.get("volume_ml"),
        servings=package.get("servings", 1.0),
        reference_amount_g=package.get("reference_amount_g"),
    )
    panel = make_panel(dish, law, voluntary=also)
    app.tell_diagnostics((*result.diagnostics, *panel.diagnostics), notes=False)
    return freeze(result, panel, today(), variant=variant or "", voluntary=also, package=package)
