"""Predictions of cooling: bands, limits and how their clocks run, what is said beside them."""

import math
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.errors import UsageError
from mealcalc.planning.cooling import (
    FoodToCool,
    depth_of,
    food_from_shares,
    foods_of,
    limits_of,
    outcome_of,
    predict,
)
from mealcalc.planning.cooling_setting import Container, Surroundings, make_container, make_surroundings
from mealcalc.planning.thermal import properties_of
from mealcalc.records import BatchResult
from mealcalc.records.cooling import Band, CoolingPrediction, Outcome, StagePrediction
from mealcalc.reference.keeping_tables import chosen_authorities

STEW = food_from_shares(water=76.0, protein=8.0, fat=6.0, carbohydrate=8.0, fibre=1.0, ash=1.0)
FRIDGE = (make_surroundings("fridge"),)


def _predict(
    container: Container,
    around: tuple[Surroundings, ...] = FRIDGE,
    start_c: float = 60.0,
    authorities: Sequence[str] = (),
    foods: Sequence[FoodToCool] = (STEW,),
) -> CoolingPrediction:
    return predict(foods, container, around, start_c, chosen_authorities(authorities))[0]


def _stage(prediction: CoolingPrediction, authority: str, number: int) -> StagePrediction:
    return next(s for s in prediction.foods[0].stages if s.limit.authority == authority and s.limit.stage == number)


def test_a_shallow_tray_in_a_blast_chiller_meets_and_a_deep_pot_in_a_refrigerator_misses() -> None:
    shallow = _predict(make_container("tray", 0.02), (make_surroundings("blast"),))
    assert {s.outcome for s in shallow.foods[0].stages} == {Outcome.MEETS}
    deep = _predict(make_container("pot", 0.15, width_m=0.24))
    assert {s.outcome for s in deep.foods[0].stages} == {Outcome.MISSES}


def test_the_words_of_outcomes_promise_nothing() -> None:
    assert Outcome.MEETS.value == (
        "predicted to meet it if the stated air temperature and depth hold - check with a probe"
    )
    assert Outcome.MISSES.value == "predicted to miss it"


@pytest.mark.parametrize(
    ("band", "outcome"),
    [
        (Band(0.5, 1.0, 2.0), Outcome.MEETS),
        (Band(0.5, 1.0, 2.001), Outcome.BETWEEN),
        (Band(2.0, 3.0, 4.0), Outcome.BETWEEN),
        (Band(2.001, 3.0, 4.0), Outcome.MISSES),
        (Band(1.0, 1.5, math.inf), Outcome.BETWEEN),
        (Band(math.inf, math.inf, math.inf), Outcome.NEVER),
    ],
)
def test_only_the_slow_end_of_the_band_can_meet_a_limit(band: Band, outcome: Outcome) -> None:
    assert outcome_of(band, 2.0) is outcome


def test_clocks_run_as_each_authority_writes() -> None:
    prediction = _predict(make_container("box", 0.04, length_m=0.18, width_m=0.12))
    until = prediction.foods[0].times
    # Australia: the second stage from the end of the first; United States: both from 57 C.
    australia, america = _stage(prediction, "au_fsanz", 2), _stage(prediction, "us_fda", 2)
    assert australia.time.slow_h == pytest.approx(until[5.0].slow_h - until[21.0].slow_h)
    assert america.time.slow_h < until[5.0].slow_h
    assert america.time.slow_h == pytest.approx(until[5.0].slow_h, rel=0.02)
    assert _stage(prediction, "au_fsanz", 1).time == until[21.0]


def test_a_hotter_start_never_makes_the_time_that_counts_shorter_than_from_the_limit_itself() -> None:
    """The clock starts with the first part that is cold enough, so food still hot in the middle gains nothing."""
    times = [
        _stage(_predict(make_container("tray", 0.06), start_c=start_c), "us_fda", 1).time.typical_h
        for start_c in (57.0, 60.0, 75.0, 95.0)
    ]
    assert times[0] < times[1] < times[2] < times[3]


def test_air_at_or_above_the_target_never_reaches_it() -> None:
    prediction, found = predict(
        [STEW], make_container("tray", 0.03), (make_surroundings("fridge", 6.0),), 60.0, chosen_authorities(["us_fda"])
    )
    assert _stage(prediction, "us_fda", 2).outcome is Outcome.NEVER
    assert _stage(prediction, "us_fda", 1).outcome is not Outcome.NEVER
    assert [d.code for d in found] == ["air-above-target"]
    assert "never to 5 C" in found[0].message
    assert prediction.largest_depth_m is None


