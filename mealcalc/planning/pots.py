"""Saved pots: what each weighs empty, in a small text file of the cook's.

# Empty weights of pots and pans; edit freely.
big pot: 980 g
wide pan: 1.35 kg
"""

from collections.abc import Mapping
from pathlib import Path

import yaml

from mealcalc.errors import ConfigurationError, UsageError
from mealcalc.recipe.quantities import Fault, read_mass_g
from mealcalc.recipe.source import one_line
from mealcalc.recipe.suggestions import did_you_mean
from mealcalc.text_files import write_whole

FILE_NAME = "pots.yaml"

LARGEST_TARE_G = 50_000.0
"""Beyond 50 kg the unit was mistaken (our judgement)."""

LONGEST_NAME = 60
EXAMPLE = "980 g"

_HEAD = "# Empty weights of pots and pans; edit freely.\n"
_MEND = "mend the file or move it away"


def load_pots(path: Path) -> dict[str, float]:
    """Name of each saved pot -> its empty weight in g; nothing where there is no file.

    Raises
    ------
    ConfigurationError
        If the file cannot be read or holds anything but names with weights; names the line.
    """
    return {name: mass_g for name, (mass_g, _) in _read(path, _text(path)).items()}


def tare_g(pots: Mapping[str, float], name: str) -> float:
    """The empty weight of a saved pot, in g; UsageError, naming the known ones, if there is none of that name."""
    for known, mass_g in pots.items():
        if known.casefold() == one_line(name).casefold():
            return mass_g
    hint = did_you_mean(name, pots) if pots else "none is saved yet"
    raise UsageError(f"no pot '{name[:60]}' is saved", f"{hint}; save it with --save-pot '{name[:60]}={EXAMPLE}'")


def save_pot(path: Path, name: str, mass_g: float) -> float | None:
    """Save the empty weight of a pot, or change it; the rest of the file stays as it was written.

    Returns
    -------
    float or None
        The weight in g that was saved before, None where the pot is new.

    Raises
    ------
    ConfigurationError
        If the file is there and cannot be understood: what the cook wrote is not overwritten.
    UsageError
        If name or weight cannot be that of a pot.
    OSError
        If the file cannot be written.
    """
    name = one_line(name)
    if not name or len(name) > LONGEST_NAME:
        raise UsageError(f"'{name[:60]}' is no name for a pot", f"write 1 to {LONGEST_NAME} characters")
    if not 0 < mass_g <= LARGEST_TARE_G:
        raise UsageError(
            f"a pot of {mass_g:g} g: pots weigh more than 0 and at most {LARGEST_TARE_G / 1000:g} kg",
            f"weigh it empty and write it like {EXAMPLE}",
        )
    text = _text(path)
    for known, (before_g, node) in _read(path, text).items():
        if known.casefold() == name.casefold():
            changed = f"{text[: node.start_mark.index]}{mass_g:g} g{text[node.end_mark.index :]}"
            write_whole(path, changed)
            return before_g
    text = text or _HEAD
    ended = text if text.endswith("\n") else f"{text}\n"
    added = ended + yaml.safe_dump({name: f"{mass_g:g} g"}, allow_unicode=True)
    _read(path, added)
    write_whole(path, added)
    return None


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return ""
    except (OSError, UnicodeDecodeError) as error:
        raise ConfigurationError(f"{path}: cannot be read: {error}", _MEND) from error


def _read(path: Path, text: str) -> dict[str, tuple[float, yaml.Node]]:
    """Name -> weight in g and the node that holds it."""
    try:
        root = yaml.compose(text, Loader=yaml.SafeLoader)
    except (yaml.YAMLError, ValueError, RecursionError) as error:
        raise ConfigurationError(f"{path}: is no YAML: {' '.join(str(error).split())[:200]}", _MEND) from error
    if root is None:
        return {}
    if not isinstance(root, yaml.MappingNode):
        raise ConfigurationError(
            f"{path}: is no list of pots", f"write one pot on each line, such as big pot: {EXAMPLE}"
        )
    pots: dict[str, tuple[float, yaml.Node]] = {}
    for key, value in root.value:
        line = key.start_mark.line + 1
        if not isinstance(key, yaml.ScalarNode) or not isinstance(value, yaml.ScalarNode):
            raise ConfigurationError(f"{path}:{line}: is no pot", f"write it like big pot: {EXAMPLE}")
        mass_g = read_mass_g(value.value, EXAMPLE)
        if isinstance(mass_g, Fault):
            raise ConfigurationError(f"{path}:{line}: '{value.value[:60]}' {mass_g.reason}", mass_g.hint)
        name = one_line(key.value)
        if any(known.casefold() == name.casefold() for known in pots):
            raise ConfigurationError(f"{path}:{line}: the pot '{name[:60]}' stands twice", "remove one of the two")
        pots[name] = (mass_g, value)
    return pots
