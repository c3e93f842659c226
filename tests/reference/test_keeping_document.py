"""The document about keeping is what the tables say."""

from mealcalc.reference.cooling_tables import cooling_limits
from mealcalc.reference.keeping_tables import keeping_guidance
from tests.keeping_document import DOCUMENT, keeping_document


def test_the_document_is_up_to_date() -> None:
    assert DOCUMENT.read_text(encoding="utf-8") == keeping_document(), "write it anew: make docs"


def test_the_document_holds_every_statement_with_its_source() -> None:
    text = keeping_document()
    for row in keeping_guidance():
        assert row.wording in text
        assert row.source in text
    for limit in cooling_limits():
        assert limit.wording in text
