"""What people read of `mealcalc aim`: portions or amounts, targets beside figures, what binds, what contradicts."""

from collections.abc import Callable, Mapping, Sequence

from rich.console import RenderableType
from rich.text import Text

from mealcalc.records.aimed import Aimed, AimedContainer, Binding, Contradicting, Judged, Limit
from mealcalc.records.targets import COST, MASS, Bound, amount_text, name_of, unit_of
from mealcalc.reports.plain import LONGEST_NAME, LONGEST_TITLE, one_line
from mealcalc.reports.screen import Screen, table
from mealcalc.units import METRIC

ALWAYS_SHOWN = ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G")
"""Food components that are shown whether or not they have a target."""

_DECIMALS = {"ENERC_KCAL": 0, "NA_MG": 0, MASS: 0, COST: 2}
_LABEL, _FIGURE, _COLUMN, _LABELS, _ROOMY = 13, 7, 12, 26, 60
"""Columns: the least of a label and of a figure, the most of a figure, those of labels and units, and how many there
must be to show figures without targets beside those with them."""


def aim_text(aimed: Aimed, screen: Screen) -> str:
    """The answer of `mealcalc aim`."""
    containers = aimed.result.batch.containers
    region = aimed.result.region
    measures = "metric measures" if region == METRIC else f"measures of region {region}"
    sought = "amounts of lines" if aimed.lines else "grams of each component in a container"
    parts: list[RenderableType] = [
        Text(one_line(aimed.title, LONGEST_TITLE), style="bold"),
        f"{containers} container{'' if containers == 1 else 's'}, {measures}; sought: {sought}",
        "",
        *_contradictions(aimed),
    ]
    if aimed.lines:
        parts += [_lines_table(aimed), ""]
    if any(container.eater for container in aimed.containers):
        whose = (f"{one_line(c.eater, LONGEST_NAME)}: {c.containers}" for c in aimed.containers)
        parts += [Text(f"containers of {', '.join(whose)}"), ""]
    beside = screen.width >= _ROOMY
    columns = 2 * _COLUMN if beside else _COLUMN
    each = max(1, (screen.width - _LABELS) // columns)
    for start in range(0, len(aimed.containers), each):
        parts += [_containers_table(aimed, aimed.containers[start : start + each], beside=beside), ""]
    parts += [_targets_table(aimed), ""]
    parts += [Text(sentence) for sentence in _sentences(aimed)]
    parts += [Text(note, style="dim") for note in _notes(aimed)]
    return screen.render(*parts)


def decimals_of(key: str) -> int:
    """Decimals shown of a quantity."""
    return _DECIMALS.get(key, 1)


def _contradictions(aimed: Aimed) -> list[RenderableType]:
    if aimed.kept:
        return []
    rows: list[RenderableType] = [Text("NOT ALL LIMITS CAN BE KEPT. These contradict each other:", style="bold red")]
    rows += [Text(f"  {_contradicting(one, aimed.currency)}") for one in aimed.contradicting]
    enough = [limit_words(one.limit, aimed.currency) for one in aimed.contradicting if one.enough]
    ending = "Take away any one of these, and the rest of these can be kept together. "
    if len(enough) < len(aimed.contradicting):
        ending += f"All limits can be kept without {' or without '.join(enough)}. " if enough else ""
        ending += "" if enough else "More limits contradict each other: no single one of these is enough. "
    return [*rows, Text(f"{ending}Below stands the nearest compromise."), ""]


def _contradicting(one: Contradicting, currency: str) -> str:
    words = limit_words(one.limit, currency)
    target = one.limit.target
    if target is None or one.reach is None:
        return words
    how = "at most" if target.bound is Bound.AT_LEAST else "no less than"
    alone = "the others allow" if target.bound is Bound.AT_LEAST else "the others need"
    return f"{words}: {alone} {how} {amount_text(target.key, one.reach, currency)}"


def limit_words(limit: Limit, currency: str = "") -> str:
    """A limit in words, with whose it is."""
    target = limit.target
    words = limit.words
    if target is not None:
        words = f"{target.name} {target.bound.value} {amount_text(target.key, target.amount, currency)}"
    return f"{words} ({one_line(limit.eater, LONGEST_NAME)})" if limit.eater else one_line(words, 160)


def _lines_table(aimed: Aimed) -> RenderableType:
    block = table()
    block.add_column("line", justify="right", style="dim", no_wrap=True)
    block.add_column("", ratio=2)
    block.add_column("as written", justify="right", no_wrap=True)
    block.add_column("found", justify="right", no_wrap=True, style="bold")
    block.add_column("edible g", justify="right", no_wrap=True)
    block.add_column("change", justify="right", no_wrap=True)
    for line in aimed.lines:
        packs = f" ({line.packs} pack{'' if line.packs == 1 else 's'})" if line.packs is not None else ""
        change = "none" if abs(line.factor - 1.0) < 5e-4 else f"{100.0 * (line.factor - 1.0):+.0f} %"
        found = "left out" if line.factor == 0.0 else f"{line.found}{packs}"
        name = Text(one_line(line.name, LONGEST_NAME))
        block.add_row(str(line.line), name, line.written, found, f"{line.found_g:.0f}", change)
    return block


def _containers_table(aimed: Aimed, containers: Sequence[AimedContainer], *, beside: bool) -> RenderableType:
    """Grams and figures of the containers of each eater; `beside` those without targets where there is room."""
    before = "as written" if aimed.lines else "even share"
    block = table()
    block.add_column("in one container", min_width=_LABEL)
    block.add_column("", no_wrap=True)
    for container in containers:
        if beside:
            block.add_column(before, justify="right", style="dim", no_wrap=True)
        whose = one_line(container.eater, LONGEST_NAME) or "found"
        block.add_column(Text(whose), justify="right", min_width=_FIGURE, max_width=_COLUMN, style="bold")

    def cells(shown: Callable[[AimedContainer, bool], str]) -> list[str]:
        return [shown(c, even) for c in containers for even in ((True, False) if beside else (False,))]

    for name in containers[0].grams:
        grams = cells(lambda c, even, name=name: _grams((c.even_g if even else c.grams).get(name, 0.0)))  # type: ignore[misc]
        block.add_row(Text(one_line(name, LONGEST_NAME)), "g", *grams)
    block.add_section()
    wanted = [judged.target.key for container in containers for judged in container.judged]
    first = [key for key in (aimed.targets.most, aimed.targets.least) if key]
    for key in dict.fromkeys((*ALWAYS_SHOWN, *wanted, *first, MASS, COST)):
        if key in containers[0].figures:
            unit = aimed.currency if key == COST else unit_of(key)
            figures = cells(lambda c, even, key=key: _figure(c.even_figures if even else c.figures, key))  # type: ignore[misc]
            block.add_row(name_of(key), unit, *figures)
    return block


def _grams(mass_g: float) -> str:
    return f"{mass_g:.0f}" if abs(mass_g - round(mass_g)) < 0.01 or mass_g >= 100.0 else f"{mass_g:.1f}"


def _figure(figures: Mapping[str, float], key: str) -> str:
    return f"{figures.get(key, 0.0):.{decimals_of(key)}f}"


def _targets_table(aimed: Aimed) -> RenderableType:
    block = table()
    block.add_column("target", min_width=_LABEL)
    block.add_column("comes out", justify="right", no_wrap=True)
    block.add_column("", min_width=6)
    for container in aimed.containers:
        for judged in container.judged:
            key = judged.target.key
            limit = Limit(str(judged.target), container.eater, judged.target)
            amount = "?" if judged.amount is None else f"{judged.amount:.{decimals_of(key)}f}"
            style, verdict = verdict_of(judged, binds=_binds(aimed, container, judged))
            bound = "" if judged.complete else "≥ "
            out = f"{bound}{amount} {aimed.currency if key == COST else unit_of(key)}".rstrip()
            block.add_row(Text(limit_words(limit, aimed.currency)), out, Text(verdict, style=style))
    return block


def verdict_of(judged: Judged, *, binds: bool) -> tuple[str, str]:
    """Style and words for a target beside what comes out."""
    if judged.met:
        return (
            ("bold", "kept, and binds") if binds else ("", "kept" if judged.target.bound is not Bound.ABOUT else "near")
        )
    if not judged.complete and judged.target.bound is not Bound.AT_LEAST:
        return "yellow", "not all is known"
    if judged.target.bound is Bound.ABOUT:
        return "yellow", "off"
    return "bold red", "MISSED"


def _binds(aimed: Aimed, container: AimedContainer, judged: Judged) -> bool:
    return any(b.limit.target == judged.target and b.limit.eater == container.eater for b in aimed.binding)


def _sentences(aimed: Aimed) -> list[str]:
    sentences = [_binding(one, aimed) for one in aimed.binding]
    left = [
        f"{mass_g:.0f} g {one_line(name, LONGEST_NAME)}" for name, mass_g in aimed.leftover_g.items() if mass_g >= 0.5
    ]
    if left:
        sentences.append(f"Left in the pots: {' and '.join(left)}.")
    elif not aimed.lines:
        sentences.append("Nothing is left in the pots.")
    if aimed.cost is not None:
        of = "All amounts" if aimed.lines else "What is filled"
        sentences.append(f"{of} together cost {aimed.cost:.2f} {aimed.currency}".rstrip() + ".")
    return [*sentences, ""] if sentences else []


def _binding(one: Binding, aimed: Aimed) -> str:
    """What loosening a limit would buy: 'energy at most 600 kcal binds: 1 kcal more would ...'."""
    target = one.limit.target
    key = target.key if target is not None else MASS
    more = "less" if target is not None and target.bound is Bound.AT_LEAST else "more"
    step = amount_text(key, one.step, aimed.currency)
    bought = []
    first = aimed.targets.most or aimed.targets.least
    if first and one.gained is not None:
        direction = "more" if aimed.targets.most else "less"
        bought.append(f"buys {amount_text(first, one.gained, aimed.currency)} {direction} {name_of(first)} in all")
    elif one.nearer > 0.0:
        whom = "the amounts" if aimed.lines else "the portions"
        goal = f"{'what is written' if aimed.lines else 'even shares'}{_and_wishes(aimed)}"
        bought.append(f"brings {whom} {100.0 * one.nearer:.2g} % nearer to {goal}")
    moved = [
        f"{mass_g:+.1f} g {one_line(name, LONGEST_NAME)}" for name, mass_g in one.change.items() if abs(mass_g) >= 0.05
    ]
    if moved:
        where = "in the batch" if aimed.lines else "in a container"
        bought.append(f"{', '.join(moved[:6])} {where}")
    return f"{limit_words(one.limit, aimed.currency)} binds: {step} {more} {'; '.join(bought)}."


def _and_wishes(aimed: Aimed) -> str:
    wished = any(judged.target.bound is Bound.ABOUT for c in aimed.containers for judged in c.judged)
    return " and the wishes" if wished else ""


def _notes(aimed: Aimed) -> list[str]:
    what, goal = ("amounts", "what is written") if aimed.lines else ("portions", "even shares")
    how = f"the {what} nearest to {goal}{_and_wishes(aimed)} that keep every limit"
    first = aimed.targets.most or aimed.targets.least
    if first:
        how += f", among those with the {'most' if aimed.targets.most else 'least'} {name_of(first)}"
    how += " (least sum of squared changes, each as a share)"
    if not aimed.kept:
        how = "the compromise with the least sum of squared misses, each as a share of its limit"
    notes = [f"Found: {how}. Figures are those of food tables; `macros --sure` says how sure they are."]
    unknown = [j for c in aimed.containers for j in c.judged if not j.complete]
    if unknown:
        names = ", ".join(dict.fromkeys(j.target.name for j in unknown))
        notes.append(f"INCOMPLETE: {names}: not known of every line, so a limit can be kept for what is known only.")
    notes += [diagnostic.message for diagnostic in aimed.diagnostics]
    return notes
