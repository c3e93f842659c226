"""The document of the rules is what the tables say."""

from mealcalc.labelling.schemes import SCHEMES
from mealcalc.reference.label_tables import UNVERIFIED
from tests.labelling.rules_document import DOCUMENT, rules_document


def test_the_document_is_up_to_date() -> None:
    assert DOCUMENT.read_text(encoding="utf-8") == rules_document(), "run `python -m tests.labelling.rules_document`"


def test_every_scheme_shows_what_could_not_be_verified() -> None:
    parts = rules_document().split("\n## ")[2:]
    assert len(parts) == len(SCHEMES)
    for part, scheme in zip(parts, SCHEMES.values(), strict=True):
        assert part.startswith(scheme.title)
        assert UNVERIFIED in part
        assert "| read: " in part
