"""`mealcalc cost` and `mealcalc prices`: the commands a cook types."""

import csv
import io
from pathlib import Path

import pytest

from mealcalc.reports.cost_machine import COST_COLUMNS
from tests.command import EXAMPLES, ROOT, mealcalc, undocumented, write

SMOKY = EXAMPLES / "smoky-bean-turkey.batch.yaml"
DEMO = EXAMPLES / "demo-prices.csv"
HEADER = "item,pack size,price,currency,date\n"
LIST = "region: uk\ncontainers: 4\n400 g brown rice, dry\n2 onions\n900 ml water\nsalt to taste\n"


def test_the_example_costs_what_its_parts_cost() -> None:
    answer = mealcalc("cost", SMOKY, "--prices", DEMO, "--json")
    assert (answer.status, answer.err) == (0, "")
    shape = answer.json
    assert shape["complete"] is True
    assert shape["currency"] == "AUD"
    assert round(sum(line["cost"] for line in shape["lines"]), 2) == shape["cost"]
    assert round(sum(part["cost"] for part in shape["components"]), 2) == shape["cost"]
    assert round(sum(shape["each_container"]), 2) == shape["cost"]
    assert round(sum(packs["cost"] for packs in shape["packs"]), 2) == shape["packs_cost"]
    assert shape["packs_cost"] > shape["cost"] > 0


def test_the_text_shows_totals_lines_and_packs(kitchen: Path) -> None:
    write(kitchen, "list.txt", LIST)
    write(kitchen, "prices.csv", HEADER + "brown rice,1 kg,3.20,EUR,\nonions,1 piece,0.40,EUR,\n")
    answer = mealcalc("cost", "list.txt", "--prices", "prices.csv", "--grounds")
    assert (answer.status, answer.err) == (0, "")
    assert "4 containers, costs in EUR" in answer.out
    batch = next(row for row in answer.out.splitlines() if row.startswith("batch  "))
    assert batch.split()[1:3] == ["2.08", "0.52"]
    for words in ("0.4 x 1 kg at 3.20: brown rice", "tap water: free", "no amount: not in the cost", "600 g", "/ 0.9:"):
        assert words in answer.out
    assert "line 6 (salt)" in answer.out


def test_brief_shows_the_totals_only(kitchen: Path) -> None:
    write(kitchen, "list.txt", LIST)
    answer = mealcalc("cost", "list.txt", "--prices", DEMO, "--brief")
    assert "Line by line" not in answer.out
    assert "100 g protein" in answer.out


def test_the_csv_holds_lines_components_packs_and_totals() -> None:
    answer = mealcalc("cost", SMOKY, "--prices", DEMO, "--csv")
    rows = list(csv.DictReader(io.StringIO(answer.out)))
    assert {row["scope"] for row in rows} == {"line", "component", "batch", "packs", "bought"}
    of = {scope: [float(row["cost"]) for row in rows if row["scope"] == scope] for scope in ("line", "batch", "packs")}
    assert round(sum(of["line"]), 2) == of["batch"][0]
    assert round(sum(of["packs"]), 2) == float(rows[-1]["cost"])


def test_a_variant_a_number_of_containers_and_optional_lines() -> None:
    def cost(*options: str) -> tuple[float, float]:
        shape = mealcalc("cost", SMOKY, "--prices", DEMO, "--json", *options).json
        return shape["cost"], shape["cost_per_container"]

    plain = cost()
    assert cost("--variant", "leaner mince")[0] > plain[0]
    assert cost("--without-optional")[0] < plain[0]
    fewer = cost("--containers", "3")
    assert fewer[0] == plain[0]
    assert fewer[1] == pytest.approx(2 * plain[1], abs=0.01)


def test_a_line_without_a_price_fails_and_all_else_is_shown(kitchen: Path) -> None:
    write(kitchen, "list.txt", LIST)
    write(kitchen, "prices.csv", HEADER + "brown rice,1 kg,3.20,EUR,\n")
    answer = mealcalc("cost", "list.txt", "--prices", "prices.csv")
    assert answer.status == 1
    assert "INCOMPLETE: no price for line 4 (onions)" in answer.out
    assert "≥ 1.28" in answer.out
    assert "list.txt:4:1: warning: no price is listed for 'onions'" in answer.err
    assert mealcalc("cost", "list.txt", "--prices", "prices.csv", "--json").json["complete"] is False


