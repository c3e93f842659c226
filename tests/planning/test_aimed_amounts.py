"""Amounts of lines for targets: what comes out is calculated anew, packs stay whole, words mean one line."""

from collections.abc import Callable
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.errors import UsageError
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate
from mealcalc.planning.aim import aim
from mealcalc.planning.targets import SHOWN_SLACK
from mealcalc.recipe.reader import read_text
from mealcalc.records import BatchResult, Eater
from mealcalc.records.aimed import Aimed, AimedContainer, AimedLine
from mealcalc.records.targets import COST, MASS, Bound

Calculated = Callable[[str], BatchResult]

POTS = """\
title: Pots
region: uk
containers: 5
components:
  - name: Rice
    cooking: boiled, all water absorbed
    ingredients: |
      375 g brown rice
      800 ml water
  - name: Chilli
    cooking: simmered 40 min
    ingredients: |
      500 g beef mince, 10% fat
      2 x 400 g cans kidney beans, drained
      2 onions
      1 tbsp olive oil
      400 g tin chopped tomatoes
      salt to taste
"""


@pytest.fixture(scope="module")
def chilli(database: FoodDatabase) -> BatchResult:
    batch = read_text(POTS, "pots.batch.yaml").batch
    assert batch is not None
    return calculate(batch, database)


class Pots:
    """The batch for property tests, shown by its title."""

    def __init__(self, result: BatchResult, database: FoodDatabase) -> None:
        self.result, self.database = result, database

    def __repr__(self) -> str:
        return f"<{self.result.batch.title}>"


@pytest.fixture(scope="module")
def pots(chilli: BatchResult, database: FoodDatabase) -> Pots:
    return Pots(chilli, database)


def one(aimed: Aimed) -> AimedContainer:
    (container,) = aimed.containers
    return container


def line(aimed: Aimed, name: str) -> AimedLine:
    return next(line for line in aimed.lines if line.name == name)


def check_limits(aimed: Aimed) -> None:
    assert aimed.kept
    assert all(j.met for c in aimed.containers for j in c.judged if j.target.bound is not Bound.ABOUT)


def test_the_figures_are_those_of_the_batch_with_the_amounts_found(chilli: BatchResult, database: FoodDatabase) -> None:
    aimed = aim(chilli, ["protein at least 45 g", "energy at most 620 kcal"], database, change=["beef mince", "Rice"])
    check_limits(aimed)
    mince, rice = line(aimed, "beef mince"), line(aimed, "brown rice")
    text = POTS.replace("500 g beef", f"{mince.found_g:.6f} g beef").replace(
        "375 g brown", f"{rice.found_g:.6f} g brown"
    )
    text = text.replace("800 ml water", f"{800 * rice.factor:.6f} ml water")
    batch = read_text(text, "pots.batch.yaml").batch
    assert batch is not None
    again = calculate(batch, database)
    for key in ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G", "FIBTG_G"):
        assert one(aimed).figures[key] == pytest.approx(again.per_container[key].amount, rel=1e-4)
        assert one(aimed).even_figures[key] == pytest.approx(chilli.per_container[key].amount)
    assert one(aimed).figures[MASS] == pytest.approx(sum(p.cooked_mass_g for p in again.components) / 5, rel=1e-3)


def test_amounts_are_what_a_kitchen_measures(chilli: BatchResult, database: FoodDatabase) -> None:
    aimed = aim(chilli, ["energy at most 500 kcal"], database, change=["beef mince", "olive oil", "onions"])
    check_limits(aimed)
    assert line(aimed, "beef mince").found_g % 5 == pytest.approx(0.0, abs=1e-6)
    assert line(aimed, "beef mince").written == "500 g"
    assert line(aimed, "onions").factor * 2 == pytest.approx(round(line(aimed, "onions").factor * 4) / 2)
    assert {row.component for row in aimed.lines} == {"Chilli"}


