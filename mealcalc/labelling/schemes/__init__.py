"""The schemes: us, eu, uk, anz, ca."""

from mealcalc.errors import UsageError
from mealcalc.labelling.schemes.anz import AUSTRALIA_NEW_ZEALAND
from mealcalc.labelling.schemes.base import Scheme
from mealcalc.labelling.schemes.ca import CANADA
from mealcalc.labelling.schemes.eu import EUROPEAN_UNION
from mealcalc.labelling.schemes.uk import UNITED_KINGDOM
from mealcalc.labelling.schemes.us import UNITED_STATES

SCHEMES = {
    scheme.name: scheme for scheme in (UNITED_STATES, EUROPEAN_UNION, UNITED_KINGDOM, AUSTRALIA_NEW_ZEALAND, CANADA)
}
"""Every scheme by its name."""


def scheme_named(name: str) -> Scheme:
    """The scheme of a name (us, eu, uk, anz, ca), in either case.

    Raises
    ------
    UsageError
        If there is no such scheme; the hint lists those there are.
    """
    scheme = SCHEMES.get(name.strip().lower())
    if scheme is None:
        known = ", ".join(f"{s.name} ({s.title.split(':')[0]})" for s in SCHEMES.values())
        raise UsageError(f"unknown labelling scheme '{name[:40]}'", f"use one of: {known}")
    return scheme
