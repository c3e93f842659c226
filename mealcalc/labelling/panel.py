"""The nutrition panel of a dish by the rules of a scheme."""

from collections.abc import Collection
from dataclasses import dataclass

from mealcalc.diagnostics import Diagnostic
from mealcalc.errors import UsageError
from mealcalc.labelling.energy import ENERGY_KEYS
from mealcalc.labelling.gaps import diagnostics_of, note_of
from mealcalc.labelling.panel_input import PanelInput
from mealcalc.labelling.printing import as_declared, print_percent, print_quantity
from mealcalc.labelling.quantities import Quantity, quantity
from mealcalc.labelling.rounding import PrintedValue
from mealcalc.labelling.schemes import scheme_named
from mealcalc.labelling.schemes.base import FOOD_TABLE_METHOD, Scheme
from mealcalc.labelling.tolerance import Tolerance, tolerance_for
from mealcalc.reference.label_rounding import RoundingRule
from mealcalc.reference.label_tables import Citation, LabelRow

MASS_UNKNOWN = PrintedValue("not known", None)
"""What stands per 100 g where the mass of the dish is not known; the panel's diagnostics say what to do."""

ALL_ROWS = "all"
"""Stands for every voluntary row of a scheme."""


@dataclass(frozen=True, slots=True)
class PanelRow:
    """One row of a panel.

    row, name, second_name, indent, tagname, unit, mandatory: as the scheme's table has them. raw_per_portion and
    raw_per_100g: unrounded, in `unit`; what is certain where the row is not complete, None where nothing is known or
    the mass of the dish is not. printed_per_portion, printed_per_100g, percent: texts by clause; '' where the scheme
    has no such figure. per_portion, per_100g: the same with their numbers. known_share: share of the counted mass whose
    value is known. complete: nothing that is printed could change by what is unknown. cited: the clauses behind the
    printed amount; also_cited: those behind the row's place and name and behind its percentage.
    """

    row: str
    name: str
    second_name: str
    indent: int
    key: str
    tagname: str
    unit: str
    mandatory: bool
    raw_per_portion: float | None
    raw_per_100g: float | None
    per_portion: PrintedValue
    per_100g: PrintedValue | None
    percent_value: PrintedValue | None
    known_share: float
    complete: bool
    cited: tuple[Citation, ...]
    also_cited: tuple[Citation, ...]
    note: str
    tolerance: Tolerance | None

    @property
    def printed_per_portion(self) -> str:
        """The text per portion."""
        return self.per_portion.text

    @property
    def printed_per_100g(self) -> str:
        """The text per 100 g or 100 ml, '' where there is none."""
        return "" if self.per_100g is None else self.per_100g.text

    @property
    def percent(self) -> str:
        """The percentage of the reference value per portion, '' where there is none."""
        return "" if self.percent_value is None else self.percent_value.text

    @property
    def clause(self) -> str:
        """The clauses behind the printed amount, each once."""
        return "; ".join(dict.fromkeys(c.clause for c in self.cited))

    @property
    def verified(self) -> bool:
        """Whether the text of every clause behind the printed amount was read."""
        return all(c.verified for c in self.cited)

    @property
    def unverified(self) -> tuple[str, ...]:
        """Every clause behind the row, its name and percentage too, whose text was not read whole; how it is known."""
        every = (*self.cited, *self.also_cited)
        return tuple(dict.fromkeys(f"{c.clause} ({c.status.value})" for c in every if not c.verified))


@dataclass(frozen=True, slots=True)
class Footnote:
    """A sentence below the panel."""

    text: str
    cited: Citation

    @property
    def verified(self) -> bool:
        """Whether the text of its clause was read."""
        return self.cited.verified


