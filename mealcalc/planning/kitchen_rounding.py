"""Amounts as a kitchen can measure them: steps by unit, quarters of a spoon, whole eggs, 5 g above 100 g.

The steps are common practice and our judgement; what they do to an amount is told where it matters.
"""

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction

from mealcalc.units import COUNT_UNITS

Steps = Sequence[tuple[Fraction, Fraction]]
"""(below this amount, step): in order; the last step counts for all larger amounts."""

_F = Fraction
_ENDLESS = _F(10**12)

_SPOONS: Steps = ((_F(1, 4), _F(1, 8)), (_F(3), _F(1, 4)), (_F(8), _F(1, 2)), (_ENDLESS, _F(1)))
_GRAMS: Steps = ((_F(1), _F(1, 10)), (_F(10), _F(1, 2)), (_F(100), _F(1)), (_F(1000), _F(5)), (_ENDLESS, _F(10)))
_MILLILITRES: Steps = ((_F(10), _F(1, 2)), (_F(50), _F(1)), (_F(250), _F(5)), (_ENDLESS, _F(10)))
_WHOLE: Steps = ((_ENDLESS, _F(1)),)
_HALVES: Steps = ((_F(6), _F(1, 2)), (_ENDLESS, _F(1)))
_QUARTERS: Steps = ((_F(2), _F(1, 4)), (_F(6), _F(1, 2)), (_ENDLESS, _F(1)))


def _times(steps: Steps, factor: Fraction) -> Steps:
    return tuple((below * factor, step * factor) for below, step in steps)


STEPS: Mapping[str, Steps] = {
    "g": _GRAMS,
    "kg": _times(_GRAMS, _F(1, 1000)),
    "mg": ((_F(100), _F(5)), (_ENDLESS, _F(50))),
    "oz": ((_F(1), _F(1, 8)), (_F(4), _F(1, 4)), (_F(16), _F(1, 2)), (_ENDLESS, _F(1))),
    "lb": ((_F(1), _F(1, 8)), (_F(5), _F(1, 4)), (_ENDLESS, _F(1, 2))),
    "stick": _QUARTERS,
    "ml": _MILLILITRES,
    "cl": _times(_MILLILITRES, _F(1, 10)),
    "dl": _times(_MILLILITRES, _F(1, 100)),
    "l": _times(_MILLILITRES, _F(1, 1000)),
    "tsp": _SPOONS,
    "dessertspoon": _SPOONS,
    "tbsp": _SPOONS,
    "fl_oz": ((_F(4), _F(1, 4)), (_F(16), _F(1, 2)), (_ENDLESS, _F(1))),
    "pint": _QUARTERS,
    "quart": _QUARTERS,
    "gallon": _QUARTERS,
    "cm": _HALVES,
}
"""Steps of units; cups have quarters and thirds, counted units `COUNT_STEPS`."""

COUNT_STEPS: Mapping[str, Steps] = {
    **dict.fromkeys(("can", "jar", "pack", "bunch", "head", "handful", "loaf", "scoop", "stick", "dollop"), _HALVES),
    **dict.fromkeys(("piece", "bulb", "ear", "fillet"), _HALVES),
}
"""Steps of counted units that can be halved; of all others whole ones are counted."""

_CUP_PARTS = (_F(0), _F(1, 4), _F(1, 3), _F(1, 2), _F(2, 3), _F(3, 4), _F(1))
_VULGAR = {
    _F(1, 8): "⅛", _F(1, 4): "¼", _F(1, 3): "⅓", _F(3, 8): "⅜", _F(1, 2): "½", _F(5, 8): "⅝", _F(2, 3): "⅔",
    _F(3, 4): "¾", _F(7, 8): "⅞",
}  # fmt: skip
_IN_FRACTIONS = frozenset("tsp dessertspoon tbsp cup oz lb stick fl_oz pint quart gallon cm".split()) | COUNT_UNITS
_EGG = re.compile(r"\beggs?\b", re.IGNORECASE)
_WHOLE_ONES = re.compile(
    r"\b(eggs?|leaf|leaves|pods?|star anise|sticks?|stars?|cloves?|sprigs?|tortillas?|wraps?|buns?|rolls?)\b",
    re.IGNORECASE,
)


def is_egg(name: str) -> bool:
    """Whether a line counts eggs."""
    return _EGG.search(name) is not None


def is_whole(name: str) -> bool:
    """Whether a line counts what is not halved: eggs, leaves, pods, buns."""
    return _WHOLE_ONES.search(name) is not None


def rounded(value: Fraction, unit: str, *, whole: bool = False) -> Fraction:
    """The amount nearest to `value` that the kitchen can measure in `unit`; never 0.

    Parameters
    ----------
    value : Fraction
        An amount above 0.
    unit : str
        Canonical unit.
    whole : bool
        Whether only whole ones count, as of eggs.
    """
    if value <= 0:
        return value
    if unit == "cup" and value < 4:
        full = int(value)
        part = min(_CUP_PARTS, key=lambda p: abs(value - full - p))
        return full + part if full + part > 0 else _F(1, 4)
    steps = _WHOLE if whole else STEPS.get(unit) or COUNT_STEPS.get(unit, _HALVES if unit == "cup" else _WHOLE)
    step = next(step for below, step in steps if value < below)
    count = value / step
    nearest = int(count + _F(1, 2))
    return max(1, nearest) * step


def shown(value: Fraction, unit: str) -> str:
    """An amount as it is written: 1½ tbsp, 2⅓ cup, 1.305 kg, 0.125 where no fraction is usual."""
    if unit in _IN_FRACTIONS:
        full, part = int(value), value - int(value)
        if part in _VULGAR:
            return f"{full or ''}{_VULGAR[part]}"
    return f"{float(value):.6f}".rstrip("0").rstrip(".")