@pytest.mark.parametrize(
    ("rows", "code"),
    [
        ("brown rice,1 kg,0,EUR,\n", "price-zero"),
        ("brown rice,1 kg,3,EUR,\nonions,1 kg,3,AUD,\n", "two-currencies"),
        ("brown rice,500,3,EUR,\n", "pack-without-unit"),
        ("brown rice,3 blobs,3,EUR,\n", "bad-pack-size"),
        ("brown rice,1 kg,3,EUR,2020-01-01\n", "old-price"),
    ],
)
def test_a_bad_row_is_told_with_its_place(kitchen: Path, rows: str, code: str) -> None:
    write(kitchen, "list.txt", LIST)
    write(kitchen, "prices.csv", HEADER + rows)
    answer = mealcalc("cost", "list.txt", "--prices", "prices.csv")
    assert answer.status == 1
    assert f"[{code}]" in answer.err
    assert "prices.csv:" in answer.err
    assert "one container" in answer.out


@pytest.mark.parametrize(
    "content", [b"", b"\x00\x01\x02", b"just text", b'item,pack size,price,currency\n"', b"\xff" * 50]
)
def test_a_file_that_is_no_price_list_ends_in_a_finding(kitchen: Path, content: bytes) -> None:
    write(kitchen, "list.txt", LIST)
    write(kitchen, "prices.csv", content)
    answer = mealcalc("cost", "list.txt", "--prices", "prices.csv")
    assert answer.status == 1
    assert "prices.csv" in answer.err


def test_a_price_list_that_is_not_there_is_wrong_usage(kitchen: Path) -> None:
    write(kitchen, "list.txt", LIST)
    for name in ("none.csv", str(kitchen)):
        answer = mealcalc("cost", "list.txt", "--prices", name)
        assert (answer.status, answer.out) == (2, "")
        assert "error: " in answer.err
    assert mealcalc("cost", "list.txt").status == 2
    assert mealcalc("cost", "list.txt", "--prices", DEMO, "--json", "--csv").status == 2


def test_markup_of_a_price_list_does_not_steer_the_terminal(kitchen: Path) -> None:
    write(kitchen, "list.txt", LIST)
    write(kitchen, "prices.csv", HEADER + "brown rice,1 kg,3.20,[red],\n\x1b[31monions,1 kg,1,[RED],\n")
    answer = mealcalc("cost", "list.txt", "--prices", "prices.csv")
    assert "\x1b" not in answer.out + answer.err
    assert "costs in [RED]" in answer.out


# --- prices -----------------------------------------------------------------------------------------------------------


def test_the_template_is_a_list_that_a_spreadsheet_opens(kitchen: Path) -> None:
    answer = mealcalc("prices", "--template")
    assert answer.status == 0
    rows = list(csv.reader(io.StringIO(answer.out)))
    assert rows[0][:5] == ["item", "pack size", "price", "currency", "date"]
    assert {len(row) for row in rows} == {8}
    write(kitchen, "prices.csv", answer.out + "brown rice,1 kg,3.20,AUD,2026-11-20,,,\n")
    write(kitchen, "list.txt", "region: uk\ncontainers: 1\n400 g brown rice\n")
    assert mealcalc("cost", "list.txt", "--prices", "prices.csv", "--json").json["cost"] == 1.28


def test_the_demo_list_is_the_one_of_the_examples() -> None:
    assert mealcalc("prices", "--demo").out == DEMO.read_text(encoding="utf-8")


def test_each_price_is_shown_with_its_food(kitchen: Path) -> None:
    write(kitchen, "prices.csv", HEADER + "brown rice,1 kg,3.20,EUR,\nzorgles,1 jar,2,EUR,\nrice,,1,EUR,\n")
    answer = mealcalc("prices", "prices.csv", "--region", "uk")
    assert answer.status == 1
    assert "sr28:20036 Rice, brown, long-grain, raw" in answer.out
    assert "no food of a table" in answer.out
    assert "[no-pack-size]" in answer.err
    shape = mealcalc("prices", "prices.csv", "--json").json
    assert [price["pack_mass_g"] for price in shape["prices"]] == [1000.0, None]
    assert [price["food"] and price["food"]["code"] for price in shape["prices"]] == ["20036", None]
    assert [d["code"] for d in shape["diagnostics"]] == ["no-pack-size"]


@pytest.mark.parametrize("arguments", [(), ("--template", "--demo"), ("prices.csv", "--demo"), ("none.csv",)])
def test_prices_called_wrongly(kitchen: Path, arguments: tuple[str, ...]) -> None:
    write(kitchen, "prices.csv", HEADER)
    assert mealcalc("prices", *arguments).status == 2


def test_every_key_and_column_is_documented() -> None:
    assert undocumented(mealcalc("cost", SMOKY, "--prices", DEMO, "--json").json) == set()
    text = (ROOT / "docs" / "machine-shapes.md").read_text(encoding="utf-8")
    assert [column for column in COST_COLUMNS if f"`{column}`" not in text] == []
    assert undocumented(mealcalc("prices", DEMO, "--json").json) == set()