@dataclass(frozen=True, slots=True)
class Panel:
    """A nutrition panel: a draft that states its grounds.

    serving: lines on servings and their size. hundred_name: `100 g` or `100 ml`; '' where the scheme has no such
    column. percent_name: heading of the percentages. energy_method: how energy was computed. diagnostics: what is
    missing and what to do about it.
    """

    scheme: str
    scheme_title: str
    dish: str
    portion_name: str
    portion_mass_g: float | None
    serving: tuple[str, ...]
    hundred_name: str
    percent_name: str
    energy_method: str
    rows: tuple[PanelRow, ...]
    footnotes: tuple[Footnote, ...]
    caution: str
    diagnostics: tuple[Diagnostic, ...]

    @property
    def complete(self) -> bool:
        """Whether every mandatory row is complete."""
        return all(row.complete for row in self.rows if row.mandatory)

    def row(self, name: str) -> PanelRow:
        """The row of an identifier or food component key.

        Raises
        ------
        KeyError
            If the panel has no such row.
        """
        found = next((r for r in self.rows if name in (r.row, r.key)), None)
        if found is None:
            raise KeyError(name)
        return found


def make_panel(
    dish: PanelInput,
    scheme: str | Scheme,
    *,
    energy_method: str | None = None,
    voluntary: Collection[str] = (),
) -> Panel:
    """The nutrition panel of a dish.

    Parameters
    ----------
    dish : PanelInput
        Lines, portions and masses; `planning.label.panel_input` makes it from a calculated batch.
    scheme : str or Scheme
        us, eu, uk, anz or ca.
    energy_method : str, optional
        One of `Scheme.energy_methods`; the scheme's usual one by default.
    voluntary : collection of str
        Rows that may be added, by identifier or food component key; 'all' for every one. Mandatory rows alone by
        default: a row that may be left out can count as a claim.

    Returns
    -------
    Panel
        Rows in the order of the law, each with its clauses.

    Raises
    ------
    UsageError
        If the scheme, the method of energy or a voluntary row is unknown.
    """
    law = scheme_named(scheme) if isinstance(scheme, str) else scheme
    method = energy_method or law.energy_method
    if method not in law.energy_methods:
        raise UsageError(
            f"scheme {law.name} computes no energy by method '{method[:40]}'",
            f"it has: {', '.join(law.energy_methods)}",
        )
    wanted = _wanted_rows(law, voluntary)
    found = [(row, quantity(dish, law, row.key, method)) for row in wanted]
    rows = tuple(_panel_row(dish, law, method, row, known) for row, known in found)
    return Panel(
        scheme=law.name,
        scheme_title=law.title,
        dish=dish.title,
        portion_name=dish.portion_name,
        portion_mass_g=dish.serving_mass_g,
        serving=law.serving_statement(dish),
        hundred_name=dish.hundred_name if law.per_hundred else "",
        percent_name=law.percent_name,
        energy_method=method,
        rows=rows,
        footnotes=_footnotes(law, method),
        caution=_caution(law),
        diagnostics=diagnostics_of(dish, law, [(row, known) for row, (_, known) in zip(rows, found, strict=True)]),
    )


def _wanted_rows(law: Scheme, voluntary: Collection[str]) -> list[LabelRow]:
    names = {voluntary} if isinstance(voluntary, str) else set(voluntary)
    known = {name for row in law.rows for name in (row.row, row.key)} | {ALL_ROWS}
    unknown = sorted(names - known)
    if unknown:
        offered = ", ".join(row.row for row in law.rows if not row.mandatory)
        raise UsageError(f"scheme {law.name} has no row '{unknown[0][:40]}'", f"rows that may be added: {offered}, all")
    return [row for row in law.rows if row.mandatory or ALL_ROWS in names or names & {row.row, row.key}]