def test_a_start_below_the_limit_is_told_and_never_counts_as_met() -> None:
    prediction, found = predict(
        [STEW], make_container("tray", 0.01), (make_surroundings("blast"),), 50.0, chosen_authorities(["us_fda"])
    )
    assert {s.outcome for s in prediction.foods[0].stages} == {Outcome.NOT_JUDGED}
    assert [d.code for d in found] == ["start-below-limit"]
    cold = _predict(make_container("tray", 0.02), start_c=20.0, authorities=["us_fda"])
    assert _stage(cold, "us_fda", 1).remark == "the food starts below this already"


def test_food_made_cold_has_the_limit_of_its_own() -> None:
    found = limits_of(chosen_authorities(["us"]), ambient=True)
    assert [(limit.authority, limit.to_c, limit.hours) for limit in found] == [("us_fda", 5.0, 4.0)]


def test_limits_for_plants_count_only_where_named() -> None:
    assert "us_fsis" not in {limit.authority for limit in limits_of(chosen_authorities(["us"]))}
    assert {limit.meant_for for limit in limits_of(chosen_authorities(["us_fsis"]))} == {"processor"}


def test_an_authority_without_a_cooling_limit_is_named() -> None:
    prediction = _predict(make_container("tray", 0.03), authorities=["uk_fsa"])
    assert prediction.foods[0].stages == ()
    assert set(prediction.foods[0].times) == {21.0, 5.0}
    assert any("Food Standards Agency (United Kingdom)" in note for note in prediction.notes)


def test_time_at_room_temperature_is_compared_with_what_authorities_say() -> None:
    around = (make_surroundings("room", 22.0, 1.5), make_surroundings("fridge"))
    prediction = _predict(make_container("tray", 0.03), around, authorities=["uk_fsa", "us_usda"])
    room = [note for note in prediction.notes if "hour" in note]
    assert any("cooked rice within 1 hour; 1.5 h is over it" in note for note in room)
    assert any(note == "USDA consumer advice (United States): refrigerate within 2 hours, within 1 hour where it is "
               "above 32 C." for note in room)  # fmt: skip


def test_a_warm_hour_before_the_refrigerator_makes_it_later() -> None:
    box = make_container("tray", 0.03)
    at_once = _predict(box).foods[0].times[5.0].typical_h
    after_an_hour = _predict(box, (make_surroundings("room", 21.0, 1.0), *FRIDGE)).foods[0].times[5.0].typical_h
    assert at_once < after_an_hour < at_once + 1.0


def test_lid_shelf_and_still_air_are_each_worse_and_stirring_better() -> None:
    def hours(around: str = "fridge", *, lidded: bool = False, raised: bool = True, stirred: bool = False) -> float:
        box = make_container("box", 0.05, length_m=0.2, width_m=0.15, lidded=lidded, raised=raised, stirred=stirred)
        return _predict(box, (make_surroundings(around, 3.0),)).foods[0].times[21.0].typical_h

    plain = hours()
    assert min(hours(lidded=True), hours(raised=False), hours("fridge_still")) > plain
    assert hours(lidded=True, raised=False) > max(hours(lidded=True), hours(raised=False))
    assert hours(stirred=True) < plain


def test_what_the_model_takes_for_granted_is_said() -> None:
    said = " ".join(_predict(make_container("tray", 0.05)).assumptions)
    for words in ("Stacked containers", "A refrigerator that the food warms", "With one it is worse", "engineering"):
        assert words in said


@given(st.floats(1.0, 25.0), st.sampled_from(["blast", "ice_bath"]), st.sampled_from(["us_fda", "au_fsanz"]))
@settings(max_examples=8)
def test_the_largest_depth_meets_and_a_little_more_does_not(fat: float, place: str, authority: str) -> None:
    food = food_from_shares(water=90.0 - fat, protein=8.0, fat=fat, carbohydrate=2.0)
    around = (make_surroundings(place),)
    depth_m = _predict(make_container("tray", 0.2), around, 60.0, [authority], [food]).largest_depth_m
    assert depth_m is not None
    for depth, meets in ((depth_m, True), (depth_m + 0.002, False)):
        stages = _predict(make_container("tray", depth), around, 60.0, [authority], [food]).foods[0].stages
        assert all(s.outcome is Outcome.MEETS for s in stages) is meets


def test_bands_are_in_order_and_foods_from_slow_to_fast() -> None:
    fatty = FoodToCool("Fat", {"water": 0.2, "fat": 0.8})
    prediction = _predict(make_container("tray", 0.05), foods=[fatty, STEW])
    # Fat conducts badly, but holds little heat: what holds more is slower.
    assert [food.name for food in prediction.foods] == ["Food as given", "Fat"]
    for food in prediction.foods:
        for band in food.times.values():
            assert band.fast_h < band.typical_h < band.slow_h
        curve = food.curve
        assert all(
            a <= b + 1e-9 <= c + 2e-9 for a, b, c in zip(curve.fast_c, curve.typical_c, curve.slow_c, strict=True)
        )


