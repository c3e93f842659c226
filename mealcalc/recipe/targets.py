"""Targets as the cook writes them: `targets:` of a batch file, and the same on the command line.

    targets:
      protein: at least 40 g
      energy: at most 600 kcal
      carbohydrate: 45 g to 70 g          # two limits
      fibre: about 10 g                   # a wish
      keep_ratio: [Chicken, Tomato sauce]
      eaters:                             # what holds for the containers of one eater
        runner: {energy: at most 900 kcal}

Carbohydrate is total by difference, fibre included; `available` is without fibre.
"""

import re
from collections.abc import Mapping

import yaml

from mealcalc.components import EVERYDAY_NAMES, FOOD_COMPONENTS, KJ_PER_KCAL
from mealcalc.diagnostics import Span
from mealcalc.errors import UsageError
from mealcalc.recipe.food_values import read_energy, read_value
from mealcalc.recipe.quantities import Fault, read_mass_g, read_quantity
from mealcalc.recipe.suggestions import did_you_mean
from mealcalc.recipe.yaml_nodes import Field, NodeReader, Text
from mealcalc.records.targets import COST, MASS, Bound, Target, Targets

SALT = "salt"
MG_SODIUM_PER_G_SALT = 400.0
"""Regulation (EU) No 1169/2011, Annex I, point 11: salt = sodium x 2.5."""

QUANTITIES: Mapping[str, str] = {
    **EVERYDAY_NAMES,
    "kj": "ENERC_KCAL",
    SALT: "NA_MG",
    "mass": MASS,
    "weight": MASS,
    "cost": COST,
    **{component.tagname.casefold(): key for key, component in FOOD_COMPONENTS.items() if key[:5] != "ENERC"},
    **{key.casefold(): key for key in FOOD_COMPONENTS},
    "enerc_kj": "ENERC_KCAL",
}
"""What can be limited, in lower case -> its key. Energy is held in kcal, whatever it is written in."""

LISTED_QUANTITIES = (
    "energy", "protein", "fat", "saturated", "carbohydrate", "available", "fibre", "sugars", "sodium", SALT, "mass",
    "cost",
)  # fmt: skip
"""What the file and hints name first."""

PLAN_KEYS = ("most", "least", "keep_ratio", "change", "whole_packs", "eaters")
TARGET_KEYS = (*LISTED_QUANTITIES, *(c.tagname for c in FOOD_COMPONENTS.values() if c.key[:5] != "ENERC"), *PLAN_KEYS)
EATER_TARGET_KEYS = tuple(key for key in TARGET_KEYS if key not in PLAN_KEYS)

WANTED = "a limit such as 'at least 40 g', 'at most 600 kcal', '45 g to 70 g', or a wish such as 'about 40 g'"
LARGEST_AMOUNT = 1_000_000.0
"""No container holds more of anything, in any unit of ours (our judgement)."""

_BOUNDS = {
    Bound.AT_LEAST: ("at least", "no less than", "not less than", "minimum", "min", ">=", "≥", "from"),
    Bound.AT_MOST: ("at most", "no more than", "not more than", "maximum", "max", "up to", "<=", "≤"),
    Bound.ABOUT: ("about", "around", "near", "nearly", "~", "≈"),
}
_WORDS = sorted(((words, bound) for bound, several in _BOUNDS.items() for words in several), key=lambda w: -len(w[0]))
_RANGE = re.compile(r"(?:between\s+)?([0-9][0-9.,]*)\s*([^0-9\s–-]*)\s*(?:-|–|to|and)\s*([0-9][0-9.,]*\s*.*)", re.I)
_BOTH = re.compile(r"\s*(?:,|;|\band\b)\s*(?=[a-z<>≤≥~≈])", re.IGNORECASE)
_HINTS = {
    **dict.fromkeys(("calories", "kcal"), "did you mean 'energy'?"),
    **dict.fromkeys(("carbs", "carbohydrates"), "did you mean 'carbohydrate'?"),
    **dict.fromkeys(("saturates", "saturated fat"), "did you mean 'saturated'?"),
    **dict.fromkeys(("price", "money"), "did you mean 'cost'?"),
    **dict.fromkeys(("weight", "grams"), "did you mean 'mass'?"),
    **dict.fromkeys(("ratio", "keep ratio"), "did you mean 'keep_ratio'?"),
    **dict.fromkeys(("packs", "whole packs"), "did you mean 'whole_packs'?"),
    **dict.fromkeys(("maximise", "maximize"), "did you mean 'most'?"),
    **dict.fromkeys(("minimise", "minimize"), "did you mean 'least'?"),
}