def test_all_lines_of_a_component_change_together(chilli: BatchResult, database: FoodDatabase) -> None:
    aimed = aim(chilli, ["energy at most 500 kcal"], database, change=["rice"])
    # 'rice' is the name of the component, in any case: its water changes too.
    assert [row.name for row in aimed.lines] == ["brown rice", "water"]
    assert len({row.factor for row in aimed.lines}) == 1
    by_words = aim(chilli, ["energy at most 500 kcal"], database, change=["brown rice"])
    assert [row.name for row in by_words.lines] == ["brown rice"]


def test_packs_stay_whole(chilli: BatchResult, database: FoodDatabase) -> None:
    change = ["beef mince", "kidney beans", "Rice"]
    packs = ["beef mince=250 g", "kidney beans"]
    aimed = aim(
        chilli, ["protein at least 50 g", "energy at most 700 kcal"], database, change=change, whole_packs=packs
    )
    check_limits(aimed)
    mince, beans = line(aimed, "beef mince"), line(aimed, "kidney beans")
    assert mince.packs is not None
    assert mince.found_g == pytest.approx(250.0 * mince.packs)
    assert beans.packs is not None
    assert beans.factor == pytest.approx(beans.packs / 2)
    assert line(aimed, "brown rice").packs is None


def test_whole_packs_are_the_nearest_of_all(chilli: BatchResult, database: FoodDatabase) -> None:
    aimed = aim(chilli, ["protein at least 50 g"], database, change=["beef mince", "kidney beans"],
                whole_packs=["beef mince=250 g", "kidney beans"])  # fmt: skip
    found = (line(aimed, "beef mince").packs or 0, line(aimed, "kidney beans").packs or 0)
    per = [chilli.contributions[k].amounts["PROCNT_G"] or 0.0 for k in (2, 3)]
    rest = chilli.totals["PROCNT_G"].amount - sum(per)
    kept = [
        (m, b)
        for m in range(9)
        for b in range(9)
        if rest + per[0] * m / 2 + per[1] * b / 2 >= 250.0 * (1 - SHOWN_SLACK)
    ]
    assert found == min(kept, key=lambda p: (p[0] / 2 - 1) ** 2 + (p[1] / 2 - 1) ** 2)


def test_a_ratio_stays_as_written(chilli: BatchResult, database: FoodDatabase) -> None:
    aimed = aim(chilli, ["energy at most 500 kcal"], database, change=["beef mince", "kidney beans", "Rice"],
                keep_ratio=[["beef mince", "kidney beans"]])  # fmt: skip
    assert line(aimed, "beef mince").factor == pytest.approx(line(aimed, "kidney beans").factor, abs=0.02)
    assert line(aimed, "brown rice").factor != pytest.approx(line(aimed, "beef mince").factor, abs=0.02)


def test_the_mass_of_a_container_follows_the_cooking(chilli: BatchResult, database: FoodDatabase) -> None:
    aimed = aim(chilli, ["mass at most 450 g"], database, change=["Rice", "beef mince"])
    check_limits(aimed)
    assert one(aimed).figures[MASS] <= 450.0 * (1 + SHOWN_SLACK)
    assert one(aimed).even_figures[MASS] > 450.0


def test_a_weighed_pot_is_taken_to_weigh_in_proportion(calculated: Calculated, database: FoodDatabase) -> None:
    text = POTS.replace("    cooking: simmered 40 min", "    cooking: simmered 40 min\n    cooked_weight: 1900 g")
    aimed = aim(calculated(text), ["protein at least 50 g"], database, change=["beef mince"])
    assert one(aimed).grams["Chilli"] * 5 > 1900.0
    assert "weight-in-proportion" in {d.code for d in aimed.diagnostics}


def test_costs_follow_the_amounts(chilli: BatchResult, database: FoodDatabase) -> None:
    costs = [Decimal(n) for n in ("1.10", "0", "4.50", "1.60", "0.40", "0.20", "0.60", "0")]
    aimed = aim(chilli, ["cost at most 1.40"], database, change=["beef mince", "Rice"], costs=costs, currency="GBP")
    check_limits(aimed)
    mince, rice = line(aimed, "beef mince").factor, line(aimed, "brown rice").factor
    total = 4.5 * mince + 1.1 * rice + 1.6 + 0.4 + 0.2 + 0.6
    assert float(aimed.cost or 0) == pytest.approx(total)
    assert one(aimed).figures[COST] == pytest.approx(total / 5)


