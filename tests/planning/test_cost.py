"""The cost of a batch: worked by hand, adding up to the cent, growing with the batch."""

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.examples import demo_prices, examples, read_example
from mealcalc.fooddb import FoodDatabase
from mealcalc.money import rounded
from mealcalc.pipeline import calculate, run
from mealcalc.planning.cost import cost_of, whole_cost
from mealcalc.planning.price_rows import price_rows
from mealcalc.planning.prices import PriceBook
from mealcalc.recipe.reader import read_text
from mealcalc.recipe.source import make_source
from mealcalc.records.purchases import BatchCost, CostStatus
from mealcalc.reports.cost_figures import shown
from tests.planning.shop import TODAY, calculated, costed, prices

ROWS = (
    "brown rice,1 kg,3.20,EUR",
    "carrots,1 kg,1.79,EUR",
    "onions,1 piece,0.33,EUR",
    '"beef mince, 12% fat",500 g,5.49,EUR',
    "olive oil,750 ml,8.35,EUR",
    "eggs,12 pieces,4.19,EUR",
    "black beans,400 g can,0.97,EUR",
    "paprika,40 g,1.99,EUR",
)
LINES = (
    "{} g brown rice",
    "{} g carrots",
    "{} onions",
    "{} g beef mince, 12% fat",
    "{} ml olive oil",
    "{} eggs",
    "{} x 400 g cans black beans, drained",
    "{} tsp paprika",
    "{} ml water",
)
amounts = st.lists(st.tuples(st.integers(1, 300), st.sampled_from(LINES)), min_size=1, max_size=8)


def written(lines: list[tuple[int, str]], factor: int = 1) -> list[str]:
    return [line.format(number * factor) for number, line in lines]


def test_a_batch_worked_by_hand(database: FoodDatabase) -> None:
    lines = [
        "Base:",
        "400 g brown rice",  # 0.4 kg at 3.20 = 1.28
        "900 ml water",
        "Main:",
        "445 g carrots",  # 445 / 0.89 = 500 g at 1.79 a kg = 0.895
        "1 kg beef mince, 12% fat",  # 2 packs at 5.49 = 10.98
        "3 x 400 g cans black beans, drained",  # 3 x 0.97 = 2.91
        "salt to taste",
    ]
    cost = costed(database, lines, ROWS, containers=6)
    figures = shown(cost)
    assert cost.complete
    assert cost.currency == "EUR"
    assert cost.used == pytest.approx(Decimal("16.065"))
    assert [str(part.used) for part in figures.components] == ["1.28", "14.79"]  # 14.785
    assert [str(amount) for amount in figures.lines] == ["1.28", "0.00", "0.90", "10.98", "2.91", "0.00"]
    assert (str(figures.batch.used), str(figures.batch.in_container)) == ("16.07", "2.68")
    # Packs: 1 kg of rice, 1 kg of carrots, 2 of mince, 3 cans.
    assert [(packs.packs.packs, str(packs.cost)) for packs in figures.packs] == [
        (1, "3.20"),
        (1, "1.79"),
        (2, "10.98"),
        (3, "2.91"),
    ]
    assert str(figures.packs_cost) == "18.88"
    assert [packs.packs.left_g for packs in figures.packs] == [pytest.approx(g, abs=1e-6) for g in (600, 500, 0, 0)]
    statuses = [line.status for line in cost.lines]
    assert statuses[1] is CostStatus.FREE
    assert statuses[-1] is CostStatus.NO_AMOUNT


def test_protein_and_energy_have_their_price(database: FoodDatabase) -> None:
    """SR28 05062: chicken breast holds 22.5 g protein and 120 kcal per 100 g."""
    cost = costed(database, ["1 kg skinless chicken breast"], ["skinless chicken breast,1 kg,12,EUR"], containers=4)
    figures = shown(cost).batch
    assert str(figures.per_100g_protein) == "5.33"  # 12 / 225 g x 100
    assert str(figures.per_100kcal) == "1.00"  # 12 / 1200 kcal x 100


def test_packs_are_bought_once_for_all_lines(database: FoodDatabase) -> None:
    cost = costed(database, ["A:", "300 g brown rice", "B:", "600 g brown rice"], ROWS)
    (packs,) = cost.bought
    assert packs.packs == 1
    assert packs.needed == pytest.approx(0.9)
    assert cost.packs_cost == Decimal("3.20")


@pytest.mark.parametrize("line", ["200 g quinoa", "100 g zorgles", "2 tbsp zorgles"])
def test_a_line_without_a_price_is_named_and_the_cost_incomplete(database: FoodDatabase, line: str) -> None:
    cost = costed(database, ["400 g brown rice", line], ROWS)
    figures = shown(cost)
    assert not cost.complete
    assert [d.code for d in cost.diagnostics] == ["no-price"]
    assert cost.diagnostics[0].span is not None
    assert cost.diagnostics[0].span.line == 4
    assert str(figures.batch.used) == "1.28"
    assert not figures.batch.complete


def test_without_known_protein_no_price_of_protein(database: FoodDatabase) -> None:
    figures = shown(costed(database, ["400 g brown rice", "100 g zorgles"], (*ROWS, "zorgles,100 g,1,EUR")))
    assert figures.batch.complete
    assert figures.batch.per_100g_protein is None