def quantity_key(name: str) -> str | None:
    """The key of a quantity by its name; None if there is none of that name."""
    return QUANTITIES.get(" ".join(name.split()).casefold())


def read_target(name: str, text: str, span: Span | None = None) -> list[Target] | Fault:
    """The limits or the wish that `text` sets to the quantity `name`.

    Parameters
    ----------
    name : str
        What is limited: a name of `QUANTITIES`.
    text : str
        `at least 40 g`, `at most 600 kcal`, `45 g to 70 g`, `about 40 g`; two limits may be joined by 'and'.
    span : Span, optional
        Where it stands.
    """
    key = quantity_key(name)
    if key is None:
        return Fault(f"limits nothing that is known: '{name[:40]}'", did_you_mean(name, LISTED_QUANTITIES))
    between = _RANGE.fullmatch(text.strip())
    if between:
        high_text = between[3].strip()
        unit = between[2] or re.sub(r"^[0-9.,]+\s*", "", high_text)
        return _two_limits(key, name, f"{between[1]} {unit}", high_text, span)
    found: list[Target] = []
    for part in _BOTH.split(text.strip()):
        words, bound = next(
            ((words, bound) for words, bound in _WORDS if part.casefold().startswith(words)), ("", None)
        )
        if bound is None:
            return Fault("does not say whether it is a limit or a wish", f"write {WANTED}")
        amount = _amount(key, name, part[len(words) :].strip())
        if isinstance(amount, Fault):
            return amount
        found.append(Target(key, bound, amount, span))
    return _checked(found)


def target_of_option(text: str) -> tuple[str, list[Target]]:
    """The eater ('' for every container) and the targets of `--target 'protein at least 40 g'`.

    Raises
    ------
    UsageError
        If it is no target.
    """
    example = "write it like 'protein at least 40 g', or 'runner: energy at most 900 kcal' for one eater"
    eater, sign, rest = text.partition(":")
    if not sign or quantity_key(eater) is not None:
        eater, rest = "", text.replace(":", " ", 1)
    words = rest.split()
    for count in range(min(3, len(words) - 1), 0, -1):
        name = " ".join(words[:count])
        if quantity_key(name) is None:
            continue
        found = read_target(name, " ".join(words[count:]))
        if isinstance(found, Fault):
            raise UsageError(f"--target '{text[:80]}' {found.reason}", found.hint)
        return eater.strip(), found
    raise UsageError(f"--target '{text[:80]}' limits nothing that is known", example)


def read_targets(reader: NodeReader, node: yaml.Node, eaters: tuple[str, ...]) -> Targets | None:
    """The targets under `targets:`; what is wrong with one is told in the reader's diagnostics, and the rest is read.

    Parameters
    ----------
    reader : NodeReader
        Collects diagnostics.
    node : yaml.Node
        The mapping.
    eaters : tuple of str
        Names of the eaters of the batch; where it names none, targets may name them.
    """
    fields = reader.fields(node, TARGET_KEYS, "'targets'", _HINTS)
    if fields is None:
        return None
    return Targets(
        every=_limits(reader, fields),
        of_eater=_of_eaters(reader, fields["eaters"][1], eaters) if "eaters" in fields else {},
        keep_ratio=_ratio(reader, fields["keep_ratio"]) if "keep_ratio" in fields else (),
        most=_quantity(reader, fields["most"]) if "most" in fields else "",
        least=_quantity(reader, fields["least"]) if "least" in fields else "",
        change=tuple(t.text for t in reader.texts(fields["change"][1], "'change'")) if "change" in fields else (),
        whole_packs=_packs(reader, fields["whole_packs"][1]) if "whole_packs" in fields else {},
        span=reader.span(node),
    )


def _two_limits(key: str, name: str, low_text: str, high_text: str, span: Span | None) -> list[Target] | Fault:
    low, high = _amount(key, name, low_text), _amount(key, name, high_text)
    for amount in (low, high):
        if isinstance(amount, Fault):
            return amount
    assert not isinstance(low, Fault)
    assert not isinstance(high, Fault)
    return _checked([Target(key, Bound.AT_LEAST, low, span), Target(key, Bound.AT_MOST, high, span)])


def _checked(targets: list[Target]) -> list[Target] | Fault:
    by_bound = {target.bound: target.amount for target in targets}
    if len(by_bound) < len(targets):
        return Fault("sets the same limit twice", f"write {WANTED}")
    low, high = by_bound.get(Bound.AT_LEAST), by_bound.get(Bound.AT_MOST)
    if low is not None and high is not None and low > high:
        return Fault("wants at least more than at most", "write the smaller amount first")
    return targets


