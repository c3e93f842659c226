"""Readers of the rules of ingredient lists and of the words for herbs and spices.

`ingredient_list_rules.csv` holds for each scheme what its law says about order, small amounts, added water, class
names, quantities of characterising ingredients and compound ingredients, each with its clause and how surely it is
known.
"""

from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from mealcalc.reference.label_tables import Citation, citation, rows_of_scheme
from mealcalc.reference.plain_words import plain_words
from mealcalc.reference.tables import read_table

_SAID_OF_HERBS = frozenset("dried dry fresh freshly ground whole crushed chopped minced torn finely roughly".split())


@dataclass(frozen=True, slots=True)
class IngredientRule:
    """One rule of the ingredient list of a scheme.

    rule: its name. value: a share in percent or a step, None where the rule has no number. bound: whether the value
    itself still falls under the rule (`<=`) or not (`<`). text: what it says, or words that the law prescribes.
    """

    rule: str
    value: Decimal | None
    bound: str
    text: str
    note: str
    cited: Citation

    def holds_for(self, share_percent: Decimal) -> bool:
        """Whether a share in percent falls under the rule; always, where the rule has no number."""
        if self.value is None:
            return True
        return share_percent <= self.value if self.bound == "<=" else share_percent < self.value


@cache
def ingredient_rules(scheme: str) -> dict[str, IngredientRule]:
    """Rules of a scheme by name; empty for an unknown scheme."""
    return {row.rule: row for row in rows_of_scheme("ingredient_list_rules.csv", scheme, _rule)}


def herb_or_spice(name: str) -> str:
    """'herb' or 'spice' where a name means one of them and nothing else, '' otherwise.

    Parameters
    ----------
    name : str
        Name of an ingredient in plain trade words (`ground cumin`).
    """
    words = plain_words(name)
    kinds = _kinds()
    while words:
        if words in kinds:
            return kinds[words]
        if words[0] not in _SAID_OF_HERBS:
            return ""
        words = words[1:]
    return ""


@cache
def _kinds() -> dict[tuple[str, ...], str]:
    rows = read_table("herbs_and_spices.csv", lambda r: (r["kind"], r["words"].split("|")))
    return {plain_words(phrase): kind for kind, phrases in rows for phrase in phrases}


def _rule(row: dict[str, str]) -> IngredientRule:
    if row["bound"] not in ("", "<", "<="):
        raise ValueError(f"'{row['bound']}' is no bound")
    return IngredientRule(
        rule=row["rule"],
        value=Decimal(row["value"]) if row["value"] else None,
        bound=row["bound"],
        text=row["text"],
        note=row["note"],
        cited=citation(row),
    )
