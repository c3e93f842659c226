"""`mealcalc cool`: how long food takes to cool in its container, against published limits."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from mealcalc.cli import app
from mealcalc.cli.batch import calculated
from mealcalc.cli.inputs import uncounted
from mealcalc.cli.keep import authority_option
from mealcalc.cli.streams import print_json, print_text, screen, tell
from mealcalc.diagnostics import Diagnostic
from mealcalc.errors import UsageError
from mealcalc.records import BatchResult

if TYPE_CHECKING:
    from mealcalc.planning.cooling_setting import Container, Surroundings

ANY_DEPTH_M = 0.01
PLACES = {"fridge": "fridge", "fridge-still": "fridge_still", "blast": "blast", "room": "room"}
PARTS = ("water", "protein", "fat", "carbohydrate", "fibre", "ash")


def _composition_options(command: app.Command) -> app.Command:
    for part in reversed(PARTS):
        command = click.option(
            f"--{part}", type=float, metavar="G", help=f"Grams of {part} in 100 g, instead of a recipe."
        )(command)
    return command


@click.command("cool")
@click.argument("file", metavar="[FILE]", required=False)
@_composition_options
@click.option("--depth", metavar="LENGTH", help="Depth of the food, such as 5cm. From the recipe's weight if left out.")
@click.option(
    "--container",
    "shape",
    type=click.Choice(["tray", "box", "pot"]),
    default="tray",
    show_default=True,
    help="A wide tray, whose sides are left out; a box; a round pot.",
)
@click.option("--length", metavar="LENGTH", help="Inner length of a box.")
@click.option("--width", metavar="LENGTH", help="Inner width of a box.")
@click.option("--diameter", metavar="LENGTH", help="Inner diameter of a pot.")
@click.option("--material", metavar="NAME", help="plastic, glass, steel or ceramic; default plastic, steel for a pot.")
@click.option("--lid", is_flag=True, help="A lid is on, with a gap of air below it.")
@click.option(
    "--on", type=click.Choice(["rack", "shelf"]), default="rack", show_default=True, help="Air below, or not."
)
@click.option("--stirred", is_flag=True, help="The food is stirred all the time.")
@click.option("--start", default="60C", show_default=True, metavar="TEMPERATURE", help="Temperature of the food.")
@click.option("--place", type=click.Choice(list(PLACES)), default="fridge", show_default=True, help="Where it cools.")
@click.option("--air", metavar="TEMPERATURE", help="Measured temperature there; default that usual for the place.")
@click.option("--ice-bath", is_flag=True, help="In stirred ice water up to the level of the food.")
@click.option("--room", metavar="TEMPERATURE", help="First at room temperature, such as 21C.")
@click.option("--room-time", default="1h", show_default=True, metavar="DURATION", help="How long, with --room.")
@click.option("--ambient", is_flag=True, help="Made from ingredients at room temperature, not cooked.")
@authority_option
@app.region_option
@app.json_option
@app.csv_option
@click.option(
    "--plot", type=click.Path(dir_okay=False, path_type=Path), metavar="PATH", help="Draw the curve (png, svg)."
)
def command(
    file: str | None,
    water: float | None,
    protein: float | None,
    fat: float | None,
    carbohydrate: float | None,
    fibre: float | None,
    ash: float | None,
    depth: str | None,
    shape: str,
    length: str | None,
    width: str | None,
    diameter: str | None,
    material: str | None,
    lid: bool,
    on: str,
    stirred: bool,
    start: str,
    place: str,
    air: str | None,
    ice_bath: bool,
    room: str | None,
    room_time: str,
    ambient: bool,
    authority: tuple[str, ...],
    region: str | None,
    as_json: bool,
    as_csv: bool,
    plot: Path | None,
) -> None:
    """How long food takes to cool, as a band, against the limits that authorities publish.

    FILE is a recipe, whose composition decides how its heat leaves it; or give the composition with --water and so on.
    The model is conduction under stated assumptions. It predicts; only a probe measures.
    """
    app.refuse_both(as_json, as_csv)
    from mealcalc.planning import cooling
    from mealcalc.planning.readings import length_m
    from mealcalc.reference.keeping_tables import chosen_authorities

    chosen = chosen_authorities(name for names in authority for name in names.split(","))
    parts = dict(zip(PARTS, (water, protein, fat, carbohydrate, fibre, ash), strict=True))
    percent = {part: grams for part, grams in parts.items() if grams is not None}
    if (file is None) == (not percent):
        raise UsageError(
            "give either a recipe file or a composition",
            "mealcalc cool FILE --depth 5cm, or: mealcalc cool --depth 5cm --water 76 --protein 8 --fat 6 ...",
        )
    start_c, around = _surroundings(start, place, air, ice_bath, room, room_time)
    sizes = Sizes(
        shape=shape,
        depth_m=None if depth is None else length_m(depth, "--depth"),
        length_m=None if length is None else length_m(length, "--length"),
        width_m=None if width is None else length_m(width, "--width"),
        diameter_m=None if diameter is None else length_m(diameter, "--diameter"),
    )
    result = None
    diagnostics: list[Diagnostic] = []
    if file is None:
        foods, title = [cooling.food_from_shares(**percent)], "Food of a given composition"
    else:
        with calculated(file, region, None) as (result, _, _):
            foods, found = cooling.foods_of(result)
        title = result.batch.title
        diagnostics += [*result.diagnostics, *found]
    if not foods:
        app.tell_diagnostics(diagnostics, notes=False)
        raise SystemExit(app.BAD_DATA)
    container = _container(sizes, result, start_c, material, lid=lid, raised=on == "rack", stirred=stirred)
    prediction, found = cooling.predict(foods, container, around, start_c, chosen, title=title, ambient=ambient)
    diagnostics += found
    if plot is not None:
        from mealcalc.reports.cooling_plot import plot_cooling

        plot_cooling(prediction, plot)
        tell(f"curve drawn in {plot}")
    if as_json:
        from mealcalc.reports.cooling_json import cooling_shape

        print_json(cooling_shape(prediction, diagnostics))
    elif as_csv:
        from mealcalc.reports.cooling_json import cooling_csv

        print_text(cooling_csv(prediction))
    else:
        from mealcalc.reports.cooling_text import cooling_text

        print_text(cooling_text(prediction, screen()))
    app.tell_diagnostics(diagnostics, notes=False)
    app.leave(diagnostics, uncounted=result is not None and uncounted(result.contributions))


@dataclass(frozen=True, slots=True)
class Sizes:
    """Sizes as given with the call, in m; None where not given."""

    shape: str
    depth_m: float | None
    length_m: float | None
    width_m: float | None
    diameter_m: float | None


def _surroundings(
    start: str, place: str, air: str | None, ice_bath: bool, room: str | None, room_time: str
) -> "tuple[float, tuple[Surroundings, ...]]":
    """Temperature of the food at the start, C, and what it stands in, in order."""
    from mealcalc.planning.cooling_setting import make_surroundings
    from mealcalc.planning.readings import duration_h, temperature_c

    if ice_bath and air is not None:
        raise UsageError("--air and --ice-bath exclude each other", "ice water is at 0.5 C while there is ice in it")
    air_c = None if air is None else temperature_c(air, "--air")
    around = [make_surroundings("ice_bath" if ice_bath else PLACES[place], air_c)]
    if room is not None:
        first = make_surroundings("room", temperature_c(room, "--room"), duration_h(room_time, "--room-time"))
        around.insert(0, first)
    return temperature_c(start, "--start"), tuple(around)


def _container(
    sizes: Sizes,
    result: BatchResult | None,
    start_c: float,
    material: str | None,
    *,
    lid: bool,
    raised: bool,
    stirred: bool,
) -> "Container":
    """The container; its depth from the recipe's weight where none is given."""
    from mealcalc.planning.cooling import depth_of
    from mealcalc.planning.cooling_setting import make_container

    pot = sizes.shape == "pot"
    width_m = sizes.diameter_m if pot else sizes.width_m

    def make(depth_m: float) -> "Container":
        return make_container(
            sizes.shape,
            depth_m,
            material=material or ("steel" if pot else "plastic"),
            length_m=sizes.length_m,
            width_m=width_m,
            lidded=lid,
            raised=raised,
            stirred=stirred,
        )

    if sizes.depth_m is not None:
        return make(sizes.depth_m)
    depth_m = None
    if result is not None and width_m is not None and (pot or sizes.length_m is not None):
        depth_m = depth_of(result, make(ANY_DEPTH_M).base_m2, start_c)
    if depth_m is None:
        raise UsageError(
            "how deep is the food?",
            "give --depth 5cm; or a recipe of known weight, and --length and --width of its box",
        )
    return make(depth_m)