def _panel_row(dish: PanelInput, law: Scheme, method: str, row: LabelRow, known: Quantity) -> PanelRow:
    rule = law.rounding[row.rounding]
    portion = known.per(dish.servings)
    printed = print_quantity(portion, rule)
    hundred = known.per(dish.hundreds) if dish.hundreds else None
    printed_hundred = _print_hundred(law, hundred, rule)
    percent, percent_cited = _percent(dish, law, method, row, portion, printed)
    cited = [*_cited_by(printed), *_definition_cited(law, method, row)]
    if printed_hundred is not None:
        cited += _cited_by(printed_hundred)
    stated = printed_hundred if law.per_hundred else printed
    tolerance = None
    if stated is not None and stated.value is not None and not stated.minimum:
        tolerance = tolerance_for(law.name, row.key, stated.value, row.unit)
    complete = _complete(printed) and (printed_hundred is None or _complete(printed_hundred))
    return PanelRow(
        row=row.row,
        name=row.name,
        second_name=row.second_name,
        indent=row.indent,
        key=row.key,
        tagname=row.tagname,
        unit=row.unit,
        mandatory=row.mandatory,
        raw_per_portion=portion.low if known.determined else None,
        raw_per_100g=hundred.low if known.determined and hundred is not None else None,
        per_portion=printed,
        per_100g=printed_hundred,
        percent_value=percent,
        known_share=known.known_share,
        complete=complete,
        cited=tuple(dict.fromkeys(cited)) or (row.cited,),
        also_cited=(row.cited, *percent_cited),
        note=note_of(dish, law, row, known, complete=complete),
        tolerance=tolerance,
    )


def _print_hundred(law: Scheme, hundred: Quantity | None, rule: RoundingRule) -> PrintedValue | None:
    if not law.per_hundred:
        return None
    return MASS_UNKNOWN if hundred is None else print_quantity(hundred, rule)


def _percent(
    dish: PanelInput, law: Scheme, method: str, row: LabelRow, portion: Quantity, printed: PrintedValue
) -> tuple[PrintedValue | None, list[Citation]]:
    reference = law.reference_value(row.percent_set, row.percent_key) if row.percent_key else None
    if reference is None:
        return None, []
    if row.percent_from == "declared":
        amount = as_declared(printed)
    elif row.percent_key == row.key:
        amount = portion
    else:
        amount = quantity(dish, law, row.percent_key, method).per(dish.servings)
    percent = print_percent(amount, reference, law.rounding[row.percent_rounding])
    return percent, [reference.cited, *_cited_by(percent)]


def _complete(printed: PrintedValue) -> bool:
    return printed.cited is not None and not printed.minimum


def _cited_by(printed: PrintedValue) -> list[Citation]:
    return [] if printed.cited is None else [printed.cited]


def _definition_cited(law: Scheme, method: str, row: LabelRow) -> list[Citation]:
    """The clauses of the definitions behind a row, and of the energy factors where it is energy."""
    if row.key in ENERGY_KEYS:
        cited = [law.definitions["energy method"].cited] if method == law.energy_method else []
        cited += [f.cited for f in law.energy_factors if f.method == method and f.key and _used(f.key)]
        converted = law.definitions.get("kJ per Calorie")
        return [*cited, *([converted.cited] if converted is not None and row.key == "ENERC_KCAL" else [])]
    subjects = {
        "PROCNT_G": ("protein factor",),
        law.carbohydrate_key: ("carbohydrate", "protein factor"),
        "NACL_G": ("salt per sodium",),
    }.get(row.key, ())
    return [law.definitions[subject].cited for subject in subjects]


def _used(key: str) -> bool:
    return key in ("PROCNT_G", "FAT_G", "CHOCDF_G", "CHOAVLDF_G", "FIBTG_G", "ALC_G")


def _footnotes(law: Scheme, method: str) -> tuple[Footnote, ...]:
    definition = law.definitions["energy method"]
    said = definition.text if method == law.energy_method else f"energy by method {method}"
    if method == FOOD_TABLE_METHOD and method != law.energy_method:
        said = "energy by specific factors of each food, as the food table prints it"
    notes = [Footnote(s.text, s.cited) for s in law.statements if s.shown != "never" and s.statement != "draft"]
    return (*notes, Footnote(f"Energy: {said}.", definition.cited))


def _caution(law: Scheme) -> str:
    draft = next(s for s in law.statements if s.statement == "draft")
    return draft.text.format(authority=law.authority)
