"""The weigh-out sheet to print: what goes into each container with boxes to tick, room for what is measured.

As text, or as one HTML file that needs nothing else. Beside the grams of each component stands what the scale shows
when it is not set to zero in between.
"""

from collections.abc import Iterable, Sequence
from datetime import date
from html import escape
from itertools import accumulate

from mealcalc.records.portions import FilledContainer, Fit, PortionedComponent, Step, WeighOut
from mealcalc.reports.plain import LONGEST_NAME, LONGEST_TITLE, one_line
from mealcalc.reports.text import figure
from mealcalc.reports.weigh_out_text import FIGURES, footnotes, volume

_MOST_NAME_COLUMNS = 18
_BLANK = "________"
_BLANK_HTML = '<span class="blank">&nbsp;</span>'

_STYLE = """
  @page { size: A4; margin: 14mm }
  body { font: 11pt/1.35 system-ui, sans-serif; color: #000; background: #fff; max-width: 190mm; margin: 1rem auto;
    padding: 0 .5rem }
  h1 { font-size: 17pt; margin: 0 0 .2rem } h2 { font-size: 12pt; margin: 1.1rem 0 .3rem }
  table { border-collapse: collapse; width: 100%; page-break-inside: auto } tr { page-break-inside: avoid }
  th, td { border-bottom: 1px solid #777; padding: .25rem .5rem; text-align: right; vertical-align: bottom }
  th { font-weight: 600; border-bottom: 2px solid #000 } th:first-child, td:first-child { text-align: left }
  td.g { font-size: 13pt; font-weight: 600 } td small { font-size: 9pt; font-weight: 400; white-space: nowrap }
  .tick { display: inline-block; width: 4mm; height: 4mm; border: 1.5px solid #000; margin-right: 2mm;
    vertical-align: -0.5mm }
  .blank { display: inline-block; min-width: 18mm; border-bottom: 1px solid #000 } .warn { font-weight: 700 }
  .notes { font-size: 9pt; color: #222; margin-top: 1rem } .notes p { margin: .15rem 0 }
"""


def sheet_text(weighed: WeighOut, day: date) -> str:
    """The sheet as plain text, one row for each container."""
    names = [one_line(component.name, LONGEST_NAME) for component in weighed.components]
    rows = [["", "container", *names, "ml"]]
    for container in weighed.containers:
        cells = [_with_reading(g, reading) for g, reading in zip(container.grams, _readings(container), strict=True)]
        rows.append(["[ ]", _whose(container), *cells, volume(container)])
    rows.append(["", "stays in the pan, g", *(str(c.residue_g) for c in weighed.components), ""])
    rows.append(["", "left over, g", *(str(c.leftover_g) for c in weighed.components), ""])
    rows.append(["", "in the pot, g", *(str(c.pot_g) for c in weighed.components), ""])
    rows.append(["", "pot and food on the scale, g", *(_on_the_scale(c, _BLANK) for c in weighed.components), ""])
    figures = [["kcal, g in one container", *(heading for _, heading, _ in FIGURES)]]
    for numbers, container in weighed.runs:
        label = f"{numbers} {one_line(container.eater, 24)}".strip()
        figures.append([label, *(figure(container.figures[key], decimals) for key, _, decimals in FIGURES)])
    measured = [["measured", "time", "temperature, C", "component"], *([s.value, *[_BLANK] * 3] for s in Step)]
    title = one_line(weighed.result.batch.title, LONGEST_TITLE)
    return "\n".join(
        [
            f"{title}: weigh-out",
            f"cooked on {day}   {len(weighed.containers)} containers",
            "",
            "grams (in brackets: what the scale shows if it is not set to zero in between)",
            *_laid_out(rows),
            "",
            *_laid_out(figures),
            "",
            *_laid_out(measured),
            "",
            *_warnings(weighed),
            *footnotes(weighed),
            "",
        ]
    )


