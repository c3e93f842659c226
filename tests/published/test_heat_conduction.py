"""Textbook examples of transient conduction, against the exact series and against the second solver.

Printed answers read off charts or with one term of the series are compared within 0.5 %: the series has no such error.
"""

import math

import numpy as np
import pytest

from mealcalc.planning.cooling_physics import Conduction, Flat, Stage, flat_roots, time_until_coolest_s
from mealcalc.records.cooling import ThermalProperties
from tests.planning.second_solver import Grid, Surround, temperatures_c

CENGEL_TABLE = "Cengel, Heat and Mass Transfer, table 4-2, plane wall"


def _properties(conductivity_w_mk: float, diffusivity_m2_s: float) -> ThermalProperties:
    return ThermalProperties(conductivity_w_mk, 1000.0, conductivity_w_mk / diffusivity_m2_s / 1000.0, 20.0)


@pytest.mark.parametrize(
    ("biot", "lambda_1", "a_1"),
    [
        (0.01, 0.0998, 1.0017),
        (0.02, 0.1410, 1.0033),
        (0.1, 0.3111, 1.0161),
        (0.2, 0.4328, 1.0311),
        (0.5, 0.6533, 1.0701),
        (1.0, 0.8603, 1.1191),
        (2.0, 1.0769, 1.1785),
        (50.0, 1.5400, 1.2727),
        (100.0, 1.5552, 1.2731),
        (1e9, 1.5708, 1.2732),  # printed for an infinite Biot number
    ],
    ids=lambda value: f"{CENGEL_TABLE}: {value:g}",
)
def test_first_constants_of_the_plane_wall(biot: float, lambda_1: float, a_1: float) -> None:
    root = float(flat_roots(0.0, biot)[0])
    assert root == pytest.approx(lambda_1, abs=0.00005)
    assert 4.0 * math.sin(root) / (2.0 * root + math.sin(2.0 * root)) == pytest.approx(a_1, abs=0.00005)


def test_steaks_in_refrigerated_air() -> None:
    """Cengel, Introduction to Thermodynamics and Heat Transfer (2008), solution 11-44: 2 C after 93.1 min."""
    model = Conduction(_properties(0.45, 0.91e-7), 25.0, (Stage(-11.0, (Flat(0.02, 9.0, 9.0),)),))
    assert time_until_coolest_s(model, 2.0) == pytest.approx(93.1 * 60.0, rel=0.002)


def test_brass_plates_in_an_oven() -> None:
    """Cengel, example 4-4. The chart's 282 C carries reading error; the exact surface temperature is 279.6 C.

    The model cools; the same equation with the signs turned heats.
    """
    model = Conduction(_properties(110.0, 33.9e-6), -20.0, (Stage(-500.0, (Flat(0.04, 120.0, 120.0),)),))
    surface_c = -float(model.coolest_c(np.array([420.0]))[0])
    assert surface_c == pytest.approx(279.6, abs=0.1)
    assert surface_c == pytest.approx(282.0, rel=0.01)


def test_steel_wall_heated_from_one_side() -> None:
    """Incropera et al., pipeline example of chapter 5, known from memory: insulated face at 42.9 C after 8 min."""
    model = Conduction(_properties(63.9, 18.8e-6), 20.0, (Stage(-60.0, (Flat(0.04, 0.0, 500.0),)),))
    assert flat_roots(0.0, 0.313)[0] == pytest.approx(0.531, rel=0.005)
    assert -float(model.warmest_c(np.array([480.0]))[0]) == pytest.approx(42.9, rel=0.005)


def test_the_second_solver_cooks_the_egg_of_the_textbook() -> None:
    """Cengel, example 4-3: a sphere of 5 cm, centre at 70 C after 865 s with one term and rounded constants."""

    def centre_c(time_s: float) -> float:
        egg = [Surround(95.0, time_s, (Grid(0.025, 0.0, 1200.0, 2),))]
        return float(temperatures_c(0.627, 0.627 / 0.151e-6, 5.0, egg, cells=200, steps=400)[0][0])

    assert centre_c(865.0 * 0.995) < 70.0 < centre_c(865.0 * 1.005)


def test_the_second_solver_agrees_on_the_steaks() -> None:
    """Cengel (2008), solution 11-44, as above."""
    _, faces = temperatures_c(
        0.45, 0.45 / 0.91e-7, 25.0, [Surround(-11.0, 5590.0, (Grid(0.02, 9.0, 9.0),))], cells=200, steps=400
    )
    assert float(faces[0]) == pytest.approx(2.0, abs=0.05)
