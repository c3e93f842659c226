"""What people read of `mealcalc claimed`: someone's figures beside ours, and what would explain the difference."""

from collections import defaultdict
from collections.abc import Iterator

from rich.console import RenderableType
from rich.text import Text

from mealcalc.components import FOOD_COMPONENTS, KJ_PER_KCAL
from mealcalc.records.claims import (
    AGREES_WITHIN,
    AVAILABLE,
    EXPLAINS_FROM,
    EXPLAINS_TO_SD,
    TOTAL,
    ClaimedFigure,
    ClaimExplanation,
    ClaimReport,
)
from mealcalc.reference.label_tolerances import COUNTS_FIBRE, label_tolerances
from mealcalc.reports.plain import LONGEST_LINE, LONGEST_TITLE, one_line
from mealcalc.reports.screen import Screen, table

_NAMES = {
    "ENERC_KCAL": "energy",
    "PROCNT_G": "protein",
    "FAT_G": "fat",
    TOTAL: "carbohydrate, with fibre",
    AVAILABLE: "carbohydrate, without fibre",
    "FIBTG_G": "fibre",
}
_WIDE = 96
"""Columns from which the tolerance stands in the table of figures."""


def claim_text(report: ClaimReport, screen: Screen) -> str:
    """The answer of `mealcalc claimed`."""
    wide = screen.width >= _WIDE
    batch = report.result.batch
    where = "in one container" if batch.containers > 1 else "in the whole batch"
    parts: list[RenderableType] = [
        Text(one_line(batch.title, LONGEST_TITLE), style="bold"),
        f"Claimed figures beside ours, {where}",
        "",
        _figures_table(report, wide=wide),
        "",
        *(Text(sentence) for sentence in _sentences(report, wide=wide)),
        "",
        *_explanation_blocks(report),
        "",
        *(Text(sentence, "dim") for sentence in _grounds(report)),
    ]
    return screen.render(*parts)


def _figures_table(report: ClaimReport, *, wide: bool) -> RenderableType:
    block = table()
    block.add_column("", no_wrap=True)
    block.add_column("", no_wrap=True)
    block.add_column("claimed", justify="right", no_wrap=True)
    block.add_column("ours", justify="right", no_wrap=True, style="bold")
    block.add_column("90 % between", no_wrap=True)
    block.add_column("claim in it", no_wrap=True)
    if wide and report.scheme:
        block.add_column(f"tolerance ({report.scheme})")
    for figure in report.figures:
        decimals = _decimals(figure.key)
        missing = "" if figure.complete else "≥ "
        between = "unknown" if figure.low is None else f"{figure.low:.{decimals}f} and {figure.high:.{decimals}f}"
        inside = {True: "yes", False: "NO", None: "?"}[figure.in_interval]
        row = [
            _NAMES[figure.key],
            FOOD_COMPONENTS[figure.key].unit,
            f"{figure.claimed:.{decimals}f}",
            f"{missing}{figure.ours:.{decimals}f}",
            between,
            inside,
        ]
        block.add_row(*row, *([_tolerance(figure)] if wide and report.scheme else []))
    return block


def _tolerance(figure: ClaimedFigure) -> str:
    """Whether the food may hold what we find when the claim is what its label declares."""
    tolerance = figure.tolerance
    if tolerance is None:
        return "none published"
    decimals = _decimals(figure.key)
    holds = "holds" if tolerance.holds else "BROKEN"
    # A law may define carbohydrate otherwise than the claim seems to.
    other = f" for {tolerance.ours:.{decimals}f}" if tolerance.ours != figure.ours else ""
    if tolerance.low is None:
        return f"{holds}{other}: at most {tolerance.high:.{decimals}f}"
    if tolerance.high is None:
        return f"{holds}{other}: at least {tolerance.low:.{decimals}f}"
    return f"{holds}{other}: {tolerance.low:.{decimals}f} to {tolerance.high:.{decimals}f}"


def _sentences(report: ClaimReport, *, wide: bool) -> Iterator[str]:
    if report.scheme and not wide:
        for figure in report.figures:
            yield f"Tolerance ({report.scheme}), {_NAMES[figure.key]}: {_tolerance(figure)}."
    if report.claim.energy_in_kj and report.claim.energy_kcal is not None:
        energy_kj = report.claim.energy_kcal * KJ_PER_KCAL
        yield f"Claimed energy: {energy_kj:.0f} kJ is {report.claim.energy_kcal:.0f} kcal."
    energy = report.energy
    if energy is not None:
        whose = "" if report.claim.fibre_g is not None else " (ours)"
        macros = _agreement(energy.by_macros_kcal, agrees=energy.by_macros_agrees)
        fibre = _agreement(energy.with_fibre_kcal, agrees=energy.with_fibre_agrees)
        yield (
            f"Claimed energy against the claimed macros: by 4-4-9 {macros}; if that carbohydrate is without fibre, "
            f"{energy.fibre_g:.1f} g of fibre{whose} at 2 kcal added, {fibre}."
        )
    if report.carbohydrate:
        yield _carbohydrate_sentence(report)
    unknown = sorted({line for f in report.figures for line in report.result.totals[f.key].unknown_lines})
    if unknown:
        lines = ", ".join(map(str, unknown))
        yield f"Ours is a lower bound: not known of line{'s' if len(unknown) > 1 else ''} {lines}."


