"""What people read in the terminal about weighing out: grams for each container, its figures, whether it holds them."""

from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from mealcalc.records.portions import FilledContainer, Fit, WeighOut
from mealcalc.reports.plain import LONGEST_LINE, LONGEST_NAME, LONGEST_TITLE, one_line
from mealcalc.reports.screen import Screen, table
from mealcalc.reports.text import UNKNOWN, figure
from mealcalc.units import METRIC

FIGURES = (("ENERC_KCAL", "kcal", 0), ("PROCNT_G", "protein", 1), ("FAT_G", "fat", 1), ("CHOCDF_G", "carb.", 1))
"""What is shown of a container: food component, heading, decimals."""

_STYLES = {Fit.TIGHT: "yellow", Fit.TOO_SMALL: "bold red"}


def weigh_out_text(weighed: WeighOut, screen: Screen) -> str:
    """The answer of `mealcalc portion`."""
    result = weighed.result
    measures = "metric measures" if result.region == METRIC else f"measures of region {result.region}"
    room = f" of {weighed.room.brim_ml:g} ml" if weighed.room else ""
    count = len(weighed.containers)
    parts: list[RenderableType] = [
        Text(one_line(result.batch.title, LONGEST_TITLE), style="bold"),
        f"{count} container{'' if count == 1 else 's'}{room}, {measures}",
        "",
        _pots(weighed),
        "",
        _grams(weighed),
        "",
        _figures(weighed),
        "",
        _slips(weighed),
        "",
        *(Text(note, style="dim") for note in footnotes(weighed)),
    ]
    return screen.render(*parts)


def volume(container: FilledContainer) -> str:
    """The volume in a container, ml; '?' where it is not known."""
    return UNKNOWN if container.volume is None else container.volume.shown


def footnotes(weighed: WeighOut) -> list[str]:
    """Why weights and volumes are believed, and what is to be said beside them."""
    notes = [
        f"Mass of {one_line(c.name, LONGEST_NAME)}: {one_line(c.pot.ground, LONGEST_LINE)}." for c in weighed.components
    ]
    notes += [
        f"Volume of {one_line(c.name, LONGEST_NAME)}: {one_line(c.spread.ground, LONGEST_LINE)}."
        if c.spread
        else f"Volume of {one_line(c.name, LONGEST_NAME)}: not known, since its composition is not."
        for c in weighed.components
    ]
    if weighed.room is not None:
        notes.append(f"To freeze: {weighed.room.freezing_ml:.0f} ml; {one_line(weighed.room.headspace_ground, 300)}.")
    if any(not container.figures[key].complete for container in weighed.containers for key, _, _ in FIGURES):
        notes.append("≥ marks what is known where something is missing; `mealcalc macros` names the lines.")
    return [*notes, *(one_line(note, LONGEST_LINE) for note in weighed.notes)]


def _pots(weighed: WeighOut) -> RenderableType:
    block = _components_table(weighed, "g")
    rows = [
        ("in the pot", [c.pot_g for c in weighed.components]),
        ("stays in the pan", [c.residue_g for c in weighed.components]),
        ("left over", [c.leftover_g for c in weighed.components]),
        ("into containers", [sum(c.grams) for c in weighed.components]),
    ]
    for label, grams in rows:
        if any(grams) or label == "into containers":
            block.add_row(label, *map(str, grams), *([str(sum(grams))] if len(grams) > 1 else []))
    return block


def _grams(weighed: WeighOut) -> RenderableType:
    block = _components_table(weighed, "container, g")
    block.add_column("ml", justify="right", no_wrap=True)
    fits = weighed.room is not None
    if fits:
        block.add_column("to the brim", no_wrap=True)
        block.add_column("to freeze", no_wrap=True)
    for numbers, container in weighed.runs:
        cells: list[str | Text] = [_label(numbers, container), *map(str, container.grams)]
        cells += [str(container.mass_g)] if len(container.grams) > 1 else []
        cells.append(volume(container))
        if fits:
            cells += [Text(fit.value, style=_STYLES.get(fit, "")) for fit in (container.fit, container.fit_frozen)]
        block.add_row(*cells)
    return block


def _figures(weighed: WeighOut) -> RenderableType:
    block = table()
    block.add_column("in one container", no_wrap=True)
    for _, heading, _ in FIGURES:
        block.add_column(heading, justify="right", no_wrap=True, min_width=7)
    for numbers, container in weighed.runs:
        block.add_row(
            _label(numbers, container), *(figure(container.figures[key], decimals) for key, _, decimals in FIGURES)
        )
    return block


def _slips(weighed: WeighOut) -> RenderableType:
    block = table()
    block.add_column("10 g more or less of", no_wrap=True)
    for _, heading, _ in FIGURES:
        block.add_column(heading, justify="right", no_wrap=True, min_width=7)
    for component in weighed.components:
        cells = [figure(component.slip[key], max(1, decimals)) for key, _, decimals in FIGURES]
        block.add_row(Text(one_line(component.name, LONGEST_NAME)), *cells)
    return block


def _components_table(weighed: WeighOut, heading: str) -> Table:
    block = table()
    block.add_column(heading, no_wrap=True)
    for component in weighed.components:
        block.add_column(Text(one_line(component.name, LONGEST_NAME)), justify="right", min_width=9, max_width=16)
    if len(weighed.components) > 1:
        block.add_column("together", justify="right", no_wrap=True)
    return block


def _label(numbers: str, container: FilledContainer) -> Text:
    return Text(f"{numbers} {one_line(container.eater, 24)}".strip())
