"""What the cook says of pots, shares, eaters, containers and temperatures."""

from fractions import Fraction

import pytest

from mealcalc.errors import UsageError
from mealcalc.planning.weighings import (
    Scale,
    eater_in,
    eaters_in,
    masses,
    pots_in,
    room_in,
    shares_in,
    temperature_in,
    weighing,
)
from mealcalc.records.portions import Step
from tests.planning.portions import batch

ONE = batch("components: [{name: Soup, ingredients: [1 l water]}]\n")
SCALE = Scale({"big pot": 980.0, "pan": 400.0})


@pytest.mark.parametrize(
    ("text", "net_g", "tare_g"),
    [
        ("Stew=2140 g", 2140.0, None),
        ("stew = 2140", 2140.0, None),
        ("Stew=2.14 kg net", 2140.0, None),
        ("Stew=2,140 g without pot", 2140.0, None),
        ("Stew=3120 gross in big pot", 2140.0, 980.0),
        ("Stew=3120 g gross in  BIG POT", 2140.0, 980.0),
        ("Stew=3120g with pot in pan", 2720.0, 400.0),
        ("Stew=5 lb", pytest.approx(2267.96, abs=0.01), None),
    ],
)
def test_weights_with_and_without_their_pot(text: str, net_g: float, tare_g: float | None) -> None:
    weight = weighing(batch(), text, SCALE)
    assert (weight.component, weight.net_g, weight.tare_g) == ("Stew", net_g, tare_g)
    assert weight.ground.startswith("weighed")


def test_the_pot_or_tare_of_the_call_counts_where_none_is_named() -> None:
    assert weighing(batch(), "Stew=1500 gross", Scale(SCALE.pots, "pan")).net_g == 1100.0
    assert weighing(batch(), "Stew=1500 gross", Scale({}, "", 300.0)).net_g == 1200.0
    assert weighing(batch(), "Stew=1500 gross in big pot", Scale(SCALE.pots, "pan")).net_g == 520.0
    assert weighing(batch(), "Stew=1500 net", Scale(SCALE.pots, "pan")).net_g == 1500.0


@pytest.mark.parametrize("gross", ["980", "979 g", "0.5 kg"])
def test_a_pot_lighter_than_its_tare_is_refused(gross: str) -> None:
    with pytest.raises(UsageError, match="the pot 'big pot' alone weighs 980 g: nothing is in it") as error:
        weighing(batch(), f"Stew={gross} gross in big pot", SCALE)
    assert "weigh again" in error.value.hint
    with pytest.raises(UsageError, match="the tare is 1000 g"):
        weighing(batch(), f"Stew={gross} gross", Scale({}, "", 1000.0))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("Stew=heavy", "is no weight"),
        ("Stew=", "is no weight"),
        ("Stew=0 g", "not above zero"),
        ("Stew=2140 ml", "not a weight"),
        ("Stew=2140 zog", "not a weight"),
        ("Stew=2000 kg", "more than 1000 kg"),
        ("Stew=3120 gross", "no empty weight is given"),
        ("Stew=3120 gross in lost pot", "no pot 'lost pot' is saved"),
        ("Stew=3120 g in pan", "does not say that the weight is with it"),
        ("Pasta=2140 g", "no component 'Pasta'"),
        ("2140 g", "does not say of which component"),
        ("=2140 g", "no component ''"),
    ],
)
def test_weights_that_cannot_be_read(text: str, message: str) -> None:
    with pytest.raises(UsageError, match=message) as error:
        weighing(batch(), text, SCALE)
    assert error.value.hint


def test_one_component_needs_no_name() -> None:
    assert weighing(ONE, "2140 g", SCALE).component == "Soup"
    assert masses(ONE, ["40"], "--residue") == {"Soup": 40.0}


def test_each_component_once() -> None:
    assert set(pots_in(batch(), ["Stew=1 kg", "Rice=2 kg"], SCALE)) == {"Stew", "Rice"}
    with pytest.raises(UsageError, match="--weighed is given twice for 'Stew'"):
        pots_in(batch(), ["Stew=1 kg", "stew=2 kg"], SCALE)
    with pytest.raises(UsageError, match="--fill is given twice for 'Rice'"):
        masses(batch(), ["Rice=1 g", "rice=2 g"], "--fill")


def test_shares_are_exact() -> None:
    assert shares_in("30%, 12.5 %,1/3") == (Fraction(3, 10), Fraction(1, 8), Fraction(1, 3))


@pytest.mark.parametrize("text", ["", "30", "0%", "1/0", "30%,", "-10%", "0/3", "30%;20%", "a third"])
def test_shares_that_cannot_be_read(text: str) -> None:
    with pytest.raises(UsageError, match="is no share above 0"):
        shares_in(text)


def test_eaters() -> None:
    adult = eater_in("tall adult=1.5x4")
    assert (adult.name, adult.share, adult.containers) == ("tall adult", 1.5, 4)
    assert eater_in("child=0,8").share == 0.8
    assert [eater.containers for eater in eaters_in(["a=1", "b=2 x 3"])] == [None, 3]
    with pytest.raises(UsageError, match="stands twice"):
        eaters_in(["a=1", "A=2"])


@pytest.mark.parametrize(
    "text", ["adult", "adult=", "=1", "adult=0", "adult=100", "adult=-1", "adult=1x0", "adult=1x2000"]
)
def test_eaters_that_cannot_be_read(text: str) -> None:
    with pytest.raises(UsageError, match="--eater"):
        eater_in(text)


def test_the_room_in_a_container() -> None:
    of_file = room_in(batch(), None, None)
    assert of_file is not None
    assert of_file.brim_ml == 700.0
    given = room_in(batch(), "1 l", "10 cm")
    assert given is not None
    assert given.freezing_ml == pytest.approx(1000 * (1 - 25.4 / 100))
    assert room_in(ONE, None, None) is None


@pytest.mark.parametrize(
    ("volume", "height"),
    [("big", None), ("0 ml", None), ("650 g", None), ("500 l", None), (None, "tall"), (None, "6"), (None, "5 m")],
)
def test_rooms_that_cannot_be(volume: str | None, height: str | None) -> None:
    with pytest.raises(UsageError):
        room_in(batch(), volume, height)


def test_a_height_without_a_volume() -> None:
    with pytest.raises(UsageError, match="--height without a volume"):
        room_in(ONE, None, "6cm")


def test_temperatures() -> None:
    plain = temperature_in(batch(), "cooking=76 C")
    assert (plain.step, plain.celsius, plain.component, plain.after_min) == (Step.COOKING, 76.0, "", None)
    named = temperature_in(batch(), "Cooling stew = 68 °F after 1 h 50 min")
    assert (named.step, named.celsius, named.component, named.after_min) == (Step.COOLING, 20.0, "Stew", 110.0)
    assert temperature_in(batch(), "reheating=75.5c after 0.5 h").after_min == 30.0


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("76 C", "names no step"),
        ("frying=76 C", "names no step"),
        ("cooking=hot", "is no temperature"),
        ("cooking=76", "is no temperature"),
        ("cooking=900 C", "is no temperature"),
        ("cooling=20 C after a while", "is no duration"),
        ("cooling=20 C after 900 h", "is no duration"),
        ("cooking pasta=76 C", "no component"),
    ],
)
def test_temperatures_that_cannot_be_read(text: str, message: str) -> None:
    with pytest.raises(UsageError, match=message):
        temperature_in(batch(), text)
