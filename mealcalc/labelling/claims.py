"""Nutrition claims: whether a dish meets the criteria of a scheme, with the clause and the figure.

A criterion that is met is not yet a claim that may be made: wording, product class, further conditions and, in many
places, licensed practice come after it. Where a figure is not known the answer is 'not determinable', never a guess.
"""

import operator
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.labelling.claim_figures import Figure, Figures
from mealcalc.labelling.panel_input import PanelInput, Product
from mealcalc.labelling.schemes import scheme_named
from mealcalc.labelling.schemes.base import Scheme
from mealcalc.reference.label_tables import Citation, ClaimCondition, ReferenceValue, claim_conditions, reference_values

MAIN_DISH_G = 170.0
"""6 oz per labelled serving: what a main dish weighs at least (21 CFR 101.13(m), from memory)."""

MAIN_DISH_REFERENCE_G = 200.0
"""Reference amount from which Canada takes a food as a main dish (B.01.350)."""

SMALL_REFERENCE_G = 30.0
"""Reference amount up to which Canada sets its lowest threshold (B.01.350)."""

COMPARISONS = {"<": operator.lt, "<=": operator.le, ">": operator.gt, ">=": operator.ge}

NUTRIENT = "{nutrient}"
NUTRIENTS_OF_SETS = {"DRV": ("FIBTG_G", "PROCNT_G")}
"""Food components that a claim about any nutrient of a set is made for, where not all of them."""


class Verdict(StrEnum):
    """Whether a criterion is met."""

    MET = "met"
    NOT_MET = "not met"
    NOT_DETERMINABLE = "not determinable"


@dataclass(frozen=True, slots=True)
class ClaimResult:
    """What a dish says to one claim.

    kind: content, comparative, component or symbol (then 'met' means that the symbol is required). figures and limits:
    what was compared, in words. verdict: on unrounded amounts. printed_verdict: the same test on the printed figures.
    """

    claim: str
    kind: str
    verdict: Verdict
    printed_verdict: Verdict
    figures: tuple[str, ...]
    limits: tuple[str, ...]
    cited: tuple[Citation, ...]
    note: str

    @property
    def clause(self) -> str:
        """The clauses behind the criterion."""
        return "; ".join(dict.fromkeys(c.clause for c in self.cited))

    @property
    def verified(self) -> bool:
        """Whether the text of the clauses was read."""
        return all(c.verified for c in self.cited)

    @property
    def agrees(self) -> bool:
        """Whether the printed figures say the same as the unrounded ones; if not, the label contradicts the claim."""
        return self.verdict is self.printed_verdict


def check_claims(
    dish: PanelInput, scheme: str | Scheme, *, energy_method: str | None = None
) -> tuple[ClaimResult, ...]:
    """Test every nutrition claim of a scheme on a dish.

    Parameters
    ----------
    dish : PanelInput
        The dish; its product, portions and reference amount decide which criteria apply.
    scheme : str or Scheme
        us, eu, uk, anz or ca.
    energy_method : str, optional
        As for `make_panel`.

    Raises
    ------
    UsageError
        If the scheme or the method of energy is unknown.
    """
    law = scheme_named(scheme) if isinstance(scheme, str) else scheme
    method = energy_method or law.energy_method
    raw, printed = Figures(dish, law, method), Figures(dish, law, method, printed=True)
    results = []
    for claim, conditions in _by_claim(law, dish).items():
        results += [
            _result(name, expanded, raw, printed) for name, expanded in _for_each_nutrient(law, claim, conditions)
        ]
    return tuple(results)


def claims_caution(scheme: str | Scheme) -> str:
    """What has to be said beside every claims check."""
    law = scheme_named(scheme) if isinstance(scheme, str) else scheme
    return (
        "A criterion met by calculation is not permission to make a claim: wording, product class and further "
        f"conditions apply. Have it decided by licensed practice and check it with the authority: {law.authority}."
    )


def _by_claim(law: Scheme, dish: PanelInput) -> dict[str, list[ClaimCondition]]:
    """The conditions of each claim that apply to the dish, in the order of the table."""
    found: dict[str, list[ClaimCondition]] = {}
    for condition in claim_conditions(law.name):
        if _applies(condition, dish):
            found.setdefault(condition.claim, []).append(condition)
    return found


def _applies(condition: ClaimCondition, dish: PanelInput) -> bool:
    serving_g, reference_g = dish.serving_mass_g, dish.reference_amount_g
    drink = dish.product is Product.DRINK
    meal = dish.product is Product.MEAL and (serving_g is None or serving_g >= MAIN_DISH_G)
    # Without a reference amount the highest threshold is the one that certainly applies.
    main = reference_g is None or (dish.product is Product.MEAL and reference_g >= MAIN_DISH_REFERENCE_G)
    small = reference_g is not None and reference_g <= SMALL_REFERENCE_G
    return {
        "any": True,
        "solid": not drink,
        "liquid": drink,
        "meal": meal,
        "other": not meal,
        "single portion": dish.servings_per_package == 1,
        "main dish, reference amount from 200 g": main,
        "reference amount above 30 g": not main and not small,
        "reference amount to 30 g": small,
    }[condition.product]


