"""Entries under `foods:` that are batches of their own, as read from a batch file."""

import pytest

from mealcalc.records import SubBatch
from tests.recipe.reading import batch_of, errors, read, shown

BATCH = """\
components:
  - name: Soup
    ingredients: 600 ml chicken stock
containers: 2
foods:
{foods}"""


def sub_batches(foods: str) -> tuple[SubBatch, ...]:
    result = read(BATCH.format(foods=foods))
    assert errors(result) == [], shown(result.diagnostics)
    return batch_of(result).sub_batches


def test_a_batch_is_named_with_its_file_and_its_measures() -> None:
    (stock,) = sub_batches(
        "  - name: Chicken stock\n    names: [stock]\n    batch: bases/stock.batch.yaml\n"
        "    density: 1.01 g/ml\n    scoop: 60 g\n"
    )
    assert (stock.name, stock.names, stock.code) == ("Chicken stock", ("stock",), "chicken-stock")
    assert stock.path == "bases/stock.batch.yaml"
    assert stock.food is None
    assert stock.span is not None
    assert (stock.span.line, stock.span.column) == (8, 12)
    assert [(m.description, round(m.mass_g, 1)) for m in stock.measures] == [("scoop", 60.0), ("cup", 239.0)]
    # 1.01 g/ml x 236.588 ml = 238.95 g in a US cup


def test_labels_and_batches_stand_side_by_side() -> None:
    result = read(BATCH.format(foods="  - {name: a, per: 100 g, fat: 1 g}\n  - {name: b, batch: b.txt}\n"))
    batch = batch_of(result)
    assert [food.description for food in batch.own_foods] == ["a"]
    assert [sub.name for sub in batch.sub_batches] == ["b"]
    assert [food.description for food in batch.known_foods] == ["a"]  # b is known once it is calculated


@pytest.mark.parametrize(
    ("entry", "code"),
    [
        ("{name: a, batch: a.yaml, protein: 3 g}", "batch-and-label"),
        ("{name: a, batch: a.yaml, per: 100 g}", "batch-and-label"),
        ("{name: a, batch: a.yaml, serving: 30 g}", "batch-and-label"),
        ("{name: a, batch: /stock.yaml}", "bad-sub-batch"),
        ("{name: a, batch: 'C:\\stock.yaml'}", "bad-sub-batch"),
        ("{name: a, batch: [a.yaml]}", "wrong-type"),
        ("{name: a, batch: }", "missing-value"),
        ("{batch: a.yaml}", "missing-key"),
        ("{name: a, batch: a.yaml, density: 5 g/ml}", "bad-density"),
        ("{name: a, batch: a.yaml, scoop: 5 ml}", "bad-weight"),
        ("{name: a, batch: a.yaml}\n  - {name: A, per: 100 g, fat: 1 g}", "duplicate-food"),
        ("{name: a, bach: a.yaml}", "unknown-key"),
    ],
)
def test_wrong_entries_are_told_with_their_place(entry: str, code: str) -> None:
    result = read(BATCH.format(foods=f"  - {entry}\n"))
    assert code in errors(result)
    assert all(d.span is not None and d.span.line >= 6 and d.hint for d in result.diagnostics if d.code == code)


def test_variants_of_a_batch_keep_its_sub_batches() -> None:
    from mealcalc.planning.variants import apply_variant

    text = BATCH.format(foods="  - {name: stock, batch: b.txt}\n") + "variants:\n  - {name: v, leave_out: [stock]}\n"
    batch = batch_of(read(text))
    assert apply_variant(batch, "v").sub_batches == batch.sub_batches
