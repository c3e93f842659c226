"""Lengths, temperatures and durations as cooks write them."""

import pytest

from mealcalc.errors import UsageError
from mealcalc.planning.readings import duration_h, length_m, temperature_c


@pytest.mark.parametrize(
    ("text", "metres"),
    [("5cm", 0.05), ("50 mm", 0.05), ("2in", 0.0508), ('1.5"', 0.0381), ("0,1 m", 0.1), ("5 CM", 0.05)],
)
def test_lengths(text: str, metres: float) -> None:
    assert length_m(text, "depth") == pytest.approx(metres)


@pytest.mark.parametrize(
    ("text", "degrees"), [("60C", 60.0), ("60", 60.0), ("140 F", 60.0), ("3.5 °C", 3.5), ("-2c", -2.0)]
)
def test_temperatures(text: str, degrees: float) -> None:
    assert temperature_c(text, "--air") == pytest.approx(degrees)


@pytest.mark.parametrize(
    ("text", "hours"), [("90min", 1.5), ("1.5h", 1.5), ("1h30", 1.5), ("2 hours", 2.0), ("1 h 15 min", 1.25)]
)
def test_durations(text: str, hours: float) -> None:
    assert duration_h(text, "--room-time") == pytest.approx(hours)


@pytest.mark.parametrize("text", ["5", "cm", "0cm", "-1cm", "5 miles", "five cm", "", "1e3cm", "nan cm"])
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(UsageError, match="--depth"):
        length_m(text, "--depth")


@pytest.mark.parametrize("text", ["hot", "", "5 K", "5cm", "inf"])
def test_what_is_no_temperature_is_refused(text: str) -> None:
    with pytest.raises(UsageError, match="--air"):
        temperature_c(text, "--air")


@pytest.mark.parametrize("text", ["1", "0h", "0 min", "-1h", "soon", ""])
def test_what_is_no_duration_is_refused(text: str) -> None:
    with pytest.raises(UsageError, match="--room-time"):
        duration_h(text, "--room-time")