def _amount(key: str, name: str, text: str) -> float | Fault:
    """The amount in the unit of `key`."""
    amount = _read_amount(key, name, text)
    if not isinstance(amount, Fault) and amount > LARGEST_AMOUNT:
        return Fault("is more than any container holds", "check the number and the unit")
    return amount


def _read_amount(key: str, name: str, text: str) -> float | Fault:
    if key == COST:
        quantity = read_quantity(text, "3.50")
        if isinstance(quantity, Fault):
            return quantity
        if quantity.unit or quantity.number < 0:
            return Fault("is no sum of money", "write a number such as 3.50: it is in the currency of the price list")
        return quantity.number
    if key == MASS:
        return read_mass_g(text, "550 g")
    if key == "ENERC_KCAL":
        energy = read_energy(text)
        if isinstance(energy, Fault):
            return Fault(energy.reason, "write it like 600 kcal or 2500 kJ")
        return energy.kcal if energy.kcal is not None else (energy.kj or 0.0) / KJ_PER_KCAL
    if name.casefold().strip() == SALT:
        salt = read_value(text, "g", 2.0)
        return salt if isinstance(salt, Fault) else (salt.amount or 0.0) * MG_SODIUM_PER_G_SALT
    value = read_value(text, FOOD_COMPONENTS[key].unit, 40.0)
    return value if isinstance(value, Fault) else value.amount or 0.0


def _limits(reader: NodeReader, fields: Mapping[str, Field]) -> tuple[Target, ...]:
    found: list[Target] = []
    for name, (_, node) in fields.items():
        if name in PLAN_KEYS:
            continue
        text = reader.text(node, f"'{name}'", WANTED)
        if text is None:
            continue
        targets = read_target(name, text.text, text.span)
        if isinstance(targets, Fault):
            _bad(reader, name, text, targets)
        else:
            found += targets
    return tuple(found)


def _bad(reader: NodeReader, name: str, text: Text, fault: Fault) -> None:
    reader.error("bad-target", f"'{text.text[:60]}' for '{name}' {fault.reason}", text.span, fault.hint)


def _of_eaters(reader: NodeReader, node: yaml.Node, eaters: tuple[str, ...]) -> dict[str, tuple[Target, ...]]:
    if not isinstance(node, yaml.MappingNode):
        reader.wrong_type(node, "'eaters' of the targets", "a mapping (name: {protein: at least 40 g})")
        return {}
    found: dict[str, tuple[Target, ...]] = {}
    by_fold = {name.casefold(): name for name in eaters}
    for key, value in node.value:
        name = reader.key(key, found, "'eaters' of the targets")
        if name is None:
            continue
        if eaters and name.casefold() not in by_fold:
            hint = did_you_mean(name, eaters)
            reader.error("unknown-eater", f"the batch has no eater '{name[:60]}'", reader.span(key), hint)
            continue
        fields = reader.fields(value, EATER_TARGET_KEYS, f"the targets of '{name[:60]}'", _HINTS)
        if fields is not None:
            found[by_fold.get(name.casefold(), name)] = _limits(reader, fields)
    return found


def _ratio(reader: NodeReader, field: Field) -> tuple[tuple[str, ...], ...]:
    names = tuple(text.text for text in reader.texts(field[1], "'keep_ratio'"))
    if len(names) == 1:
        reader.error(
            "bad-target",
            "a ratio is kept between two or more",
            reader.span(field[1]),
            "write it like keep_ratio: [Chicken, Tomato sauce]",
        )
    return (names,) if len(names) > 1 else ()


def _quantity(reader: NodeReader, field: Field) -> str:
    text = reader.text(field[1], f"'{field[0].value}'", f"one of: {', '.join(LISTED_QUANTITIES)}")
    if text is None:
        return ""
    key = quantity_key(text.text)
    if key is None:
        hint = did_you_mean(text.text, LISTED_QUANTITIES)
        reader.error("unknown-word", f"'{text.text[:60]}' is nothing that can be limited", text.span, hint)
    return key or ""


def _packs(reader: NodeReader, node: yaml.Node) -> dict[str, str]:
    if not isinstance(node, yaml.MappingNode):
        reader.wrong_type(node, "'whole_packs'", "a mapping (words of the line: 500 g)")
        return {}
    found: dict[str, str] = {}
    for key, value in node.value:
        name = reader.key(key, found, "'whole_packs'")
        text = reader.text(value, f"the pack of '{name}'", "a pack such as 500 g") if name else None
        if name and text:
            found[name] = text.text
    return found
