"""Price lists as text: a CSV file whose rows say what one pack of an item costs.

    item,pack size,price,currency,date,shop section,store,food code
    brown rice,1 kg,3.20,AUD,2026-11-20,grains,corner shop,
    "black beans, canned",400 g can,1.10,AUD,2026-11-20,,,

The last four columns may be left out. What is wrong with a row costs that row alone, and is told.
"""

import re
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.planning.csv_tables import Row, read_rows
from mealcalc.planning.packs import food_code, has_no_unit, plain_pack
from mealcalc.recipe.source import Source, read_source
from mealcalc.records.purchases import PriceRow
from mealcalc.reference.shopping_tables import SECTIONS

COLUMNS = {
    "item": ("name", "ingredient"),
    "pack size": ("pack", "size", "packsize", "amount"),
    "price": (),
    "currency": (),
    "date": ("day",),
    "shop section": ("section",),
    "store": ("shop",),
    "food code": ("code",),
}
REQUIRED = ("item", "pack size", "price", "currency")

TEMPLATE = """\
item,pack size,price,currency,date,shop section,store,food code
# One row for each pack that you buy: the item in the words of your recipes; the pack with its unit.,,,,,,,
# Rows that start with # are not read. Shop section and store and food code may stay empty.,,,,,,,
# brown rice,1 kg,3.20,AUD,2026-11-20,,,
# canned black beans,400 g,1.10,AUD,2026-11-20,,,
# brown onions,1 piece,0.45,AUD,2026-11-20,produce,,
# eggs,12 pieces,5.60,AUD,2026-11-20,,,
# coriander,1 bunch,2.50,AUD,2026-11-20,,,
"""
"""What `mealcalc prices --template` prints."""

OLD_AFTER = timedelta(days=365)
"""Age beyond which a price is told to be old."""

LONGEST_CURRENCY = 12
"""Characters of a currency; codes have three."""

HIGHEST_PRICE = Decimal(1_000_000)
"""Above this a price is taken for a mistake (our judgement)."""

_PRICE = re.compile(r"([-+−]?)(\d{1,9})(?:([.,])(\d{1,6}))?")
Refuse = Callable[[str, str, str], None]
_SECTION_NAMES = {title.lower(): name for name, title in SECTIONS.items()} | {name: name for name in SECTIONS}


def read_price_rows(path: str | Path, today: date) -> tuple[tuple[PriceRow, ...], tuple[Diagnostic, ...]]:
    """The usable rows of a price list, and all that is wrong with the others.

    Parameters
    ----------
    path : str or Path
        The file.
    today : date
        Prices are old or ahead of time by this day.

    Raises
    ------
    InputFileError
        If the file cannot be read at all.
    """
    return price_rows(read_source(path), today)


def price_rows(source: Source, today: date) -> tuple[tuple[PriceRow, ...], tuple[Diagnostic, ...]]:
    """As `read_price_rows`, of a text at hand."""
    rows, found = read_rows(source, COLUMNS, REQUIRED, "price list")
    if not rows and not found:
        hint = "write one row for each pack that you buy, below the names of the columns"
        found.append(Diagnostic("no-prices", Severity.WARNING, "the price list holds no price yet", source.start, hint))
    read = [price for row in rows if (price := _price_row(row, found)) is not None]
    read = _one_currency(read, found)
    read = _newest(read, found)
    _check_days(read, found, today)
    return tuple(read), tuple(found)


def _price_row(row: Row, found: list[Diagnostic]) -> PriceRow | None:
    item = row.cell("item")

    def refuse(code: str, message: str, hint: str) -> None:
        found.append(Diagnostic(code, Severity.ERROR, f"{message}: the price is not used", row.span, hint))

    if not item:
        refuse("price-without-item", "the row names no item", "write what it is in the first column")
        return None
    pack = plain_pack(row.cell("pack size"))
    if not pack:
        refuse("no-pack-size", f"'{item[:60]}' has no pack size", "write what one pack holds, such as 400 g")
        return None
    if has_no_unit(pack):
        hint = f"write {pack} g, {pack} ml or {pack} pieces"
        refuse("pack-without-unit", f"the pack size '{pack}' of '{item[:60]}' has no unit", hint)
        return None
    price = _price(row.cell("price"), item, refuse)
    if price is None:
        return None
    currency = row.cell("currency").upper()
    if any(character.isdigit() for character in currency) or len(currency) > LONGEST_CURRENCY:
        hint = "write its code, such as AUD; put a price with a decimal comma into quotation marks"
        refuse("bad-currency", f"the currency '{currency[:40]}' of '{item[:60]}' is none", hint)
        return None
    return PriceRow(
        item=item,
        pack=pack,
        price=price,
        currency=currency,
        day=_day(row, found),
        span=row.span,
        section=_section(row, found),
        store=row.cell("store"),
        code=_code(row, found),
    )