@pytest.mark.parametrize("depth_m", [0.0, -0.01, 0.6])
def test_a_depth_that_cannot_be_is_refused(depth_m: float) -> None:
    with pytest.raises(UsageError, match="depth"):
        make_container("tray", depth_m)


def test_sizes_that_a_shape_needs_are_asked_for() -> None:
    with pytest.raises(UsageError, match="a box needs its length"):
        make_container("box", 0.05)
    with pytest.raises(UsageError, match="a pot needs its diameter"):
        make_container("pot", 0.05)
    with pytest.raises(UsageError, match="no container material 'wood'") as caught:
        make_container("tray", 0.05, material="wood")
    assert "plastic" in caught.value.hint


def test_temperatures_that_cannot_be_are_refused() -> None:
    box = make_container("tray", 0.05)
    for start_c, around, words in (
        (3.0, FRIDGE, "nothing cools"),
        (-5.0, FRIDGE, "food starts above 0"),
        (150.0, FRIDGE, "at most at 110 C"),
        (60.0, (make_surroundings("fridge", 3.0, 1.0), make_surroundings("room")), "warmer than what comes before"),
    ):
        with pytest.raises(UsageError, match=words):
            _predict(box, around, start_c)
    with pytest.raises(UsageError, match="knows no ice"):
        make_surroundings("fridge", -18.0)
    with pytest.raises(UsageError, match="no surroundings 'cellar'"):
        make_surroundings("cellar")


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ({"protein": 20.0}, "no composition"),
        ({"water": 20.0}, "add up to 20 g"),
        ({"water": 70.0, "fat": -1.0}, "fat -1 g"),
        ({"water": 80.0, "fat": 40.0}, "add up to 120 g"),
    ],
)
def test_compositions_that_cannot_be_are_refused(parts: dict[str, float], words: str) -> None:
    with pytest.raises(UsageError, match=words):
        food_from_shares(**parts)


def test_properties_are_those_of_the_cited_polynomials() -> None:
    """Check values of the dossier on Choi and Okos (1986): pure water at 20 C; a stew at 30 C, parts by volume."""
    water = properties_of({"water": 1.0}, 20.0)
    assert water.conductivity_w_mk == pytest.approx(0.6037, abs=0.00005)
    assert water.density_kg_m3 == pytest.approx(995.7, abs=0.05)
    assert water.specific_heat_j_kgk == pytest.approx(4176.6, abs=0.05)
    assert water.diffusivity_m2_s == pytest.approx(1.4515e-7, abs=0.00005e-7)
    stew = properties_of(STEW.shares, 30.0)
    assert stew.conductivity_w_mk == pytest.approx(0.5370, abs=0.00005)
    assert stew.density_kg_m3 == pytest.approx(1048.9, abs=0.05)
    assert stew.specific_heat_j_kgk == pytest.approx(3619.0, abs=0.5)
    assert stew.diffusivity_m2_s == pytest.approx(1.415e-7, abs=0.0005e-7)


@given(st.lists(st.floats(0.1, 80.0), min_size=6, max_size=6), st.floats(0.0, 90.0))
def test_properties_lie_between_those_of_the_parts(grams: list[float], temperature_c: float) -> None:
    names = ("water", "protein", "fat", "carbohydrate", "fibre", "ash")
    mixed = properties_of(dict(zip(names, grams, strict=True)), temperature_c)
    alone = [properties_of({name: 1.0}, temperature_c) for name in names]
    for name in ("conductivity_w_mk", "density_kg_m3", "specific_heat_j_kgk"):
        values = [getattr(part, name) for part in alone]
        assert min(values) <= getattr(mixed, name) * (1 + 1e-9)
        assert getattr(mixed, name) <= max(values) * (1 + 1e-9)
    with pytest.raises(ValueError, match="composition"):
        properties_of({"water": 0.0}, temperature_c)


def test_foods_of_a_batch_and_the_depth_of_its_container(smoky: BatchResult) -> None:
    foods, found = foods_of(smoky)
    assert [food.name for food in foods] == ["Whole container, mixed", "Brown rice", "Beans and turkey"]
    assert found == []
    assert all(sum(food.shares.values()) == pytest.approx(1.0) for food in foods)
    depth_m = depth_of(smoky, 0.18 * 0.12, 60.0)
    assert depth_m is not None
    density = properties_of(foods[0].shares, 60.0).density_kg_m3
    mass_kg = sum(part.cooked_mass_g for part in smoky.components) / 6 / 1000.0
    assert depth_m * 0.18 * 0.12 * density == pytest.approx(mass_kg)