def test_an_empty_list_leaves_every_line_without_a_price(database: FoodDatabase) -> None:
    cost = costed(database, ["400 g brown rice", "900 ml water"], [])
    assert [line.status for line in cost.lines] == [CostStatus.NO_PRICE, CostStatus.FREE]
    assert shown(cost).packs == ()


def test_lines_that_are_not_counted_cost_their_price(database: FoodDatabase) -> None:
    cost = costed(database, ["750 ml olive oil [count no]"], ROWS)
    assert cost.used == pytest.approx(Decimal("8.35"))


def test_variants_are_priced_one_after_another(database: FoodDatabase) -> None:
    cost = whole_cost(PriceBook(prices(*ROWS), database))
    results = [calculated(database, "400 g brown rice"), calculated(database, "400 g brown rice", "100 g zorgles")]
    assert [cost(result) for result in results] == [Decimal("1.28"), None]


# --- properties -------------------------------------------------------------------------------------------------------


def check_adds_up(cost: BatchCost) -> None:
    figures, coin = shown(cost), Decimal("0.01")
    number = cost.result.batch.containers
    assert figures.batch.used == rounded(cost.used, cost.currency)
    assert sum(part.used for part in figures.components) == figures.batch.used
    assert sum(part.in_container for part in figures.components) == figures.batch.in_container
    assert sum(figures.lines) == figures.batch.used
    assert sum(figures.containers) == figures.batch.used
    assert len(figures.containers) == number
    assert max(figures.containers) - min(figures.containers) <= coin
    assert sum(packs.cost for packs in figures.packs) == figures.packs_cost
    assert sum(packs.used for packs in figures.packs) == figures.batch.used
    position = 0
    for part, costs in zip(figures.components, cost.components, strict=True):
        assert sum(figures.lines[position : position + len(costs.lines)]) == part.used
        position += len(costs.lines)
    for packs in cost.bought:
        assert packs.packs >= packs.needed - 1e-6
        assert packs.packs < packs.needed + 1


@settings(max_examples=25)
@given(base=amounts, main=amounts, containers=st.integers(1, 12))
def test_cost_adds_up_to_the_cent(
    database: FoodDatabase, base: list[tuple[int, str]], main: list[tuple[int, str]], containers: int
) -> None:
    check_adds_up(costed(database, ["Base:", *written(base), "Main:", *written(main)], ROWS, containers))


@settings(max_examples=25)
@given(lines=amounts, k=st.integers(2, 9))
def test_scaling_a_batch_scales_its_cost(database: FoodDatabase, lines: list[tuple[int, str]], k: int) -> None:
    once, scaled = (costed(database, written(lines, factor), ROWS) for factor in (1, k))
    assert float(scaled.used) == pytest.approx(k * float(once.used), rel=1e-9)
    assert once.complete
    assert once.packs_cost <= scaled.packs_cost <= k * once.packs_cost or any(
        first.price.row != second.price.row for first, second in zip(once.bought, scaled.bought, strict=True)
    )


@settings(max_examples=25)
@given(lines=amounts)
def test_packs_cost_at_least_what_is_used(database: FoodDatabase, lines: list[tuple[int, str]]) -> None:
    cost = costed(database, written(lines), ROWS)
    assert cost.packs_cost >= cost.used - Decimal("0.0001")


@pytest.mark.parametrize("name", [example.name for example in examples()])
def test_the_examples_are_priced_by_the_demo_list(database: FoodDatabase, name: str) -> None:
    batch = read_text(read_example(name), f"{name}.batch.yaml").batch
    assert batch is not None
    rows, _ = price_rows(make_source(demo_prices(), "demo-prices.csv"), TODAY)
    cost = cost_of(calculate(batch, database), PriceBook(rows, database))
    assert cost.complete
    assert cost.diagnostics == ()
    check_adds_up(cost)


# --- batches in batches -----------------------------------------------------------------------------------------------

STOCK = """\
title: Stock
region: uk
containers: 1
components:
  - name: Pot
    cooked_weight: 2000 g
    ingredients: |
      1 kg carrots [as bought]
      2.5 l water
"""
SOUP = """\
title: Soup
region: uk
containers: 2
foods:
  - name: carrot stock
    batch: stock.batch.yaml
components:
  - name: Pot
    ingredients: |
      500 g carrot stock
      100 g brown rice
"""


def test_a_batch_in_a_batch_costs_its_share(database: FoodDatabase, tmp_path: Path) -> None:
    (tmp_path / "stock.batch.yaml").write_text(STOCK, encoding="utf-8")
    (tmp_path / "soup.batch.yaml").write_text(SOUP, encoding="utf-8")
    result = run(tmp_path / "soup.batch.yaml", database=database)
    cost = cost_of(result, PriceBook(prices(*ROWS), database))
    assert cost.complete
    stock, rice = cost.lines
    assert float(stock.used) == pytest.approx(1.79 / 4)  # 500 of 2000 g cooked
    assert [p.purchase.used_in for p in stock.purchases] == [("carrot stock",)] * 2
    assert float(rice.used) == pytest.approx(0.32)
    without = cost_of(result, PriceBook(prices(*ROWS[:1]), database))
    assert [d.message for d in without.diagnostics] == [
        "no price is listed for 'carrots' in 'carrot stock': the cost is incomplete"
    ]
    check_adds_up(cost)