def _agreement(energy_kcal: float, *, agrees: bool) -> str:
    return f"{energy_kcal:.0f} kcal, {'agrees' if agrees else 'DISAGREES'}"


def _carbohydrate_sentence(report: ClaimReport) -> str:
    with_fibre, without = report.total_carbohydrate_g, report.available_carbohydrate_g
    ours = f"ours is {with_fibre:.1f} g with fibre, {without:.1f} g without"
    if not report.carbohydrate_sure:
        return f"Carbohydrate: {ours}; they are too near each other to tell which was counted."
    counted = report.carbohydrate == TOTAL
    law = ""
    if report.scheme and COUNTS_FIBRE[report.scheme] != counted:
        law = f"; labels under '{report.scheme}' count it {'with' if COUNTS_FIBRE[report.scheme] else 'without'} fibre"
    changed = ""
    if report.explained and report.explanations[0].carbohydrate != report.carbohydrate:
        changed = f"; with the first change below to ours {_fibre(report.explanations[0].carbohydrate)}"
    return f"Carbohydrate: the claim is nearer to ours {_fibre(report.carbohydrate)} ({ours}){changed}{law}."


def _fibre(carbohydrate: str) -> str:
    return "with fibre" if carbohydrate == TOTAL else "without fibre"


def _explanation_blocks(report: ClaimReport) -> Iterator[RenderableType]:
    if report.agrees:
        yield Text("Every claimed figure lies within our interval: there is no difference to explain.")
        return
    if not report.explained:
        best = report.explanations[0].removed if report.explanations else 0.0
        removes = f"of {report.tried} tried, the best removes {100 * best:.0f} % of it"
        yield Text(f"NO SINGLE CHANGE EXPLAINS THE DIFFERENCE: {removes}.", "bold")
    else:
        yield Text(f"What would explain the difference best, one change at a time ({report.tried} tried):", "bold")
    if report.explanations:
        yield ""
        yield _explanations_table(report)


def _explanations_table(report: ClaimReport) -> RenderableType:
    block = table()
    block.add_column("", no_wrap=True)
    block.add_column("change")
    block.add_column("removes", justify="right", no_wrap=True)
    carbohydrates = {explanation.carbohydrate for explanation in report.explanations}
    keys = [figure.key for figure in report.figures]
    for key in keys:
        name = "carb." if key in (TOTAL, AVAILABLE) else _NAMES[key]
        block.add_column(name, justify="right", no_wrap=True)
    for number, explanation in enumerate(report.explanations, start=1):
        cells = [_shown(explanation, key) for key in keys]
        definition = ""
        if report.carbohydrate and len(carbohydrates | {report.carbohydrate}) > 1:
            definition = f" (carbohydrate {_fibre(explanation.carbohydrate)})"
        block.add_row(
            str(number), f"{_described(explanation)}{definition}", f"{100 * explanation.removed:.0f} %", *cells
        )
    claimed = [f"{figure.claimed:.{_decimals(figure.key)}f}" for figure in report.figures]
    block.add_row("", Text("claimed", "dim"), "", *(Text(cell, "dim") for cell in claimed))
    return block


def _shown(explanation: ClaimExplanation, key: str) -> str:
    used = explanation.carbohydrate if key in (TOTAL, AVAILABLE) else key
    return f"{explanation.figures[used]:.{_decimals(key)}f}"


def _described(explanation: ClaimExplanation) -> str:
    lines = explanation.change.lines
    text = one_line(explanation.change.description, LONGEST_LINE)
    if not lines or len(lines) > 6:
        return text
    return f"line{'s' if len(lines) > 1 else ''} {', '.join(map(str, lines))}: {text}"


def _grounds(report: ClaimReport) -> Iterator[str]:
    yield (
        "The difference is measured in standard deviations of our 90 % intervals, widened by the rounding of the "
        "claim; energy by any of three conventions. "
        f"Agreement within {100 * AGREES_WITHIN:.0f} %, and that an explanation "
        f"removes {100 * EXPLAINS_FROM:.0f} % and leaves at most {EXPLAINS_TO_SD:g} deviations, are our own judgement. "
        "What explains a difference need not be its cause."
    )
    if not report.scheme:
        yield "No tolerance is named: the recipe has no region with a labelling law of ours; give --scheme."
        return
    used: dict[tuple[str, str, str], list[str]] = defaultdict(list)
    for figure in report.figures:
        if (found := figure.tolerance) is not None:
            used[(found.name, found.clause, found.mark)].append(_NAMES[figure.key])
    if not used:
        known = any(report.scheme in row.schemes for row in label_tolerances())
        why = "the weight of a container is not known" if known else "this scheme publishes no tolerance"
        yield f"Tolerance ({report.scheme}): {why}."
    for (name, clause, mark), figures in used.items():
        yield f"Tolerance of {', '.join(figures)}: {name}, {clause} ({'FROM MEMORY' if mark == 'memory' else mark})."


def _decimals(key: str) -> int:
    return 0 if key == "ENERC_KCAL" else 1