def sheet_html(weighed: WeighOut, day: date) -> str:
    """The sheet as one HTML file; titles and names are shown as text, whatever they hold."""
    names = [one_line(component.name, LONGEST_NAME) for component in weighed.components]
    title = one_line(weighed.result.batch.title, LONGEST_TITLE)
    body = [
        f"<h1>{escape(title)}: weigh-out</h1>",
        f"<p>Cooked on {day} &middot; {len(weighed.containers)} containers</p>",
        "<h2>Into each container, g</h2>",
        "<p>In brackets: what the scale shows if it is not set to zero in between.</p>",
        _table(["container", *names, "ml"], [_container_row(c) for c in weighed.containers], _pot_rows(weighed)),
        "<h2>What is in a container: kcal; protein, fat and carbohydrate in g</h2>",
        _table(
            ["container", *(heading for _, heading, _ in FIGURES)],
            [
                [escape(f"{numbers} {one_line(c.eater, 24)}".strip())]
                + [figure(c.figures[key], decimals) for key, _, decimals in FIGURES]
                for numbers, c in weighed.runs
            ],
        ),
        "<h2>Measured</h2>",
        _table(
            ["step", "component", "time", "temperature, &deg;C"],
            [[step.value, *[_BLANK_HTML] * 3] for step in Step],
        ),
        *(f'<p class="warn">{escape(warning)}</p>' for warning in _warnings(weighed)),
        '<div class="notes">',
        *(f"<p>{escape(note)}</p>" for note in footnotes(weighed)),
        "</div>",
    ]
    return "\n".join(
        [
            "<!DOCTYPE html>",
            '<html lang="en">',
            "<head>",
            '<meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            f"<title>{escape(title)}: weigh-out</title>",
            f"<style>{_STYLE}</style>",
            "</head>",
            "<body>",
            *body,
            "</body>",
            "</html>",
            "",
        ]
    )


def _readings(container: FilledContainer) -> list[int]:
    return list(accumulate(container.grams))


def _with_reading(mass_g: int, reading_g: int) -> str:
    return f"{mass_g}" if mass_g == reading_g else f"{mass_g} ({reading_g})"


def _whose(container: FilledContainer) -> str:
    return f"{container.number} {one_line(container.eater, 24)}".strip()


def _warnings(weighed: WeighOut) -> list[str]:
    """Containers that are too small, in words; they stand on the sheet, since that is where they matter."""
    words = {
        (Fit.TOO_SMALL, False): "is too small",
        (Fit.TIGHT, False): "may be too small",
        (Fit.TOO_SMALL, True): "leaves too little room to freeze in it",
        (Fit.TIGHT, True): "may leave too little room to freeze in it",
    }
    found = []
    for numbers, container in weighed.runs:
        said = words.get((container.fit, False)) or words.get((container.fit_frozen, True))
        if said is not None:
            found.append(f"Container {numbers} {said}.")
    return found


def _container_row(container: FilledContainer) -> list[str]:
    cells = [
        f"{g}" if g == reading else f"{g} <small>({reading})</small>"
        for g, reading in zip(container.grams, _readings(container), strict=True)
    ]
    return [f'<span class="tick"></span>{escape(_whose(container))}', *cells, volume(container)]


def _pot_rows(weighed: WeighOut) -> list[list[str]]:
    components = weighed.components
    return [
        ["stays in the pan", *(str(c.residue_g) for c in components), ""],
        ["left over", *(str(c.leftover_g) for c in components), ""],
        ["in the pot", *(str(c.pot_g) for c in components), ""],
        ["pot and food on the scale", *(_on_the_scale(c, _BLANK_HTML) for c in components), ""],
    ]


def _on_the_scale(component: PortionedComponent, blank: str) -> str:
    """What the scale showed, g; room to write it where the pot was not weighed."""
    pot = component.pot
    if not pot.measured:
        return blank
    return f"{pot.net_g if pot.gross_g is None else pot.gross_g:.0f}"


def _table(headings: Sequence[str], rows: Iterable[Sequence[str]], plain: Iterable[Sequence[str]] = ()) -> str:
    """A table of cells that are HTML already, headings aside; rows of `plain` are not in large figures."""
    head = "".join(f"<th>{heading if heading.startswith('temp') else escape(heading)}</th>" for heading in headings)
    body = [_row(row, ' class="g"') for row in rows] + [_row(row, "") for row in plain]
    return f"<table><thead><tr>{head}</tr></thead><tbody>{''.join(body)}</tbody></table>"


def _row(cells: Sequence[str], kind: str) -> str:
    return f"<tr><td>{cells[0]}</td>{''.join(f'<td{kind}>{cell}</td>' for cell in cells[1:])}</tr>"


def _laid_out(rows: Sequence[Sequence[str]]) -> list[str]:
    """Rows with their cells below one another; names are cut, figures stand to the right."""
    cut = [[cell if k < 2 else one_line(cell, _MOST_NAME_COLUMNS) for k, cell in enumerate(row)] for row in rows]
    widths = [max(len(row[k]) for row in cut) for k in range(len(cut[0]))]
    return ["  ".join(_cell(cell, widths[k], k) for k, cell in enumerate(row)).rstrip() for row in cut]


def _cell(cell: str, width: int, column: int) -> str:
    return cell.ljust(width) if column < 2 else cell.rjust(width)
