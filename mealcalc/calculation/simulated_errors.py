"""Where a simulation takes its random errors from: drawn anew each time, or remembered so that batches share them."""

from collections.abc import Hashable, Mapping, Sequence
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float32]


class Errors(Protocol):
    """Standard normal errors for a number of draws, by what they are errors of."""

    draws: int

    def of(self, what: Hashable, width: int | None = None) -> Array:
        """One error for each draw, or `width` of them (draws x width)."""

    def of_lines(self, lines: Sequence[Hashable]) -> Array:
        """The error of the mass of each line: draws x lines."""

    def of_food(self, food: Hashable) -> Array | None:
        """The errors of the composition of one food (draws x food components); None where foods need not be told
        apart."""

    def picks(self, what: Hashable, probabilities: Sequence[float]) -> NDArray[np.intp]:
        """For each draw the number of one of several choices, by their probabilities."""


class FreshErrors:
    """Errors of one batch, drawn in the order in which they are asked for.

    Parameters
    ----------
    random : numpy.random.Generator
        Where they come from.
    draws : int
        Number of draws.
    shared : mapping
        Food -> errors of its composition, for the foods that stand in several components of the batch.
    """

    def __init__(self, random: np.random.Generator, draws: int, shared: Mapping[Hashable, Array]) -> None:
        self.draws = draws
        self._random = random
        self._shared = shared

    def of(self, what: Hashable, width: int | None = None) -> Array:  # noqa: ARG002 - nothing is remembered
        """Errors drawn now."""
        shape = (self.draws,) if width is None else (self.draws, width)
        return self._random.standard_normal(shape, dtype=np.float32)

    def of_lines(self, lines: Sequence[Hashable]) -> Array:
        """Errors drawn now, one for each line."""
        return self.of(None, len(lines))

    def of_food(self, food: Hashable) -> Array | None:
        """The errors of a food of several components; those of other foods are drawn as one sum."""
        return self._shared.get(food)

    def picks(self, what: Hashable, probabilities: Sequence[float]) -> NDArray[np.intp]:  # noqa: ARG002
        """Choices drawn now."""
        return self._random.choice(len(probabilities), size=self.draws, p=probabilities)


class SharedErrors:
    """Errors remembered by what they are errors of: batches that have it in common err alike in every draw.

    Parameters
    ----------
    seed, draws : int
        Seed and size of the simulation.
    width : int
        Number of food components that are simulated.
    """

    def __init__(self, seed: int, draws: int, width: int) -> None:
        self.draws = draws
        self._random = np.random.default_rng(seed)
        self._width = width
        self._known: dict[tuple[Hashable, int | None], Array] = {}

    def of(self, what: Hashable, width: int | None = None) -> Array:
        """The errors of `what`, the same whenever they are asked for."""
        key = (what, width)
        if key not in self._known:
            shape = (self.draws,) if width is None else (self.draws, width)
            self._known[key] = self._random.standard_normal(shape, dtype=np.float32)
        return self._known[key]

    def of_lines(self, lines: Sequence[Hashable]) -> Array:
        """The errors of the lines, each remembered."""
        errors = [self.of(("mass", line)) for line in lines]
        return np.stack(errors, axis=1) if errors else np.zeros((self.draws, 0), dtype=np.float32)

    def of_food(self, food: Hashable) -> Array | None:
        """The errors of the composition of a food, remembered."""
        return self.of(("composition", food), self._width)

    def picks(self, what: Hashable, probabilities: Sequence[float]) -> NDArray[np.intp]:
        """Choices by remembered errors, so that the same line is the same food in every batch."""
        shares = np.cumsum(probabilities)
        # Normal errors turned into ranks: as many equally probable ones as there are draws.
        ranks = np.argsort(np.argsort(self.of(("pick", what)))) / self.draws
        return np.minimum(np.searchsorted(shares, ranks, side="right"), len(shares) - 1)
