"""Allergens of a batch in plain text: what it contains, what depends on products, what is not known, the cautions."""

from collections.abc import Iterator, Mapping

from mealcalc.labelling.allergen_matching import AllergenFinding
from mealcalc.labelling.allergens import BatchAllergens, DeclaredAllergen
from mealcalc.labelling.statement_records import clean
from mealcalc.reference.allergen_tables import AllergenCaution
from mealcalc.reference.label_tables import ClauseStatus


def allergen_text(allergens: BatchAllergens) -> str:
    """The findings of a batch as lines of text, each allergen with the lines that bring it in and why.

    Where nothing is found the text says that nothing was found, never that nothing is there.
    """
    names = {line.line.number: clean(line.line.name or line.line.text) for line in allergens.lines}
    optional = {line.line.number for line in allergens.lines if line.line.optional}
    rows = [f"Allergens by the list of scheme {allergens.scheme}"]
    by_state = {"Contains": allergens.contains, "May depend on the product bought": allergens.may_depend}
    for heading, found in by_state.items():
        rows.append(f"{heading}:")
        rows += [f"  {row}" for declared in found for row in _rows(declared, names, optional)] or [
            "  nothing of the list was found in the words of the recipe"
        ]
    rows.append("Not known:")
    rows += [
        f"  line {line.line.number}, {names[line.line.number]}: {finding.reason}"
        for line in allergens.not_known
        for finding in line.not_known
    ] or ["  no line"]
    return "\n".join([*rows, *(caution_text(caution) for caution in allergens.cautions)])


def caution_text(caution: AllergenCaution) -> str:
    """A caution with its authority, and the clause where there is one."""
    if caution.cited.status is ClauseStatus.OWN_PRACTICE:
        return f"{caution.text} ({caution.authority})"
    return f"{caution.text} ({caution.authority}: {caution.cited})"


def _rows(declared: DeclaredAllergen, names: Mapping[int, str], optional: set[int]) -> Iterator[str]:
    condition = declared.listed.condition
    yield f"{declared.label}{f' [{condition}]' if condition else ''}"
    for number, finding in declared.findings:
        yield f"  line {number}, {names[number]}{_remark(finding, number in optional)}: {finding.reason}"


def _remark(finding: AllergenFinding, optional: bool) -> str:
    remarks = [f"in {finding.found_in.value}"] if finding.found_in.value != "the line" else []
    remarks += ["optional"] if optional else []
    return f" ({', '.join(remarks)})" if remarks else ""
