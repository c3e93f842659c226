"""A second solver of heat conduction, independent of the first: finite volumes in space, implicit steps in time.

It shares nothing with the series: no eigenvalues, no products of directions, no rule about where the warmest point is.
Directions may be flat (0), round (1) or spherical (2); two of them together make a brick that is long in the third one,
or a cylinder of finite height.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy import sparse
from scipy.sparse.linalg import splu

Array = npt.NDArray[np.float64]

CELLS = 60
STEPS = 250


@dataclass(frozen=True, slots=True)
class Grid:
    """One direction: size in m, coefficients at its two ends in W/m2K, 0 for flat, 1 for round, 2 for spherical."""

    size_m: float
    first_w_m2k: float
    second_w_m2k: float
    roundness: int = 0


@dataclass(frozen=True, slots=True)
class Surround:
    """Temperature in C and seconds, with the grids as they then are."""

    air_c: float
    duration_s: float
    grids: tuple[Grid, ...]


def temperatures_c(
    conductivity_w_mk: float,
    heat_capacity_j_m3k: float,
    start_c: float,
    stages: Sequence[Surround],
    cells: int = CELLS,
    steps: int = STEPS,
) -> tuple[Array, Array]:
    """Temperatures of all cells at the end, C, and of the faces of the first direction at its second end.

    Crank-Nicolson in time, the first steps of each stage fully implicit, since its surface temperature jumps.
    """
    field: Array = np.full(cells ** len(stages[0].grids), start_c, dtype=np.float64)
    for stage in stages:
        matrices = [_conduction(grid, conductivity_w_mk, cells) for grid in stage.grids]
        if len(matrices) == 1:
            flow, exchange, volume = matrices[0]
        else:
            (flow_a, exchange_a, volume_a), (flow_b, exchange_b, volume_b) = matrices
            flow = sparse.kron(flow_a, sparse.diags(volume_b)) + sparse.kron(sparse.diags(volume_a), flow_b)
            exchange = np.kron(exchange_a, volume_b) + np.kron(volume_a, exchange_b)
            volume = np.asarray(np.kron(volume_a, volume_b), dtype=np.float64)
        capacity = sparse.diags(volume * heat_capacity_j_m3k)
        loss = flow + sparse.diags(exchange)
        step_s = stage.duration_s / steps
        half = splu((capacity + 0.5 * step_s * loss).tocsc())
        for number in range(steps):
            if number < 4:  # four quarter steps, fully implicit, damp the jump at the surface
                for _ in range(2):
                    field = _implicit(half, capacity, exchange, field, stage.air_c, 0.5 * step_s)
            else:
                known = capacity @ field - 0.5 * step_s * (loss @ field) + step_s * exchange * stage.air_c
                field = np.asarray(half.solve(known), dtype=np.float64)
    last = stages[-1]
    grid = last.grids[0]
    half_cell_m = 0.5 * grid.size_m / cells
    share = grid.second_w_m2k / (grid.second_w_m2k + conductivity_w_mk / half_cell_m)
    faces = field.reshape(cells, -1)[-1] * (1.0 - share) + share * last.air_c
    return field, faces


def _implicit(half: object, capacity: object, exchange: Array, field: Array, air_c: float, step_s: float) -> Array:
    """One fully implicit step: `half` holds the factors of capacity plus the losses of that step."""
    solved: Array = half.solve(capacity @ field + step_s * exchange * air_c)  # type: ignore[attr-defined, operator]
    return solved


def _conduction(grid: Grid, conductivity_w_mk: float, cells: int) -> tuple[sparse.csr_matrix, Array, Array]:
    """Conductances between cells, exchange of each cell with the air, volumes; per m2 or per angle."""
    edges = np.linspace(0.0, grid.size_m, cells + 1)
    areas = edges**grid.roundness
    volumes = np.diff(edges ** (grid.roundness + 1)) / (grid.roundness + 1)
    width = grid.size_m / cells
    inner = conductivity_w_mk * areas[1:-1] / width
    between = np.diag(inner, 1) + np.diag(inner, -1)
    flow = sparse.csr_matrix(np.diag(between.sum(axis=1)) - between)
    exchange = np.zeros(cells)
    for cell, area, h in ((0, areas[0], grid.first_w_m2k), (-1, areas[-1], grid.second_w_m2k)):
        if h > 0.0:
            exchange[cell] += area / (1.0 / h + 0.5 * width / conductivity_w_mk)
    return flow, exchange, volumes
