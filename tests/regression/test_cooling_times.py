"""Our own pins: times in which a stew of 76 % water cools, hours from 57 C to 21 C and to 5 C. They cite nobody."""

import pytest

from mealcalc.planning.cooling_physics import Conduction, Flat, Stage, time_until_warmest_s
from mealcalc.planning.thermal import properties_of

STEW = {"water": 76.0, "protein": 8.0, "fat": 6.0, "carbohydrate": 8.0, "fibre": 1.0, "ash": 1.0}


@pytest.mark.parametrize(
    ("depth_m", "bottom_w_m2k", "top_w_m2k", "air_c", "to_21_h", "to_5_h"),
    [
        (0.025, 5.0, 5.0, 3.0, 3.06, 9.08),
        (0.025, 0.0, 25.0, 1.0, 1.72, 4.11),
        (0.05, 10.0, 10.0, 3.0, 3.55, 10.27),
        (0.05, 0.0, 200.0, 0.5, 2.77, 6.11),
        (0.075, 25.0, 25.0, 1.0, 3.05, 7.19),
        (0.10, 200.0, 200.0, 0.5, 2.77, 6.11),
        (0.10, 0.0, 5.0, 3.0, 33.72, 95.16),
    ],
)
def test_times(
    depth_m: float, bottom_w_m2k: float, top_w_m2k: float, air_c: float, to_21_h: float, to_5_h: float
) -> None:
    stage = Stage(air_c, (Flat(depth_m, bottom_w_m2k, top_w_m2k),))
    model = Conduction(properties_of(STEW, 30.0), 57.0, (stage,))
    assert time_until_warmest_s(model, 21.0) / 3600.0 == pytest.approx(to_21_h, abs=0.005)
    assert time_until_warmest_s(model, 5.0) / 3600.0 == pytest.approx(to_5_h, abs=0.005)
