"""The series against an independent solver on random instances, against its own limits, and its roots."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.planning.cooling_physics import (
    TERMS,
    Conduction,
    Flat,
    Round,
    Stage,
    Stirred,
    flat_roots,
    round_roots,
    time_until_coolest_s,
    time_until_warmest_s,
)
from mealcalc.records.cooling import ThermalProperties
from tests.planning.second_solver import Grid, Surround, temperatures_c

STEW = ThermalProperties(0.537, 1048.9, 3619.0, 30.0)

conductivities = st.floats(0.2, 0.65)
thicknesses_m = st.floats(0.01, 0.12)
coefficients = st.floats(2.0, 300.0)
biots = st.floats(1e-4, 1e4)


def _properties(conductivity_w_mk: float, heat_capacity_j_m3k: float = 3.6e6) -> ThermalProperties:
    return ThermalProperties(conductivity_w_mk, 1000.0, heat_capacity_j_m3k / 1000.0, 30.0)


@given(conductivities, thicknesses_m, st.one_of(st.just(0.0), coefficients), coefficients, st.floats(0.05, 1.5))
@settings(max_examples=25)
def test_a_layer_with_unlike_faces_agrees_with_the_second_solver(
    k: float, thickness_m: float, first: float, second: float, fourier: float
) -> None:
    time_s = fourier * thickness_m**2 / (k / 3.6e6)
    model = Conduction(_properties(k), 60.0, (Stage(4.0, (Flat(thickness_m, first, second),)),))
    field, faces = temperatures_c(k, 3.6e6, 60.0, [Surround(4.0, time_s, (Grid(thickness_m, first, second),))])
    warmest_c = float(model.warmest_c(np.array([time_s]))[0])
    # The warmest cell's middle is half a cell from the warmest point: 0.1 K leaves room for that, and for nothing else.
    assert warmest_c == pytest.approx(field.max(), abs=0.1)
    if first <= second:
        assert float(model.coolest_c(np.array([time_s]))[0]) == pytest.approx(float(faces[0]), abs=0.1)


@given(conductivities, thicknesses_m, coefficients, st.floats(0.05, 1.0))
@settings(max_examples=20)
def test_a_round_direction_agrees_with_the_second_solver(k: float, radius_m: float, h: float, fourier: float) -> None:
    time_s = fourier * radius_m**2 / (k / 3.6e6)
    model = Conduction(_properties(k), 60.0, (Stage(4.0, (Round(radius_m, h),)),))
    field, faces = temperatures_c(k, 3.6e6, 60.0, [Surround(4.0, time_s, (Grid(radius_m, 0.0, h, 1),))])
    assert float(model.warmest_c(np.array([time_s]))[0]) == pytest.approx(field.max(), abs=0.1)
    assert float(model.coolest_c(np.array([time_s]))[0]) == pytest.approx(float(faces[0]), abs=0.1)


@pytest.mark.parametrize("alike", [True, False])
def test_a_pot_in_a_room_and_then_in_a_refrigerator_agrees_with_the_second_solver(alike: bool) -> None:
    first_w_m2k = 8.0 if alike else 3.0
    model = Conduction(
        STEW,
        60.0,
        (
            Stage(21.0, (Flat(0.08, first_w_m2k, 8.0), Round(0.1, 7.0)), 5400.0),
            Stage(3.0, (Flat(0.08, 2.0 * first_w_m2k, 16.0), Round(0.1, 14.0))),
        ),
    )
    stages = [
        Surround(21.0, 5400.0, (Grid(0.08, first_w_m2k, 8.0), Grid(0.1, 0.0, 7.0, 1))),
        Surround(3.0, 9000.0, (Grid(0.08, 2.0 * first_w_m2k, 16.0), Grid(0.1, 0.0, 14.0, 1))),
    ]
    field, _ = temperatures_c(STEW.conductivity_w_mk, STEW.heat_capacity_j_m3k, 60.0, stages, cells=40, steps=200)
    warmest_c = float(model.warmest_c(np.array([14400.0]))[0])
    if alike:
        assert warmest_c == pytest.approx(field.max(), abs=0.05)
    else:
        # Where the warmest point moves, the series gives a bound from above, and a close one.
        assert field.max() - 0.05 <= warmest_c <= field.max() + 0.3


def test_a_brick_agrees_with_the_second_solver() -> None:
    model = Conduction(STEW, 57.0, (Stage(3.0, (Flat(0.05, 10.0, 10.0), Flat(0.1, 9.0, 9.0))),))
    field, _ = temperatures_c(
        STEW.conductivity_w_mk,
        STEW.heat_capacity_j_m3k,
        57.0,
        [Surround(3.0, 7200.0, (Grid(0.05, 10.0, 10.0), Grid(0.1, 9.0, 9.0)))],
        cells=40,
        steps=200,
    )
    assert float(model.warmest_c(np.array([7200.0]))[0]) == pytest.approx(field.max(), abs=0.05)


@given(st.one_of(st.just(0.0), biots), biots)
def test_flat_roots_solve_their_equation_one_in_each_interval(first: float, second: float) -> None:
    roots = flat_roots(first, second)
    n = np.arange(TERMS)
    assert ((roots > n * math.pi) & (roots < (n + 1) * math.pi)).all()
    left, right = (roots**2 - first * second) * np.sin(roots), roots * (first + second) * np.cos(roots)
    assert np.abs(left - right).max() <= 1e-9 * (roots**2 + roots * (first + second) + first * second).max()


@given(biots)
def test_round_roots_solve_their_equation_and_rise(biot: float) -> None:
    from scipy.special import j0, j1

    roots = round_roots(biot)
    assert (np.diff(roots) > 0.0).all()
    assert np.abs(roots * j1(roots) - biot * j0(roots)).max() <= 1e-9 * (roots.max() + biot)


@pytest.mark.parametrize("biots_of_faces", [(0.0, 0.0), (-1.0, 2.0)])
def test_faces_that_pass_no_heat_have_no_roots(biots_of_faces: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="Biot"):
        flat_roots(*biots_of_faces)
    with pytest.raises(ValueError, match="Biot"):
        round_roots(0.0)


@given(thicknesses_m, st.floats(5.0, 200.0))
@settings(max_examples=20)
def test_both_faces_of_a_layer_are_one_face_of_half_of_it(thickness_m: float, h: float) -> None:
    whole = Conduction(STEW, 60.0, (Stage(3.0, (Flat(thickness_m, h, h),)),))
    half = Conduction(STEW, 60.0, (Stage(3.0, (Flat(0.5 * thickness_m, 0.0, h),)),))
    for target_c in (21.0, 5.0):
        assert time_until_warmest_s(whole, target_c) == pytest.approx(time_until_warmest_s(half, target_c), rel=1e-6)


@given(thicknesses_m, st.floats(5.0, 100.0), st.floats(1.05, 2.0))
@settings(max_examples=20)
def test_deeper_food_and_a_weaker_face_take_longer(thickness_m: float, h: float, more: float) -> None:
    def hours(depth_m: float, face: float) -> float:
        return time_until_warmest_s(Conduction(STEW, 60.0, (Stage(3.0, (Flat(depth_m, face, face),)),)), 21.0)

    assert hours(thickness_m * more, h) > hours(thickness_m, h) > hours(thickness_m, h * more)


def test_thin_food_cools_as_if_it_were_stirred() -> None:
    # Bi = 0.004: theta = exp(-h A t / (rho V cp)).
    thin = Conduction(STEW, 60.0, (Stage(3.0, (Flat(0.0005, 4.0, 4.0),)),))
    stirred = Stirred(STEW.heat_capacity_j_m3k * 0.0005, 60.0, (Stage(3.0, (), exchange_w_k=8.0),))
    expected_s = STEW.heat_capacity_j_m3k * 0.0005 / 8.0 * math.log(57.0 / 18.0)
    assert time_until_warmest_s(stirred, 21.0) == pytest.approx(expected_s, rel=1e-9)
    assert time_until_warmest_s(thin, 21.0) == pytest.approx(expected_s, rel=0.005)


def test_stages_follow_one_another_as_if_there_were_one() -> None:
    """A stage cut in two of the same surroundings changes nothing: the field is carried over whole."""
    directions = (Flat(0.06, 3.0, 12.0), Round(0.09, 9.0))
    whole = Conduction(STEW, 60.0, (Stage(3.0, directions),))
    cut = Conduction(STEW, 60.0, (Stage(3.0, directions, 1800.0), Stage(3.0, directions)))
    times_s = np.array([600.0, 1800.0, 3600.0, 14400.0])
    assert cut.warmest_c(times_s) == pytest.approx(whole.warmest_c(times_s), abs=1e-6)


def test_food_never_gets_colder_than_its_surroundings() -> None:
    for air_c, target_c in ((5.0, 5.0), (8.0, 5.0)):
        model = Conduction(STEW, 60.0, (Stage(air_c, (Flat(0.05, 10.0, 10.0),)),))
        assert math.isinf(time_until_warmest_s(model, target_c))
        assert math.isinf(time_until_coolest_s(model, target_c))


def test_what_is_cold_already_takes_no_time() -> None:
    model = Conduction(STEW, 20.0, (Stage(3.0, (Flat(0.05, 10.0, 10.0),)),))
    assert time_until_warmest_s(model, 21.0) == 0.0


def test_a_target_may_be_reached_in_the_first_stage() -> None:
    stages = (Stage(15.0, (Flat(0.01, 10.0, 10.0),), 7200.0), Stage(3.0, (Flat(0.01, 10.0, 10.0),)))
    alone = Conduction(STEW, 60.0, (Stage(15.0, (Flat(0.01, 10.0, 10.0),)),))
    reached_s = time_until_warmest_s(Conduction(STEW, 60.0, stages), 21.0)
    assert reached_s == pytest.approx(time_until_warmest_s(alone, 21.0), rel=1e-9)
    assert reached_s < 7200.0 < time_until_warmest_s(Conduction(STEW, 60.0, stages), 5.0)


@pytest.mark.parametrize("air_c", [(), (70.0,), (3.0, 21.0)])
def test_surroundings_must_not_warm_the_food(air_c: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match="temperatures"):
        Conduction(STEW, 60.0, tuple(Stage(c, (Flat(0.05, 10.0, 10.0),), 600.0) for c in air_c))