def _for_each_nutrient(
    law: Scheme, claim: str, conditions: list[ClaimCondition]
) -> Iterable[tuple[str, list[tuple[ClaimCondition, ReferenceValue | None]]]]:
    """A claim with its reference values; one about any nutrient becomes one claim for each that tables hold."""
    if NUTRIENT not in claim:
        yield claim, [(c, _reference(law, c.key) if c.measure == "reference share" else None) for c in conditions]
        return
    for value in reference_values(law.name):
        own = [c for c in conditions if c.key == value.set_name]
        wanted = NUTRIENTS_OF_SETS.get(value.set_name, tuple(FOOD_COMPONENTS))
        if own and value.key in wanted:
            yield claim.replace(NUTRIENT, value.nutrient), [(c, value) for c in own]


def _reference(law: Scheme, key: str) -> ReferenceValue | None:
    return law.reference_value("DV", key) or (
        law.reference_value("DV", "FASAT_G+FATRN_G") if key == "FASAT_G" else None
    )


def _result(
    claim: str, conditions: list[tuple[ClaimCondition, ReferenceValue | None]], raw: Figures, printed: Figures
) -> ClaimResult:
    first = conditions[0][0]
    references = [value.cited for _, value in conditions if value is not None]
    notes = dict.fromkeys(c.note for c, _ in conditions if c.note)
    if first.measure in ("comparison", "component"):
        figures: list[Figure] = []
        verdict = printed_verdict = Verdict.NOT_DETERMINABLE
        if first.measure == "comparison":
            notes = dict.fromkeys(["it compares with a similar product, which is not known here", *notes])
    else:
        figures = [raw.figure(c, value) for c, value in conditions]
        verdict = _any_alternative(conditions, figures)
        printed_verdict = _any_alternative(conditions, [printed.figure(c, value) for c, value in conditions])
        missing = [f.missing for f in figures if f.missing]
        if verdict is Verdict.NOT_DETERMINABLE:
            notes = dict.fromkeys([*missing, *notes])
        elif verdict is not printed_verdict and printed_verdict is not Verdict.NOT_DETERMINABLE:
            notes = dict.fromkeys([f"the printed figures say '{printed_verdict.value}'", *notes])
    return ClaimResult(
        claim=claim,
        kind=first.kind,
        verdict=verdict,
        printed_verdict=printed_verdict,
        figures=tuple(dict.fromkeys(f.text for f in figures)),
        limits=tuple(dict.fromkeys(_limit(c) for c, _ in conditions if c.limit is not None)),
        cited=tuple(dict.fromkeys([*(c.cited for c, _ in conditions), *references])),
        note="; ".join(notes),
    )


def _any_alternative(
    conditions: Sequence[tuple[ClaimCondition, ReferenceValue | None]], figures: Sequence[Figure]
) -> Verdict:
    by_alternative: dict[int, list[Verdict]] = {}
    for (condition, _), figure in zip(conditions, figures, strict=True):
        by_alternative.setdefault(condition.alternative, []).append(_holds(condition, figure))
    alternatives = [_all(verdicts) for verdicts in by_alternative.values()]
    if Verdict.MET in alternatives:
        return Verdict.MET
    return Verdict.NOT_DETERMINABLE if Verdict.NOT_DETERMINABLE in alternatives else Verdict.NOT_MET


def _all(verdicts: Sequence[Verdict]) -> Verdict:
    if Verdict.NOT_MET in verdicts:
        return Verdict.NOT_MET
    return Verdict.NOT_DETERMINABLE if Verdict.NOT_DETERMINABLE in verdicts else Verdict.MET


def _holds(condition: ClaimCondition, figure: Figure) -> Verdict:
    """Whether every amount that the figure allows meets the limit, none does, or some do."""
    limit = condition.limit
    if limit is None or figure.low is None or figure.high is None:
        return Verdict.NOT_DETERMINABLE
    compare = COMPARISONS[condition.operator]
    at_low, at_high = compare(figure.low, limit), compare(figure.high, limit)
    if at_low == at_high:
        return Verdict.MET if at_low else Verdict.NOT_MET
    return Verdict.NOT_DETERMINABLE


def _limit(condition: ClaimCondition) -> str:
    basis = {"100": " per 100 g or ml", "": " of energy"}.get(condition.basis, f" per {condition.basis}")
    if condition.measure == "reference share":
        basis = f" of the reference value{basis}"
    return f"{condition.operator} {condition.limit} {condition.unit}{basis}"
