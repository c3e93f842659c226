"""`mealcalc portion`: weighing out, from the pot on the scale to the containers, and the batch as it was cooked."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from mealcalc.cli import app
from mealcalc.cli.configuration import configuration_path
from mealcalc.cli.inputs import STANDARD_INPUT, foods, read_recipe, saved_decisions, uncounted
from mealcalc.cli.keep import DAY_HELP, day, today
from mealcalc.cli.recorded import as_cooked_option, recorded_day
from mealcalc.cli.streams import print_json, print_text, screen, tell
from mealcalc.errors import ConfigurationError, InputFileError, UsageError
from mealcalc.recipe.result import MOST_CONTAINERS

if TYPE_CHECKING:
    from mealcalc.records import Batch
    from mealcalc.records.portions import CookedBatch, PotWeight, Temperature, WeighOut


@click.command("portion")
@click.argument("file", metavar="[FILE]", required=False)
@click.option("--weighed", multiple=True, metavar="NAME=WEIGHT", help="Cooked weight: '2140 g', or '3120 g gross'.")
@click.option("--pot", metavar="NAME", help="Saved pot that gross weights were weighed in.")
@click.option("--tare", metavar="WEIGHT", help="Empty weight of the pot, where it is not saved.")
@click.option("--save-pot", multiple=True, metavar="NAME=WEIGHT", help="Save the empty weight of a pot.")
@click.option("--residue", multiple=True, metavar="NAME=WEIGHT", help="What stays in the pan.")
@click.option("--fill", multiple=True, metavar="NAME=WEIGHT", help="So much into a container; the rest is left over.")
@click.option("--shares", metavar="LIST", help="Share of each container: '30%, 30%, 25%'; the rest is left over.")
@click.option("--eater", multiple=True, metavar="NAME=SHARE", help="Whose container, how large: 'adult=1.5', '=1.5x4'.")
@click.option("--containers", metavar="N", type=click.IntRange(1, MOST_CONTAINERS), help="Overrules the file.")
@click.option("--container-volume", metavar="VOLUME", help="Volume of a container, such as 650ml. Overrules the file.")
@click.option("--height", metavar="LENGTH", help="Its inner height, such as 6cm: for headspace by a published gap.")
@click.option("--sheet", metavar="PATH", help="Write a sheet to print: .html or .txt.")
@click.option("--overwrite", is_flag=True, help="Write the sheet over a file that is there.")
@click.option("--record", is_flag=True, help="Record the batch as cooked beside FILE, in <batch>.cooked.yaml.")
@click.option("--date", "cooked_on", metavar="DATE", help=f"Day of cooking, {DAY_HELP}.")
@click.option("--temperature", multiple=True, metavar="STEP=T", help="Record 'cooking=76 C', 'cooling=20 C after 2 h'.")
@as_cooked_option
@app.region_option
@click.option("--variant", metavar="NAME", help="A variant that the file defines.")
@app.json_option
@app.csv_option
def command(
    file: str | None,
    weighed: tuple[str, ...],
    pot: str | None,
    tare: str | None,
    save_pot: tuple[str, ...],
    residue: tuple[str, ...],
    fill: tuple[str, ...],
    shares: str | None,
    eater: tuple[str, ...],
    containers: int | None,
    container_volume: str | None,
    height: str | None,
    sheet: str | None,
    overwrite: bool,
    record: bool,
    cooked_on: str | None,
    temperature: tuple[str, ...],
    as_cooked: str | None,
    region: str | None,
    variant: str | None,
    as_json: bool,
    as_csv: bool,
) -> None:
    """Weigh out the cooked batch in FILE: grams of each component into each container, to the gram.

    NAME is a component; leave it out where there is one. Containers are equal unless shares or eaters are given here,
    or eaters in the file. With --record the real pot is kept beside the plan, for `mealcalc macros FILE --as-cooked`.
    """
    app.refuse_both(as_json, as_csv)
    _save_pots(save_pot)
    if file is None:
        if save_pot:
            return
        raise click.UsageError("Missing argument 'FILE'.")
    if file == STANDARD_INPUT and (record or temperature or as_cooked):
        raise UsageError("standard input has no journal beside it", "save the batch as a file")
    if as_cooked is not None and (weighed or residue or fill or shares or eater or containers or record):
        raise UsageError("--as-cooked shows what was recorded", "leave out what changes it, or leave out --as-cooked")
    if sum(map(bool, (shares, eater))) > 1 or (shares and (fill or containers)):
        raise UsageError("--shares says all of each container", "leave out --eater, --fill and --containers")
    from mealcalc import pipeline
    from mealcalc.planning import cooked_record, portioning, weighings
    from mealcalc.planning.as_cooked import as_recorded
    from mealcalc.planning.portion_checks import check_cooked_on, check_room

    found = read_recipe(file, region)
    if found.batch is None:
        app.tell_diagnostics(found.diagnostics, notes=False)
        raise SystemExit(app.BAD_DATA)
    batch, diagnostics = found.batch, found.diagnostics
    journal = cooked_record.cooked_path(Path(file))
    temperatures = tuple(weighings.temperature_in(batch, text) for text in temperature)
    if temperatures and not record:
        _record_temperatures(journal, cooked_on, temperatures)
        return
    cooking = None
    if as_cooked is not None:
        cooking = cooked_record.cooking_of(journal, recorded_day(as_cooked))
        variant = cooking.variant or variant
    if variant is not None:
        from mealcalc.planning.variants import apply_variant

        batch = apply_variant(batch, variant)
    if containers is not None or shares:
        count = len(weighings.shares_in(shares)) if shares else containers
        batch = replace(batch, containers=count or 1)
        diagnostics = tuple(d for d in diagnostics if d.code not in ("containers-assumed", "bad-containers"))
    room = weighings.room_in(batch, container_volume, height)
    if cooking is None:
        pots = _pots(batch, weighed, pot, tare)
        division = portioning.Division(
            shares=weighings.shares_in(shares) if shares else (),
            eaters=() if shares else weighings.eaters_in(eater) or batch.eaters,
            fills_g=weighings.masses(batch, fill, "--fill"),
            residue_g=weighings.masses(batch, residue, "--residue"),
        )
    else:
        batch, pots, division = as_recorded(batch, cooking)
    cooked = day(cooked_on, "--date") or (cooking.day if cooking else today())
    of_day = check_cooked_on(cooked, today())
    decisions, unusable = saved_decisions(file)
    with foods() as database:
        result = pipeline.calculate(
            portioning.with_weights(batch, pots), database, decisions, diagnostics=(*unusable, *diagnostics)
        )
        answer = portioning.weigh_out(result, division, database, pots=pots, room=room)
    findings = (*result.diagnostics, *of_day, *check_room(answer))
    answer = replace(answer, result=replace(result, diagnostics=findings))
    if sheet is not None:
        _write_sheet(Path(sheet), answer, cooked, overwrite=overwrite)
    if record:
        _record(
            journal, replace(cooked_record.as_entry(answer, cooked, batch, variant or ""), temperatures=temperatures)
        )
    _print(answer, as_json=as_json, as_csv=as_csv)
    app.tell_diagnostics(findings, notes=False)
    app.leave(findings, uncounted=uncounted(result.contributions))


def _print(answer: "WeighOut", *, as_json: bool, as_csv: bool) -> None:
    if as_json:
        from mealcalc.reports.weigh_out_json import weigh_out_shape

        print_json(weigh_out_shape(answer))
    elif as_csv:
        from mealcalc.reports.weigh_out_json import weigh_out_csv

        print_text(weigh_out_csv(answer))
    else:
        from mealcalc.reports.weigh_out_text import weigh_out_text

        print_text(weigh_out_text(answer, screen()))


def _pots_path() -> Path:
    from mealcalc.planning.pots import FILE_NAME

    return configuration_path().with_name(FILE_NAME)


def _save_pots(texts: Sequence[str]) -> None:
    from mealcalc.planning.pots import save_pot
    from mealcalc.planning.weighings import mass_in

    path = _pots_path()
    for text in texts:
        name, equals, value = (part.strip() for part in text.rpartition("="))
        if not equals:
            raise UsageError(f"--save-pot '{text[:80]}' is not NAME=WEIGHT", "write it like --save-pot 'big pot=980 g'")
        mass_g = mass_in(value, f"--save-pot '{text[:80]}'")
        try:
            before_g = save_pot(path, name, mass_g)
        except OSError as error:
            raise ConfigurationError(
                f"{path}: cannot be written: {error.strerror or error}", "check the folder"
            ) from error
        was = "" if before_g is None or before_g == mass_g else f" (it was {before_g:g} g)"
        tell(f"saved the pot '{name}', {mass_g:g} g empty{was}, in {path}")


def _pots(batch: "Batch", texts: Sequence[str], pot: str | None, tare: str | None) -> dict[str, "PotWeight"]:
    from mealcalc.planning import weighings
    from mealcalc.planning.pots import load_pots

    if pot and tare:
        raise UsageError("--pot and --tare both say what the pot weighs", "give one of the two")
    if (pot or tare) and not texts:
        raise UsageError("a pot is named, and no weight with it", "add --weighed 'NAME=3120 g gross'")
    tare_g = weighings.mass_in(tare, "--tare") if tare else None
    scale = weighings.Scale(load_pots(_pots_path()) if texts else {}, pot or "", tare_g)
    return weighings.pots_in(batch, texts, scale)


def _write_sheet(path: Path, answer: "WeighOut", cooked: date, *, overwrite: bool) -> None:
    from mealcalc.reports.weigh_out_sheet import sheet_html, sheet_text
    from mealcalc.text_files import write_whole

    makers = {".html": sheet_html, ".htm": sheet_html, ".txt": sheet_text}
    make = makers.get(path.suffix.lower())
    if make is None:
        raise UsageError(f"--sheet {path}: a sheet is written as .html or .txt", "name it like weigh-out.html")
    if path.exists() and not overwrite:
        raise UsageError(f"--sheet {path}: the file is there already", "name another one, or add --overwrite")
    try:
        write_whole(path, make(answer, cooked))
    except OSError as error:
        raise InputFileError(f"{path}: cannot be written: {error.strerror or error}", "choose another place") from error
    tell(f"wrote {path}")


def _record_temperatures(journal: Path, cooked_on: str | None, temperatures: "tuple[Temperature, ...]") -> None:
    from mealcalc.planning.cooked_record import cooking_of
    from mealcalc.records.portions import CookedBatch

    cooking = cooking_of(journal, day(cooked_on, "--date"))
    _record(journal, CookedBatch(cooking.day, temperatures=temperatures))


def _record(journal: Path, entry: "CookedBatch") -> None:
    from mealcalc.planning.cooked_record import add_cooking

    try:
        add_cooking(journal, entry)
    except OSError as error:
        raise InputFileError(
            f"{journal}: nothing is recorded: {error.strerror or error}", "copy the recipe to a folder of your own"
        ) from error
    tell(f"recorded the cooking of {entry.day} in {journal}")