def test_eaters_have_their_share_of_the_pot(chilli: BatchResult, database: FoodDatabase) -> None:
    eaters = [Eater("adult", 1.5, 2), Eater("child", 0.5, 3)]
    aimed = aim(chilli, ["adult: protein at least 70 g", "child: energy at most 400 kcal"], database,
                change=["beef mince", "Rice"], eaters=eaters)  # fmt: skip
    adult, child = aimed.containers
    assert adult.figures["PROCNT_G"] == pytest.approx(3 * child.figures["PROCNT_G"])
    check_limits(aimed)


def test_limits_that_no_amount_keeps(chilli: BatchResult, database: FoodDatabase) -> None:
    aimed = aim(chilli, ["protein at least 60 g", "energy at most 300 kcal"], database, change=["beef mince"])
    assert not aimed.kept
    reach = {str(c.limit.target): c.reach for c in aimed.contradicting}
    # Without any mince the rest has more than 300 kcal: what is added back is what does not change.
    rest = chilli.totals["ENERC_KCAL"].amount - (chilli.contributions[2].amounts["ENERC_KCAL"] or 0.0)
    assert rest / 5 > 300.0
    assert reach == {"energy at most 300 kcal": pytest.approx(rest / 5)}
    assert [c.enough for c in aimed.contradicting] == [True]


@pytest.mark.parametrize(
    ("more", "message"),
    [
        ({"change": ["tofu"]}, "no line contains 'tofu'"),
        ({"change": ["g"]}, "lines contain 'g'"),
        ({"change": ["beef mince", "Chilli"]}, "named twice"),
        ({"change": ["salt"]}, "weight of 'salt' is not known"),
        ({"change": ["beef mince"], "whole_packs": ["kidney beans"]}, "its amount may not change"),
        ({"change": ["beef mince"], "whole_packs": ["beef mince"]}, "does not say how large a pack is"),
        ({"change": ["beef mince"], "whole_packs": ["beef mince=2 cups"]}, "cannot be counted"),
        ({"change": ["beef mince"], "whole_packs": ["beef mince=lots"]}, "is no pack of"),
        ({"change": ["beef mince"], "whole_packs": ["beef mince=0 g"]}, "is no pack of"),
        ({"change": ["beef mince", "Rice"], "keep_ratio": [["beef mince", "onions"]]}, "its amount may not change"),
        ({"change": ["beef mince"], "most": "protein"}, "nothing limits"),
    ],
)
def test_what_cannot_be_sought(
    chilli: BatchResult, database: FoodDatabase, more: dict[str, object], message: str
) -> None:
    wanted = [] if "most" in more else ["protein at least 40 g"]
    with pytest.raises(UsageError) as caught:
        aim(chilli, wanted, database, **more)  # type: ignore[arg-type]
    assert message in caught.value.message
    assert caught.value.hint


@settings(max_examples=25)
@given(
    protein=st.integers(20, 60),
    energy=st.integers(350, 800),
    packs=st.booleans(),
    change=st.sampled_from([("beef mince",), ("beef mince", "Rice"), ("beef mince", "kidney beans", "Rice")]),
)
def test_limits_are_kept_by_the_batch_itself_or_contradict_each_other(
    pots: Pots, protein: int, energy: int, packs: bool, change: tuple[str, ...]
) -> None:
    wanted = [f"protein at least {protein} g", f"energy at most {energy} kcal"]
    whole = ["beef mince=250 g"] if packs else []
    aimed = aim(pots.result, wanted, pots.database, change=change, whole_packs=whole)
    if aimed.kept:
        check_limits(aimed)
        return
    assert {str(c.limit.target) for c in aimed.contradicting} <= set(wanted)
    for contradicting in aimed.contradicting:
        left = [w for w in wanted if w != str(contradicting.limit.target)]
        again = aim(pots.result, left, pots.database, change=change, whole_packs=whole)
        assert again.kept == contradicting.enough
