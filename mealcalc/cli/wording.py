"""Allergens and ingredient statement of a batch as they are published."""

from mealcalc.labelling.allergen_matching import AllergenState
from mealcalc.labelling.allergens import BatchAllergens, DeclaredAllergen, allergens_of_batch
from mealcalc.labelling.ingredient_statement import ingredient_statement
from mealcalc.planning.label_inputs import allergen_lines, statement_input
from mealcalc.records import BatchResult
from mealcalc.records.published import AllergenReason, AllergenWording, IngredientWording

BOLD = "**"


def allergen_wording(result: BatchResult, scheme: str) -> AllergenWording:
    """What is said of allergens under a scheme, each with the lines and reasons behind it."""
    found = allergens_of_batch(allergen_lines(result), scheme)
    return AllergenWording(
        contains=tuple(_label(declared) for declared in found.contains),
        may_depend=tuple(declared.label for declared in found.may_depend),
        not_known=tuple(line.line.text for line in found.not_known),
        cautions=tuple(f"{caution.text} ({caution.authority})" for caution in found.cautions),
        reasons=_reasons(found),
    )


def ingredient_wording(result: BatchResult, scheme: str) -> IngredientWording:
    """The ingredient statement under a scheme, in runs of plain and bold text."""
    statement = ingredient_statement(statement_input(result), scheme)
    parts = statement.text.split(BOLD)
    return IngredientWording(
        runs=tuple((text, bool(number % 2)) for number, text in enumerate(parts) if text),
        notes=tuple(str(note) for note in statement.notes),
    )


def _label(declared: DeclaredAllergen) -> str:
    return f"{declared.label} (only by an alternative)" if declared.only_by_alternative else declared.label


def _reasons(found: BatchAllergens) -> tuple[AllergenReason, ...]:
    """Every finding of every line, in the order of the recipe."""
    labels = {declared.listed.allergen: declared.label for declared in (*found.contains, *found.may_depend)}
    return tuple(
        AllergenReason(
            line.line.number,
            line.line.text,
            "" if finding.state is AllergenState.NOT_KNOWN else labels.get(finding.allergen, finding.allergen),
            finding.state.value,
            finding.reason,
        )
        for line in found.lines
        for finding in line.findings
    )