def _price(text: str, item: str, refuse: Refuse) -> Decimal | None:
    match = _PRICE.fullmatch(text.replace(" ", ""))
    example = "write a plain number such as 3.20; the currency has a column of its own"
    if match is None:
        refuse("bad-price", f"the price '{text[:40]}' of '{item[:60]}' is no number", example)
        return None
    sign, whole, mark, digits = match.groups()
    if mark == "," and len(digits) == 3:
        hint = f"write {whole}{digits} or {whole}.{digits}"
        refuse("bad-price", f"the price '{text}' of '{item[:60]}' can be read in two ways", hint)
        return None
    price = Decimal(f"{whole}.{digits}" if digits else whole)
    if price == 0:
        hint = "write what it costs you to replace it; a row left out is named as a line without a price"
        refuse("price-zero", f"the price of '{item[:60]}' is zero", hint)
        return None
    if sign in ("-", "−") or price > HIGHEST_PRICE:
        what = "negative" if sign in ("-", "−") else f"above {HIGHEST_PRICE}"
        refuse("bad-price", f"the price '{text}' of '{item[:60]}' is {what}", example)
        return None
    return price


def _day(row: Row, found: list[Diagnostic]) -> date | None:
    text = row.cell("date")
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        message = f"the date '{text[:40]}' is none that can be read: the price counts as undated"
        found.append(Diagnostic("bad-date", Severity.WARNING, message, row.span, "write it like 2026-11-24"))
        return None


def _section(row: Row, found: list[Diagnostic]) -> str:
    text = row.cell("shop section")
    name = _SECTION_NAMES.get(text.lower(), "")
    if text and not name:
        message = f"no shop section '{text[:40]}': the usual one of the food is taken"
        found.append(
            Diagnostic("unknown-section", Severity.WARNING, message, row.span, f"known are: {', '.join(SECTIONS)}")
        )
    return name


def _code(row: Row, found: list[Diagnostic]) -> tuple[str, str] | None:
    text = row.cell("food code")
    if not text:
        return None
    code = food_code(text)
    if code is None:
        message = f"the food code '{text[:40]}' is none: the food is found by its words"
        found.append(Diagnostic("bad-food-code", Severity.WARNING, message, row.span, "write it like sr28:20036"))
        return None
    return code


def _one_currency(rows: Sequence[PriceRow], found: list[Diagnostic]) -> list[PriceRow]:
    """The rows in the currency of most of them; those in another one are refused, those without one share it."""
    counted = Counter(row.currency for row in rows if row.currency)
    if not counted:
        if rows:
            hint = "write its code into the column 'currency', such as AUD"
            found.append(
                Diagnostic("no-currency", Severity.WARNING, "the price list names no currency", rows[0].span, hint)
            )
        return list(rows)
    currency = counted.most_common(1)[0][0]
    for row in rows:
        if row.currency not in ("", currency):
            message = f"'{row.item[:60]}' is priced in {row.currency}, the list in {currency}: the price is not used"
            hint = f"write its price in {currency}, or keep a list for each currency"
            found.append(Diagnostic("two-currencies", Severity.ERROR, message, row.span, hint))
    return [replace(row, currency=currency) for row in rows if row.currency in ("", currency)]


def _newest(rows: Sequence[PriceRow], found: list[Diagnostic]) -> list[PriceRow]:
    """Of several prices for the same item, pack and store the newest; an undated one counts as the oldest."""
    kept: dict[tuple[str, str, str], PriceRow] = {}
    for row in rows:
        key = (row.item.casefold(), row.pack.casefold().replace(" ", ""), row.store.casefold())
        other = kept.get(key)
        if other is None:
            kept[key] = row
            continue
        newer, older = (row, other) if (row.day or date.min) >= (other.day or date.min) else (other, row)
        kept[key] = newer
        message = f"'{row.item[:60]}', {row.pack}, is listed twice: line {newer.span.line} counts"
        found.append(
            Diagnostic("price-twice", Severity.NOTE, message, older.span, "remove the older one, or name the stores")
        )
    return list(kept.values())


def _check_days(rows: Sequence[PriceRow], found: list[Diagnostic], today: date) -> None:
    """One warning for all old prices and one for those ahead of time: a list ages as a whole."""
    old = [row for row in rows if row.day is not None and today - row.day > OLD_AFTER]
    ahead = [row for row in rows if row.day is not None and row.day > today]
    for code, these, what, hint in (
        ("old-price", old, "older than a year", "look the prices up again, and write the date beside each"),
        ("date-ahead", ahead, "dated after today", "check the dates"),
    ):
        if these:
            where = ", ".join(str(row.span.line) for row in these[:10]) + (" ..." if len(these) > 10 else "")
            number = f"{len(these)} price{'s are' if len(these) > 1 else ' is'}"
            place = f"line{'s' if len(these) > 1 else ''} {where}"
            found.append(Diagnostic(code, Severity.WARNING, f"{number} {what}: {place}", these[0].span, hint))
