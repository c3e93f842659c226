"""Saved pots: a text file of the cook's that is changed in place."""

from pathlib import Path

import pytest

from mealcalc.errors import ConfigurationError, UsageError
from mealcalc.planning.pots import load_pots, save_pot, tare_g


def test_pots_are_saved_changed_and_read(tmp_path: Path) -> None:
    path = tmp_path / "kitchen" / "pots.yaml"
    assert load_pots(path) == {}
    assert save_pot(path, "big pot", 980.0) is None
    assert save_pot(path, "wide  pan", 1350.5) is None
    assert save_pot(path, "Big Pot", 985.0) == 980.0
    assert load_pots(path) == {"big pot": 985.0, "wide pan": 1350.5}
    assert path.read_text(encoding="utf-8").startswith("# Empty weights of pots")


def test_what_the_cook_wrote_stays(tmp_path: Path) -> None:
    path = tmp_path / "pots.yaml"
    path.write_text("# mine\n'the old one': 2.1 kg   # with lid\n\nlittle: 12 oz\n# end", encoding="utf-8")
    assert load_pots(path) == {"the old one": 2100.0, "little": pytest.approx(340.19, abs=0.01)}
    save_pot(path, "the old one", 2050)
    save_pot(path, "yes", 500)  # a word that YAML takes for something else
    text = path.read_text(encoding="utf-8")
    assert text.startswith("# mine\n'the old one': 2050 g   # with lid\n\nlittle: 12 oz\n# end\n")
    assert load_pots(path)["yes"] == 500.0


def test_a_pot_is_found_whatever_its_case(tmp_path: Path) -> None:
    assert tare_g({"big pot": 980.0}, "Big  Pot") == 980.0
    with pytest.raises(UsageError, match="no pot 'big pott' is saved") as error:
        tare_g({"big pot": 980.0}, "big pott")
    assert "did you mean 'big pot'?" in error.value.hint
    with pytest.raises(UsageError) as error:
        tare_g(load_pots(tmp_path / "none.yaml"), "pan")
    assert "none is saved yet" in error.value.hint


@pytest.mark.parametrize(("name", "mass_g"), [("", 980.0), ("x" * 61, 980.0), ("a", 0.0), ("a", -1.0), ("a", 60_000.0)])
def test_what_is_no_pot_is_not_saved(tmp_path: Path, name: str, mass_g: float) -> None:
    with pytest.raises(UsageError):
        save_pot(tmp_path / "pots.yaml", name, mass_g)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("- big pot\n", "pots.yaml: is no list of pots"),
        ("a: 5 g\nbig pot: heavy\n", "pots.yaml:2: 'heavy' is not a number"),
        ("a: 5 g\nbig pot: [980 g]\n", "pots.yaml:2: is no pot"),
        ("a: 5 g\nA: 6 g\n", "pots.yaml:2: the pot 'A' stands twice"),
        ("a: 5 ml\n", "pots.yaml:1: '5 ml' is not a weight"),
        ("a: '5 g\n", "is no YAML"),
        ("[" * 5000, "is no YAML"),
    ],
)
def test_a_damaged_file_is_told_with_its_line_and_not_overwritten(tmp_path: Path, text: str, place: str) -> None:
    path = tmp_path / "pots.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ConfigurationError) as error:
        load_pots(path)
    assert place in error.value.message
    assert error.value.hint
    with pytest.raises(ConfigurationError):
        save_pot(path, "new", 500)
    assert path.read_text(encoding="utf-8") == text


def test_a_file_that_is_no_text(tmp_path: Path) -> None:
    path = tmp_path / "pots.yaml"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(ConfigurationError, match="cannot be read"):
        load_pots(path)
