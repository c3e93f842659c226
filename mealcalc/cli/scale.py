"""`mealcalc scale`: the recipe for another number of containers, or for what there is of one line."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from mealcalc.cli import app
from mealcalc.cli.inputs import STANDARD_INPUT, foods, read_recipe, saved_decisions, uncounted
from mealcalc.cli.streams import print_json, print_text, screen, tell
from mealcalc.errors import InputFileError, UsageError
from mealcalc.recipe.result import MOST_CONTAINERS

if TYPE_CHECKING:
    from mealcalc.records.scaling import ScaledBatch


@click.command("scale")
@app.file_argument
@click.option(
    "--containers", metavar="N", type=click.IntRange(1, MOST_CONTAINERS), help="To N containers of the same size."
)
@click.option("--line", "of_line", metavar="LINE=AMOUNT", help="To what there is: 'turkey mince=1.3 kg', 'eggs=9'.")
@click.option("--factor", metavar="X", help="By a factor: 1.5, 3/2 or 150%.")
@click.option("--keep-containers", is_flag=True, help="With --line or --factor: larger portions, not more containers.")
@click.option("--write", metavar="PATH", help="Write the scaled recipe file; - prints it instead of the table.")
@click.option("--exact", is_flag=True, help="Write amounts as they come out, not rounded for the kitchen.")
@click.option("--overwrite", is_flag=True, help="Write over a file that is there.")
@app.region_option
@app.json_option
def command(
    file: str,
    containers: int | None,
    of_line: str | None,
    factor: str | None,
    keep_containers: bool,
    write: str | None,
    exact: bool,
    overwrite: bool,
    region: str | None,
    as_json: bool,
) -> None:
    """Scale the recipe in FILE: exactly behind, rounded to what a kitchen can measure in front.

    Salt, spices, leavening, gelatine and cooking times are named, since they must not be scaled blindly.
    """
    if sum(option is not None for option in (containers, of_line, factor)) != 1:
        raise click.UsageError("give one of --containers, --line and --factor")
    if containers is not None and keep_containers:
        raise click.UsageError("--containers and --keep-containers exclude each other")
    if write is not None and file == STANDARD_INPUT:
        raise UsageError("a recipe on standard input is no file to write anew", "save it as a file")
    if exact and write is None:
        raise UsageError("--exact is about the file", "add --write PATH, or --write - to print it")
    from mealcalc import pipeline
    from mealcalc.planning import scaling
    from mealcalc.planning.scaled_batch import scale

    found = read_recipe(file, region)
    if found.batch is None:
        app.tell_diagnostics(found.diagnostics, notes=False)
        raise SystemExit(app.BAD_DATA)
    batch = found.batch
    decisions, unusable = saved_decisions(file)
    with foods() as database:
        result = pipeline.calculate(batch, database, decisions, diagnostics=(*unusable, *found.diagnostics))
        if containers is not None:
            chosen = scaling.by_containers(batch, containers)
        elif factor is not None:
            chosen = scaling.by_factor(batch, factor, keep_containers=keep_containers)
        else:
            chosen = scaling.by_line(batch, of_line or "", result.contributions, keep_containers=keep_containers)
        scaled = scale(chosen, result, database, decisions)
    if write is not None:
        _write(file, write, scaled, exact=exact, overwrite=overwrite)
    if as_json:
        from mealcalc.reports.scaling_text import scaling_shape

        print_json(scaling_shape(scaled))
    elif write == STANDARD_INPUT:
        for caution in scaled.cautions:
            tell(f"caution: {caution.what} ({', '.join(caution.foods)}): {caution.advice}")
    else:
        from mealcalc.reports.scaling_text import scaling_text

        print_text(scaling_text(scaled, screen()))
    app.tell_diagnostics(result.diagnostics, notes=False)
    app.leave(result.diagnostics, uncounted=uncounted(result.contributions))


def _write(file: str, target: str, scaled: "ScaledBatch", *, exact: bool, overwrite: bool) -> None:
    from mealcalc.planning.scaled_file import scaled_file
    from mealcalc.recipe.source import read_source
    from mealcalc.text_files import write_whole

    text = scaled_file(read_source(file), scaled, exact=exact)
    if target == STANDARD_INPUT:
        print_text(text if text.endswith("\n") else f"{text}\n")
        return
    path = Path(target)
    if path.exists() and not overwrite:
        raise UsageError(f"--write {path}: the file is there already", "name another one, or add --overwrite")
    if scaled.batch.sub_batches and path.resolve().parent != Path(file).resolve().parent:
        raise UsageError(
            f"--write {path}: the batch uses other batch files of its folder", f"write it beside {Path(file).name}"
        )
    try:
        write_whole(path, text)
    except OSError as error:
        raise InputFileError(f"{path}: cannot be written: {error.strerror or error}", "choose another place") from error
    tell(f"wrote {path}")
