"""A calculated batch with the amounts of some lines multiplied."""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from mealcalc.planning.scaling import scale_line
from mealcalc.records import Batch, BatchResult


def scaled_batch(result: BatchResult, factors: Mapping[int, float]) -> Batch:
    """The batch with the amounts of some lines multiplied.

    A component that was weighed is taken to weigh in proportion to what goes into it.

    Parameters
    ----------
    result : BatchResult
        The batch as written, calculated.
    factors : mapping
        Number of a line, in the order of the contributions -> what its amount is multiplied by; 1 for those left out.
    """
    components = []
    place = 0
    for component in result.components:
        lines, before_g, after_g = [], 0.0, 0.0
        for c in component.contributions:
            factor = factors.get(place, 1.0)
            mass_g = c.ingredient.eaten_mass_g or 0.0
            before_g, after_g = before_g + mass_g, after_g + factor * mass_g
            lines.append(c.line if factor == 1.0 else scale_line(c.line, Fraction(factor)))
            place += 1
        part = component.component
        weighed_g = part.cooked_mass_g
        if weighed_g is not None and before_g > 0.0:
            weighed_g *= after_g / before_g
        components.append(replace(part, lines=tuple(lines), cooked_mass_g=weighed_g or part.cooked_mass_g))
    return replace(result.batch, components=tuple(components))
