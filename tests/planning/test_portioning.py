"""Weighing out: sums to the gram, shares, eaters, fills, what stays in the pan, slips, volumes."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.errors import UsageError
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate
from mealcalc.planning.portion_checks import check_room
from mealcalc.planning.portion_volume import fit_of, room_of, spreads_of
from mealcalc.planning.portioning import (
    Division,
    component_named,
    containers_by_eater,
    weigh_out,
    whole_grams,
    with_weights,
)
from mealcalc.records import BatchResult, Eater
from mealcalc.records.portions import CookedContainer, Fit, PotWeight, VolumeBand
from tests.planning.portions import TEXT, batch

shares_lists = st.lists(st.integers(0, 1000), min_size=1, max_size=12).filter(any)


@pytest.fixture(scope="module")
def result(database: FoodDatabase) -> BatchResult:
    return calculate(batch(), database)


@given(total_g=st.integers(0, 100_000), sizes=shares_lists)
def test_whole_grams_sum_to_the_pot_and_stay_within_a_gram(total_g: int, sizes: list[int]) -> None:
    shares = [Fraction(size, sum(sizes)) for size in sizes]
    assert sum(shares) == 1
    grams = whole_grams(total_g, shares)
    assert sum(grams) == total_g
    for mass_g, share in zip(grams, shares, strict=True):
        assert abs(mass_g - total_g * share) < 1
        assert mass_g == 0 if share == 0 else mass_g >= 0


def test_of_equal_remainders_the_earlier_container_gets_the_gram() -> None:
    """1000 g in three: exact parts 333.33, the gram that is left goes to the first. 100 g by 3:2:1: 50, 33.3, 16.7."""
    assert whole_grams(1000, [Fraction(1, 3)] * 3) == (334, 333, 333)
    assert whole_grams(100, [Fraction(3, 6), Fraction(2, 6), Fraction(1, 6)]) == (50, 33, 17)


@settings(max_examples=25)
@given(
    sizes=st.lists(st.floats(0.05, 20).map(lambda x: round(x, 3)), min_size=1, max_size=8),
    residue_g=st.integers(0, 900),
)
def test_a_weigh_out_adds_up(database: FoodDatabase, result: BatchResult, sizes: list[float], residue_g: int) -> None:
    eaters = tuple(Eater(f"eater {n}", size, 1) for n, size in enumerate(sizes))
    of_all = replace(result, batch=replace(result.batch, containers=len(sizes)))
    answer = weigh_out(of_all, Division(eaters=eaters, residue_g={"Stew": float(residue_g)}), database)
    for component in answer.components:
        assert sum(component.grams) + component.residue_g + component.leftover_g == component.pot_g
        assert component.leftover_g == 0
    kept = {c.name: sum(c.grams) / c.pot_g for c in answer.components}
    for key in FOOD_COMPONENTS:
        whole = sum(c.result.totals[key].amount * kept[c.name] for c in answer.components)
        assert sum(c.figures[key].amount for c in answer.containers) == pytest.approx(whole, rel=1e-9, abs=1e-9)
    biggest = max(range(len(sizes)), key=lambda n: sizes[n])
    assert all(answer.containers[biggest].mass_g + 2 >= c.mass_g for c in answer.containers)


def test_equal_containers_of_weighed_and_estimated_pots(database: FoodDatabase, result: BatchResult) -> None:
    answer = weigh_out(result, Division(), database)
    rice, stew = answer.components
    assert stew.grams == (334, 333, 333)
    assert stew.pot.measured
    assert not rice.pot.measured
    assert "estimated" in rice.pot.ground
    assert sum(rice.grams) == rice.pot_g == round(result.components[0].cooked_mass_g)
    assert [c.eater for c in answer.containers] == ["", "", ""]
    assert [numbers for numbers, _ in answer.runs] in (["1", "2-3"], ["1-3"])
    for key, total in result.per_container.items():
        assert answer.containers[1].figures[key].amount == pytest.approx(total.amount, rel=0.01, abs=0.01)


def test_the_pot_on_the_scale_overrules_estimate_and_file(database: FoodDatabase) -> None:
    pots = {"Rice": PotWeight("Rice", 840.0), "Stew": PotWeight("Stew", 900.0, 1900.0, 1000.0)}
    weighed = with_weights(batch(), pots)
    assert [c.cooked_mass_g for c in weighed.components] == [840.0, 900.0]
    result = calculate(weighed, database)
    answer = weigh_out(result, Division(), database, pots=pots)
    assert [c.pot_g for c in answer.components] == [840, 900]
    assert answer.components[1].pot.tare_g == 1000.0
    estimated = {"Rice": PotWeight("Rice", 840.0, measured=False)}
    assert with_weights(batch(), estimated).components[0].cooked_mass_g is None


def test_shares_leave_the_rest_over(database: FoodDatabase, result: BatchResult) -> None:
    shares = (Fraction(30, 100), Fraction(30, 100), Fraction(25, 100))
    answer = weigh_out(result, Division(shares=shares), database)
    stew = answer.components[1]
    assert (stew.grams, stew.leftover_g) == ((300, 300, 250), 150)
    assert sum(stew.grams) + stew.leftover_g == stew.pot_g == 1000


def test_shares_over_100_percent_are_refused(database: FoodDatabase, result: BatchResult) -> None:
    with pytest.raises(UsageError, match="the shares are 110 % of the batch") as error:
        weigh_out(result, Division(shares=(Fraction(1, 2), Fraction(6, 10))), database)
    assert "100 %" in error.value.hint


def test_shares_barely_over_are_told_so(database: FoodDatabase, result: BatchResult) -> None:
    with pytest.raises(UsageError, match=r"100\.0002"):
        weigh_out(result, Division(shares=(Fraction(1, 2), Fraction(500_002, 1_000_000))), database)


def test_eaters_get_their_sizes_in_turn(database: FoodDatabase, result: BatchResult) -> None:
    eaters = (Eater("adult", 1.5), Eater("child", 0.5, 1))
    answer = weigh_out(result, Division(eaters=eaters), database)
    assert [c.eater for c in answer.containers] == ["adult", "adult", "child"]
    assert answer.components[1].grams == (429, 428, 143)  # 1000 g by 1.5 : 1.5 : 0.5
    energy = [c.figures["ENERC_KCAL"].amount for c in answer.containers]
    assert energy[0] == pytest.approx(3 * energy[2], rel=0.01)


@pytest.mark.parametrize(
    ("eaters", "containers", "expected"),
    [
        ([Eater("a"), Eater("b")], 5, "aaabb"),
        ([Eater("a"), Eater("b", 1, 1)], 4, "aaab"),
        ([Eater("a", 1, 2), Eater("b", 1, 2)], 4, "aabb"),
        ([Eater("a")], 3, "aaa"),
    ],
)
def test_containers_are_divided_among_eaters(eaters: list[Eater], containers: int, expected: str) -> None:
    assert "".join(e.name for e in containers_by_eater(eaters, containers)) == expected


@pytest.mark.parametrize(
    ("eaters", "containers"),
    [
        ([Eater("a", 1, 3), Eater("b", 1, 3)], 4),
        ([Eater("a", 1, 1), Eater("b", 1, 1)], 4),
        ([Eater("a", 1, 4), Eater("b")], 4),
        ([Eater("a"), Eater("b"), Eater("c")], 2),
    ],
)
def test_containers_that_do_not_come_out_are_refused(eaters: list[Eater], containers: int) -> None:
    with pytest.raises(UsageError, match="cannot be divided among the eaters"):
        containers_by_eater(eaters, containers)


def test_fills_leave_the_rest_over_and_follow_eaters(database: FoodDatabase, result: BatchResult) -> None:
    answer = weigh_out(result, Division(fills_g={"Stew": 250.0}, residue_g={"Stew": 50.0}), database)
    stew = answer.components[1]
    assert (stew.grams, stew.residue_g, stew.leftover_g) == ((250, 250, 250), 50, 200)
    eaters = (Eater("adult", 2.0, 1), Eater("child", 0.5, 2))
    answer = weigh_out(result, Division(eaters=eaters, fills_g={"Stew": 300.0}), database)
    assert answer.components[1].grams == (600, 150, 150)


def test_fills_beyond_the_pot_are_refused_with_a_way_out(database: FoodDatabase, result: BatchResult) -> None:
    with pytest.raises(UsageError, match="3 containers of 400 g need 1200 g, and there are 1000 g") as error:
        weigh_out(result, Division(fills_g={"Stew": 400.0}), database)
    assert "at most 333 g" in error.value.hint


def test_more_residue_than_pot_is_refused(database: FoodDatabase, result: BatchResult) -> None:
    with pytest.raises(UsageError, match="1001 g stay in the pan, and there are 1000 g"):
        weigh_out(result, Division(residue_g={"Stew": 1001.0}), database)


def test_a_pot_of_unknown_weight_is_refused(database: FoodDatabase) -> None:
    text = TEXT.replace("    cooked_weight: 1000 g\n", "")
    for line in ("500 g beef mince, 12% fat", "200 g onions, chopped", "400 g canned tomatoes"):
        text = text.replace(f"      {line}\n", "")
    text += "      3 zorgle berries\n"
    with pytest.raises(UsageError, match="'Stew' weighs nothing that is known"):
        weigh_out(calculate(batch(text), database), Division(), database)


def test_what_was_filled_is_shown_again(database: FoodDatabase, result: BatchResult) -> None:
    filled = (CookedContainer("adult", {"Rice": 300, "Stew": 500}), CookedContainer("", {"Rice": 200, "Stew": 420}))
    answer = weigh_out(result, Division(filled=filled, residue_g={"Stew": 30.0}), database)
    assert [c.grams for c in answer.containers] == [(300, 500), (200, 420)]
    assert answer.components[1].leftover_g == 50
    too_much = (CookedContainer("", {"Stew": 1100.0}),)
    with pytest.raises(UsageError, match="the containers hold 1100 g, and there were 1000 g"):
        weigh_out(result, Division(filled=too_much), database)


def test_a_slip_of_ten_grams(database: FoodDatabase, result: BatchResult) -> None:
    answer = weigh_out(result, Division(), database)
    stew = answer.components[1]
    per_100g = result.components[1].per_100g
    assert per_100g is not None
    for key, total in stew.slip.items():
        assert total.amount == pytest.approx(per_100g[key].amount / 10)


def test_what_is_unknown_stays_unknown_in_each_container(database: FoodDatabase) -> None:
    text = TEXT + "      3 zorgle berries\n"
    answer = weigh_out(calculate(batch(text), database), Division(fills_g={"Rice": 100.0}), database)
    assert all(c.figures["PROCNT_G"].unknown_lines == (17,) for c in answer.containers)
    filled = (CookedContainer("", {"Rice": 300}), CookedContainer("", {"Stew": 420}))
    answer = weigh_out(calculate(batch(text), database), Division(filled=filled), database)
    assert answer.containers[0].figures["PROCNT_G"].complete  # holds rice alone
    assert not answer.containers[1].figures["PROCNT_G"].complete


@pytest.mark.parametrize(("text", "name"), [("rice", "Rice"), ("STEW", "Stew"), ("ste", "Stew"), (" Rice ", "Rice")])
def test_components_are_found_by_part_of_their_name(text: str, name: str) -> None:
    assert component_named(batch(), text) == name


@pytest.mark.parametrize(("text", "message"), [("e", "several"), ("pasta", "no component"), ("", "no component")])
def test_unclear_names_of_components_are_refused(text: str, message: str) -> None:
    with pytest.raises(UsageError, match=message):
        component_named(batch(), text)


# --- volumes ----------------------------------------------------------------------------------------------------------


def test_rice_is_heaped_and_a_stew_fills_its_gaps(database: FoodDatabase, result: BatchResult) -> None:
    """Cooked white rice: SR28 20045, 1 cup = 158 g, 0.668 g/ml heaped; without air it is denser than water."""
    rice, stew = spreads_of(result, database)
    assert rice is not None
    assert stew is not None
    assert 1 / rice.high_ml_per_g == pytest.approx(158 / 236.588, rel=0.001)
    assert 1.05 < 1 / rice.low_ml_per_g < 1.2
    assert "heaped, by household measures" in rice.ground
    assert 1.0 < 1 / stew.low_ml_per_g < 1.1
    assert stew.high_ml_per_g <= 1.35 * stew.low_ml_per_g


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("500 g pork chops", "no household measure tells how its pieces heap"),
        ("500 g water", "by its composition (Choi and Okos 1986)"),
        ("500 g plain flour", "g/ml heaped, by household measures of its foods"),
    ],
)
def test_the_ground_says_which_volume_counts(database: FoodDatabase, line: str, words: str) -> None:
    (spread,) = spreads_of(calculate(batch(f"components: [{{name: a, ingredients: [{line}]}}]\n"), database), database)
    assert spread is not None
    assert spread.ground.endswith(words)


def test_what_nothing_is_known_of_has_no_volume(database: FoodDatabase) -> None:
    text = "components: [{name: a, cooked_weight: 500 g, ingredients: [3 zorgle berries]}]\n"
    answer = weigh_out(calculate(batch(text), database), Division(), database, room=room_of(600))
    assert answer.containers[0].volume is None
    assert answer.containers[0].fit is Fit.UNKNOWN
    assert check_room(answer) == ()


def test_headspace_by_share_and_by_published_gap() -> None:
    """Half an inch up to a pint, an inch above it (National Center for Home Food Preservation, 2006, wide mouth)."""
    assert room_of(600).freezing_ml == pytest.approx(540)
    assert room_of(400, height_mm=127).freezing_ml == pytest.approx(400 * 0.9)  # 12.7 of 127 mm
    assert room_of(700, height_mm=127).freezing_ml == pytest.approx(700 * 0.8)  # 25.4 of 127 mm
    assert room_of(5000, height_mm=127).freezing_ml == pytest.approx(5000 * 0.8)
    assert "25 mm left free (1 in;" in room_of(700, height_mm=127).headspace_ground


@pytest.mark.parametrize("height_mm", [0.0, 10.0, 25.4, 501.0])
def test_heights_that_no_container_has(height_mm: float) -> None:
    with pytest.raises(UsageError, match="cm high"):
        room_of(700, height_mm)


def test_a_band_may_lie_on_both_sides_of_the_limit() -> None:
    band = VolumeBand(400, 500)
    assert [fit_of(band, limit) for limit in (500, 450, 400, 399, None)] == [
        Fit.HOLDS, Fit.TIGHT, Fit.TIGHT, Fit.TOO_SMALL, Fit.UNKNOWN,
    ]  # fmt: skip


def test_containers_too_small_are_named_once(database: FoodDatabase, result: BatchResult) -> None:
    (error,) = check_room(weigh_out(result, Division(), database, room=room_of(300)))
    assert (error.code, error.severity) == ("container-too-small", "error")
    assert error.message.startswith("container 1-3: ")
    assert "ml of food in 300 ml do not go in" in error.message
    mass_g = sum(c.cooked_mass_g for c in result.components) / 3
    (tight,) = check_room(weigh_out(result, Division(), database, room=room_of(mass_g)))
    assert tight.code == "container-tight"
    (room,) = check_room(weigh_out(result, Division(), database, room=room_of(1.32 * mass_g)))
    assert room.code == "no-headspace"
    assert check_room(weigh_out(result, Division(), database, room=room_of(2000))) == ()
    eaters = (Eater("adult", 4.0, 1), Eater("child", 0.3, 2))
    (error,) = check_room(weigh_out(result, Division(eaters=eaters), database, room=room_of(900)))
    assert error.message.startswith("container 1: ")
