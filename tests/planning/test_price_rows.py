"""Price lists as text: what is read, what is refused, what is told."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.examples import demo_prices
from mealcalc.planning.csv_tables import MOST_ROWS
from mealcalc.planning.price_rows import TEMPLATE, price_rows
from mealcalc.recipe.source import make_source
from tests.planning.shop import HEADER, TODAY, findings, prices


def test_a_row_is_read_with_all_its_cells() -> None:
    (row,) = prices('"rice, brown",1 kg,3.20,aud,2026-11-20,grains,corner shop,20036')
    assert (row.item, row.pack, row.price, row.currency) == ("rice, brown", "1 kg", Decimal("3.20"), "AUD")
    assert (row.day, row.section, row.store) == (date(2026, 11, 20), "grains", "corner shop")
    assert row.code == ("sr28", "20036")
    assert (row.span.file, row.span.line) == ("prices.csv", 2)


@pytest.mark.parametrize(
    ("header", "row"),
    [
        ("Item;Pack Size;Price;Currency", "rice;1 kg;3,20;EUR"),
        ("item\tpack\tprice\tcurrency", "rice\t1 kg\t3.2\tEUR"),
        ("currency,price,size,name", "EUR,3.20,1 kg,rice"),
        ("item,pack_size,price,currency,remarks", "rice,1 kg,3.20,EUR,cheap"),
    ],
)
def test_columns_go_by_their_names_and_any_separator(header: str, row: str) -> None:
    (read,) = prices(row, header=header)
    assert (read.item, read.pack, read.price, read.currency) == ("rice", "1 kg", Decimal("3.20"), "EUR")


@pytest.mark.parametrize(
    ("pack", "read"),
    [
        ("1 kg", "1 kg"),
        ("kg", "1 kg"),
        ("per kg", "1 kg"),
        ("each", "1 piece"),
        ("bunch", "1 bunch"),
        ("a bunch", "1 bunch"),
        ("2 x 400 g can", "2 x 400 g can"),
    ],
)
def test_pack_sizes_are_read_as_people_write_them(pack: str, read: str) -> None:
    assert prices(f"rice,{pack},1,EUR")[0].pack == read


@pytest.mark.parametrize(
    ("row", "code"),
    [
        ("rice,1 kg,0,EUR", "price-zero"),
        ("rice,1 kg,0.00,EUR", "price-zero"),
        ("rice,1 kg,-1,EUR", "bad-price"),
        ("rice,1 kg,,EUR", "bad-price"),
        ("rice,1 kg,cheap,EUR", "bad-price"),
        ("rice,1 kg,$3.20,EUR", "bad-price"),
        ('rice,1 kg,"3,200",EUR', "bad-price"),
        ("rice,1 kg,99999999,EUR", "bad-price"),
        ("rice,500,3.20,EUR", "pack-without-unit"),
        ("rice,1 1/2,3.20,EUR", "pack-without-unit"),
        ("rice,,3.20,EUR", "no-pack-size"),
        (",1 kg,3.20,EUR", "price-without-item"),
        ("rice,1 kg,3,20,EUR", "bad-currency"),  # a decimal comma without quotation marks
        ("rice,1 kg,3,EUR,2026-11-20,,,,,again", "too-many-cells"),
    ],
)
def test_a_row_that_cannot_be_used_is_refused_and_told(row: str, code: str) -> None:
    assert prices(row) == ()
    assert findings(row) == [code]


@pytest.mark.parametrize(
    ("row", "code"),
    [
        ("rice,1 kg,3.20,EUR,20 November", "bad-date"),
        ("rice,1 kg,3.20,EUR,2026-11-25", "date-ahead"),
        ("rice,1 kg,3.20,EUR,2025-11-23", "old-price"),
        ("rice,1 kg,3.20,EUR,,pantry", "unknown-section"),
        ("rice,1 kg,3.20,EUR,,,,sr28: 20036", "bad-food-code"),
        ("rice,1 kg,3.20,", "no-currency"),
    ],
)
def test_what_is_only_doubtful_is_told_and_used(row: str, code: str) -> None:
    assert len(prices(row)) == 1
    assert findings(row) == [code]


def test_a_price_of_just_a_year_is_not_old() -> None:
    assert findings("rice,1 kg,3.20,EUR,2025-11-24") == []


def test_old_prices_are_told_once_with_their_lines() -> None:
    text = "\n".join((HEADER, *(f"rice {n},1 kg,3.20,EUR,2024-01-0{n}" for n in (1, 2, 3))))
    _, found = price_rows(make_source(text, "prices.csv"), TODAY)
    assert [d.message for d in found] == ["3 prices are older than a year: lines 2, 3, 4"]


def test_two_currencies_leave_the_one_of_most_rows() -> None:
    rows = ("rice,1 kg,3.20,EUR", "beans,1 kg,3.20,USD", "oil,1 l,3.20,EUR", "salt,1 kg,1.00,")
    assert findings(*rows) == ["two-currencies"]
    assert [(row.item, row.currency) for row in prices(*rows)] == [("rice", "EUR"), ("oil", "EUR"), ("salt", "EUR")]


def test_of_two_prices_for_one_pack_the_newest_counts() -> None:
    rows = ("rice,1 kg,3.00,EUR,2026-01-01", "Rice,1kg,3.50,EUR,2026-05-01", "rice,1 kg,2.00,EUR", "rice,2 kg,6.00,EUR")
    assert [row.price for row in prices(*rows)] == [Decimal("3.50"), Decimal("6.00")]
    assert findings(*rows) == ["price-twice", "price-twice"]


def test_prices_of_two_stores_stand_beside_each_other() -> None:
    rows = ("rice,1 kg,3.00,EUR,,,market", "rice,1 kg,3.50,EUR,,,corner shop")
    assert len(prices(*rows)) == 2


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "empty-file"),
        ("# nothing yet\n", "empty-file"),
        ("rice,1 kg,3.20,EUR\n", "missing-column"),
        ("item,pack size,price\nrice,1 kg,3.20\n", "missing-column"),
        ("item,item,pack size,price,currency\na,b,1 kg,1,EUR\n", "column-twice"),
        ('item,pack size,price,currency\nrice,1 kg,"3.20\n' + "x" * 200_000, "bad-csv"),
    ],
)
def test_a_file_that_is_no_price_list_is_told(text: str, code: str) -> None:
    rows, found = price_rows(make_source(text, "prices.csv"), TODAY)
    assert rows == ()
    assert code in {d.code for d in found}
    assert all(d.hint for d in found)


def test_the_template_is_an_empty_list_and_its_examples_are_good_rows() -> None:
    rows, found = price_rows(make_source(TEMPLATE, "template"), TODAY)
    assert (rows, [d.code for d in found]) == ((), ["no-prices"])
    # The lines that are marked as no rows say how rows look.
    uncommented = TEMPLATE.replace("# One row", "#One row").replace("# Rows", "#Rows").replace("\n# ", "\n")
    rows, found = price_rows(make_source(uncommented, "template"), TODAY)
    assert (len(rows), found) == (5, ())


def test_the_demo_list_is_marked_as_invented_and_clean() -> None:
    text = demo_prices()
    assert "Invented prices" in text.splitlines()[1]
    rows, found = price_rows(make_source(text, "demo"), TODAY)
    assert found == ()
    assert len(rows) > 40


@given(st.text(max_size=300))
def test_no_text_makes_the_reader_raise(text: str) -> None:
    for whole in (text, f"{HEADER}\n{text}"):
        rows, found = price_rows(make_source(whole, "any"), TODAY)
        assert all(row.price > 0 and row.item and row.pack for row in rows)
        assert all(d.message for d in found)


def test_a_list_beyond_all_measure_is_cut_and_told() -> None:
    text = "\n".join((HEADER, *(f"rice {n},1 kg,3.20,EUR" for n in range(MOST_ROWS + 5))))
    rows, found = price_rows(make_source(text, "prices.csv"), TODAY)
    assert len(rows) == MOST_ROWS
    assert [d.code for d in found] == ["too-many-rows"]
