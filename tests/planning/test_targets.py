"""Portions for targets: limits are kept, pots hold what they hold, contradictions are true, loosening never worsens."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.errors import UsageError
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate
from mealcalc.planning.aim import aim, with_options
from mealcalc.planning.aimed_portions import aim_portions
from mealcalc.planning.targets import SHOWN_SLACK
from mealcalc.recipe.reader import read_text
from mealcalc.records import BatchResult, Eater
from mealcalc.records.aimed import Aimed, AimedContainer
from mealcalc.records.targets import COST, MASS, Bound, Target, Targets

Calculated = Callable[[str], BatchResult]

BOWLS = """\
title: Bowls
region: uk
containers: 6
components:
  - name: Rice
    ingredients: 1200 g cooked brown rice
  - name: Chicken
    ingredients: 900 g chicken breast
  - name: Greens
    ingredients: 600 g broccoli
  - name: Sauce
    ingredients: |
      200 g Greek yoghurt
      40 g olive oil
"""


@pytest.fixture(scope="module")
def bowls(database: FoodDatabase) -> BatchResult:
    """Four components, each weighed: what 1 g of them holds is that of their foods."""
    batch = read_text(BOWLS, "bowls.batch.yaml").batch
    assert batch is not None
    return calculate(batch, database)


class Pots:
    """The bowls for property tests, which show what they are given: of a whole calculated batch, its title."""

    def __init__(self, result: BatchResult) -> None:
        self.result = result

    def __repr__(self) -> str:
        return f"<{self.result.batch.title}>"


@pytest.fixture(scope="module")
def pots(bowls: BatchResult) -> Pots:
    return Pots(bowls)


def one(aimed: Aimed) -> AimedContainer:
    (container,) = aimed.containers
    return container


def targets(*wanted: str, **more: object) -> Targets:
    return with_options(Targets(), wanted, **more)  # type: ignore[arg-type]


def check_portions(aimed: Aimed, result: BatchResult) -> None:
    """Grams are whole or tenths, figures are what the grams hold, and no pot is emptied further than it goes."""
    for name, left_g in aimed.leftover_g.items():
        part = next(p for p in result.components if p.component.name == name)
        used_g = sum(c.containers * c.grams[name] for c in aimed.containers)
        assert left_g >= -1e-6
        assert used_g + left_g == pytest.approx(part.cooked_mass_g)
    for container in aimed.containers:
        assert all(grams >= 0.0 and round(grams, 1) == pytest.approx(grams) for grams in container.grams.values())
        for key in ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G"):
            held = sum(
                part.totals[key].amount / part.cooked_mass_g * container.grams[part.component.name]
                for part in result.components
            )
            assert container.figures[key] == pytest.approx(held)
        assert container.figures[MASS] == pytest.approx(sum(container.grams.values()))


def check_limits(aimed: Aimed) -> None:
    """Every limit holds for the grams that are shown."""
    assert aimed.kept
    for container in aimed.containers:
        for judged in container.judged:
            if judged.target.bound is not Bound.ABOUT:
                assert judged.met, str(judged.target)


def test_without_limits_that_bind_the_pots_are_shared_evenly(bowls: BatchResult) -> None:
    aimed = aim(bowls, ["protein at least 20 g"])
    assert dict(one(aimed).grams) == {"Rice": 200.0, "Chicken": 150.0, "Greens": 100.0, "Sauce": 40.0}
    assert aimed.binding == ()
    assert one(aimed).figures["PROCNT_G"] == pytest.approx(bowls.per_container["PROCNT_G"].amount)
    check_portions(aimed, bowls)


def test_a_limit_is_kept_by_the_least_change(bowls: BatchResult) -> None:
    """With one limit the nearest point is known: x = r - (a r - b) a r^2 / (a r)^2, r even, a energy per gram."""
    aimed = aim(bowls, ["energy at most 450 kcal"])
    even = one(aimed).even_g
    per_g = {p.component.name: p.totals["ENERC_KCAL"].amount / p.cooked_mass_g for p in bowls.components}
    over = sum(per_g[n] * even[n] for n in even) - 450.0
    scale = over / sum((per_g[n] * even[n]) ** 2 for n in even)
    for name, grams in one(aimed).grams.items():
        exact = even[name] * (1.0 - scale * per_g[name] * even[name])
        assert grams == pytest.approx(exact, abs=2.5), name
    check_limits(aimed)
    check_portions(aimed, bowls)


def test_what_binds_and_what_loosening_would_buy(bowls: BatchResult) -> None:
    aimed = aim(bowls, ["energy at most 450 kcal", "protein at least 5 g"])
    (binding,) = aimed.binding
    assert str(binding.limit.target) == "energy at most 450 kcal"
    assert binding.step == 1.0
    assert binding.gained is None
    assert 0.0 < binding.nearer < 0.1
    looser = aim(bowls, ["energy at most 451 kcal"])
    moved = {name: one(looser).grams[name] - one(aimed).grams[name] for name in one(aimed).grams}
    # Whole grams hide what one kilocalorie moves: it brings what it says to a few grams.
    assert all(abs(binding.change.get(name, 0.0) - moved[name]) <= 4.0 for name in moved)
    energy = sum(
        binding.change[p.component.name] * p.totals["ENERC_KCAL"].amount / p.cooked_mass_g for p in bowls.components
    )
    assert energy == pytest.approx(1.0, rel=0.05)


def test_the_most_of_something(bowls: BatchResult) -> None:
    aimed = aim(bowls, ["energy at most 450 kcal", "mass at least 300 g"], most="protein")
    check_limits(aimed)
    check_portions(aimed, bowls)
    container = one(aimed)
    # Chicken has the most protein per kilocalorie: all of it is used.
    assert container.grams["Chicken"] == pytest.approx(150.0, abs=0.1)
    plain = one(aim(bowls, ["energy at most 450 kcal", "mass at least 300 g"]))
    assert container.figures["PROCNT_G"] > plain.figures["PROCNT_G"]
    bought = {str(b.limit.target or b.limit.words): b.gained for b in aimed.binding}
    assert bought["energy at most 450 kcal"] is not None
    assert all(gained is not None and gained > 0.0 for gained in bought.values())
    assert any("the pot holds 900 g of Chicken" in words for words in bought)


def test_the_least_of_something(bowls: BatchResult) -> None:
    container = one(aim(bowls, ["protein at least 30 g", "fibre at least 4 g"], least="energy"))
    plain = one(aim(bowls, ["protein at least 30 g", "fibre at least 4 g"]))
    assert container.figures["ENERC_KCAL"] < plain.figures["ENERC_KCAL"]
    assert container.grams["Sauce"] == 0.0


def test_a_ratio_stays_as_cooked(bowls: BatchResult) -> None:
    aimed = aim(bowls, ["energy at most 400 kcal"], keep_ratio=[["Chicken", "Sauce"]])
    container = one(aimed)
    assert container.grams["Chicken"] / 900.0 == pytest.approx(container.grams["Sauce"] / 240.0, rel=0.03)
    free = one(aim(bowls, ["energy at most 400 kcal"]))
    assert free.grams["Chicken"] / 900.0 != pytest.approx(free.grams["Sauce"] / 240.0, rel=0.03)


def test_a_wish_is_approached_within_the_limits(bowls: BatchResult) -> None:
    wished = one(aim(bowls, ["fibre about 8 g", "energy at most 450 kcal"]))
    plain = one(aim(bowls, ["energy at most 450 kcal"]))
    assert abs(wished.figures["FIBTG_G"] - 8.0) < abs(plain.figures["FIBTG_G"] - 8.0)
    assert wished.figures["ENERC_KCAL"] <= 450.0 * (1.0 + SHOWN_SLACK)
    met = {j.target.bound: j.met for j in wished.judged}
    assert met[Bound.AT_MOST]


def test_each_eater_has_limits_of_their_own(bowls: BatchResult) -> None:
    eaters = [Eater("runner", 1.5, 2), Eater("desk worker", 1.0, 3), Eater("child", 0.5, 1)]
    wanted = ["protein at least 25 g", "runner: energy at least 700 kcal", "desk worker: energy at most 400 kcal",
              "child: protein at least 10 g"]  # fmt: skip
    aimed = aim(bowls, wanted, eaters=eaters)
    check_limits(aimed)
    check_portions(aimed, bowls)
    by_name = {container.eater: container for container in aimed.containers}
    assert [c.containers for c in aimed.containers] == [2, 3, 1]
    assert by_name["runner"].figures["ENERC_KCAL"] >= 700.0 * (1 - SHOWN_SLACK)
    assert by_name["desk worker"].figures["ENERC_KCAL"] <= 400.0 * (1 + SHOWN_SLACK)
    # The child's own limit takes the place of everybody's.
    assert [str(j.target) for j in by_name["child"].judged] == ["protein at least 10 g"]
    # Without targets sizes are by share: 1.5 x 2 + 1 x 3 + 0.5 = 6.5 shares.
    assert by_name["child"].even_g["Rice"] == pytest.approx(1200.0 * 0.5 / 6.5)
    assert {b.limit.eater for b in aimed.binding} <= {"runner", "desk worker", "child", ""}


def test_what_one_eater_takes_another_lacks(bowls: BatchResult) -> None:
    eaters = [Eater("first", 1.0, 3), Eater("second", 1.0, 3)]
    aimed = aim(bowls, ["first: protein at least 60 g", "second: protein at least 45 g"], eaters=eaters)
    assert not aimed.kept
    words = [c.limit.words for c in aimed.contradicting]
    assert "protein at least 60 g" in words
    assert any("the pot holds" in w for w in words)
    check_portions(aimed, bowls)


def test_limits_that_contradict_each_other_are_named_with_how_far_they_go(bowls: BatchResult) -> None:
    aimed = aim(bowls, ["protein at least 30 g", "energy at most 120 kcal", "fibre at least 0.5 g"])
    assert not aimed.kept
    named = {str(c.limit.target): c for c in aimed.contradicting}
    assert set(named) == {"protein at least 30 g", "energy at most 120 kcal"}
    reach = named["protein at least 30 g"].reach
    need = named["energy at most 120 kcal"].reach
    assert reach is not None
    assert need is not None
    assert reach < 30.0
    assert need > 120.0
    # With what each can reach they can be kept, with a little more they cannot.
    assert aim(bowls, [f"protein at least {reach - 0.2:.1f} g", "energy at most 120 kcal"]).kept
    assert not aim(bowls, [f"protein at least {reach + 0.2:.1f} g", "energy at most 120 kcal"]).kept
    assert aim(bowls, ["protein at least 30 g", f"energy at most {need + 1:.0f} kcal"]).kept
    # The compromise lies between: both are missed, neither by all.
    container = one(aimed)
    assert 120.0 < container.figures["ENERC_KCAL"] < need + 1.0
    assert reach - 1.0 < container.figures["PROCNT_G"] < 30.0


def test_whether_giving_up_one_limit_is_enough(bowls: BatchResult) -> None:
    aimed = aim(bowls, ["protein at least 60 g", "energy at most 180 kcal"])
    enough = {str(c.limit.target): c.enough for c in aimed.contradicting}
    # More protein than there is: without the energy limit the pot still stands against it.
    assert enough == {"protein at least 60 g": True, "energy at most 180 kcal": False}


NUMBERS = {"ENERC_KCAL": (100, 900), "PROCNT_G": (5, 60), "FAT_G": (2, 40), "CHOCDF_G": (5, 90), "FIBTG_G": (1, 9)}


@st.composite
def wanted(draw: st.DrawFn) -> tuple[Target, ...]:
    keys = draw(st.lists(st.sampled_from(sorted(NUMBERS)), min_size=1, max_size=4, unique=True))
    found: list[Target] = []
    for key in keys:
        low, high = sorted(draw(st.lists(st.integers(*NUMBERS[key]), min_size=2, max_size=2)))
        kind = draw(st.sampled_from(["least", "most", "between"]))
        if kind != "most":
            found.append(Target(key, Bound.AT_LEAST, float(low)))
        if kind != "least":
            found.append(Target(key, Bound.AT_MOST, float(high)))
    return tuple(found)


EATERS = (
    (),
    (Eater("a", 1.5, 2), Eater("b", 1.0, 4)),
    (Eater("a", 1.0, 1), Eater("b", 2.0, 2), Eater("c", 0.7, 3)),
)


@settings(max_examples=60)
@given(every=wanted(), more=wanted(), eaters=st.sampled_from(EATERS))
def test_limits_are_kept_or_truly_contradict_each_other(
    pots: Pots, every: tuple[Target, ...], more: tuple[Target, ...], eaters: Sequence[Eater]
) -> None:
    bowls = pots.result
    of_eater = {eaters[0].name: more} if eaters else {}
    aimed = aim_portions(bowls, Targets(every, of_eater), eaters)
    check_portions(aimed, bowls)
    if aimed.kept:
        check_limits(aimed)
        assert aimed.contradicting == ()
        return
    assert aimed.contradicting
    assert aimed.binding == ()
    for one_of_them in aimed.contradicting:
        limit = one_of_them.limit
        if limit.target is None:
            continue
        # Giving this one up alone, wherever it comes from, is enough or not as it says.
        left = {
            eater.name: tuple(
                t for t in Targets(every, of_eater).of(eater.name) if (t, eater.name) != (limit.target, limit.eater)
            )
            for eater in eaters
        } or {"": tuple(t for t in every if t != limit.target)}
        rest = Targets((), left) if eaters else Targets(left[""])
        assert rest.empty or aim_portions(bowls, rest, eaters).kept == one_of_them.enough


@settings(max_examples=40)
@given(every=wanted(), number=st.integers(0, 7), step=st.sampled_from([0.5, 5.0, 50.0]))
def test_loosening_a_limit_never_worsens(pots: Pots, every: tuple[Target, ...], number: int, step: float) -> None:
    bowls = pots.result
    target = every[number % len(every)]
    looser = replace(target, amount=target.amount + (step if target.bound is Bound.AT_MOST else -step))
    before = aim_portions(bowls, Targets(every))
    after = aim_portions(bowls, Targets(tuple(looser if t == target else t for t in every)))
    if not before.kept:
        return
    assert after.kept

    def away(aimed: Aimed) -> float:
        container = one(aimed)
        return sum((container.grams[n] / container.even_g[n] - 1.0) ** 2 for n in container.grams)

    # Grams are whole: a container may be off by a few of them.
    assert away(after) <= away(before) + 0.02 + 0.1 * away(before)


def test_cost_is_limited_by_the_prices_of_lines(bowls: BatchResult) -> None:
    costs = [Decimal("1.20"), Decimal("7.20"), Decimal("1.80"), Decimal("1.00"), Decimal("0.40")]
    aimed = aim(bowls, ["cost at most 1.50"], costs=costs, currency="GBP")
    check_limits(aimed)
    container = one(aimed)
    held = {"Rice": 1.2 / 1200, "Chicken": 7.2 / 900, "Greens": 1.8 / 600, "Sauce": 1.4 / 240}
    assert container.figures[COST] == pytest.approx(sum(held[n] * g for n, g in container.grams.items()))
    assert float(aimed.cost or 0) == pytest.approx(6 * container.figures[COST])
    unknown = aim(bowls, ["cost at most 1.50"], costs=[None, *costs[1:]])
    judged = one(unknown).judged[0]
    assert (judged.complete, judged.met) == (False, False)
    with pytest.raises(UsageError, match="needs a price list"):
        aim(bowls, ["cost at most 1.50"])


def test_what_is_not_known_of_every_line_is_said(calculated: Calculated) -> None:
    result = calculated(
        BOWLS.replace("600 g broccoli", "600 g broccoli\n      salt to taste").replace(
            "ingredients: 600", "ingredients: |\n      600"
        )
    )
    aimed = aim(result, ["sodium at most 900 mg", "protein at least 20 g"])
    judged = {j.target.key: j for j in one(aimed).judged}
    assert (judged["NA_MG"].complete, judged["NA_MG"].met) == (False, False)
    assert judged["PROCNT_G"].met


def test_the_share_that_is_filled_is_all_there_is(bowls: BatchResult) -> None:
    first = bowls.components[0]
    half = replace(first, component=replace(first.component, filled_share=0.5))
    aimed = aim(replace(bowls, components=(half, *bowls.components[1:])), ["protein at least 20 g"])
    assert one(aimed).grams["Rice"] == 100.0


@pytest.mark.parametrize(
    ("given_targets", "more", "message"),
    [
        ([], {}, "no target is set"),
        ([], {"keep_ratio": [["Rice", "Sauce"]]}, "no target is set"),
        (["protein at least 30 g"], {"most": "protein", "least": "energy"}, "only one quantity"),
        (["protein at least 30 g"], {"most": "zest"}, "nothing that can be limited"),
        (["runner: protein at least 30 g"], {"eaters": [Eater("child")]}, "no eater 'runner'"),
        (["protein at least 30 g"], {"keep_ratio": [["Rice", "Gravy"]]}, "no component 'Gravy'"),
        (["protein at least 30 g"], {"whole_packs": ["Rice"]}, "whole packs concern amounts"),
        (["protein at least 30 g"], {"whole_packs": ["=5"]}, "names no line"),
        (["protein at least 30 g"], {"eaters": [Eater("a", 1.0, 4), Eater("b", 1.0, 4)]}, "cannot be divided"),
    ],
)
def test_what_cannot_be_aimed_at(
    bowls: BatchResult, given_targets: list[str], more: dict[str, object], message: str
) -> None:
    with pytest.raises(UsageError) as caught:
        aim(bowls, given_targets, **more)  # type: ignore[arg-type]
    assert message in caught.value.message
    assert caught.value.hint


def test_a_pot_of_unknown_weight_cannot_be_portioned(calculated: Calculated) -> None:
    result = calculated(
        BOWLS.replace("600 g broccoli", "600 g unobtainium zzyzx\n").replace(
            "ingredients: 600", "ingredients: |\n      some carrots\n      600"
        )
    )
    with pytest.raises(UsageError, match="cooked weight of 'Greens' is not known"):
        aim(result, ["protein at least 20 g"])


def test_targets_of_the_file_and_of_options_join(calculated: Calculated) -> None:
    text = BOWLS + "targets:\n  energy: at most 450 kcal\n  protein: at least 20 g\n  most: protein\n"
    result = calculated(text)
    aimed = aim(result, ["energy at most 500 kcal"])
    assert {str(j.target) for j in one(aimed).judged} == {"energy at most 500 kcal", "protein at least 20 g"}
    assert aimed.targets.most == "PROCNT_G"
    assert aim(result, least="energy").targets.most == ""


def test_eaters_of_the_file_are_portioned(calculated: Calculated) -> None:
    text = BOWLS + "eaters: {adult: 1.5, child: 0.5}\ntargets:\n  eaters: {child: {energy: at most 250 kcal}}\n"
    aimed = aim(calculated(text))
    assert [(c.eater, c.containers) for c in aimed.containers] == [("adult", 3), ("child", 3)]
    check_limits(aimed)
    named = aim(calculated(BOWLS), ["runner: energy at least 600 kcal", "walker: energy at most 400 kcal"])
    assert [(c.eater, c.containers) for c in named.containers] == [("runner", 3), ("walker", 3)]
