"""A lap joint one rivet wide that repeats for ever sideways: two tubes of sheet, unrolled.

The ring of the sector solver closes on itself sideways, so a strip whose last line is its first, one width on, is one
column of an endless lap: its sides stay straight, and the sheet is as stiff as E / (1 - nu^2).
"""

from __future__ import annotations

import numpy as np

from hatchwright.fem.grid import Grid
from hatchwright.fem.patch import patch_means
from hatchwright.fem.sheet import CASES, give


class Tube(Grid, frozen=True, eq=False):
    """A grid whose lines repeat after a width."""

    width: float = 0.0

    def elements(self):
        """Positions of the nodes of each element; those beyond the last line lie one width on."""
        own = Grid.elements(self)
        own[-1, :, [2, 3, 6], 1] += self.width
        return own


def tube(*, length, width, size):
    """A strip from x = 0 to `length`, lines across y."""
    along, across = int(np.ceil(length / size)), int(np.ceil(width / size))
    x = np.linspace(length, 0.0, 2 * along + 1)
    y = np.arange(2 * across) * width / (2 * across)
    return Tube(np.stack(np.meshgrid(x, -y, indexing="ij"), axis=-1), (0, 2 * along), -width)


def end_load(grid, row, total):
    """An even pull along x on one end."""
    loads = np.zeros((*grid.nodes.shape, CASES))
    lines = grid.lines
    loads[row, ::2, 0, 0], loads[row, 1::2, 0, 0] = total / lines / 3, 2 * total / lines / 3
    return loads.reshape(-1, 2, CASES)


def lap_shares(*, rows, pitch, width, thickness, modulus, poisson_ratio, flexibility, patch):
    """Share of each row when sheet 1, held at x = 0, is pulled by sheet 2 at its far end."""
    free = 3.0 * width
    place = free + pitch * np.arange(rows)
    centers = np.stack([place, np.full(rows, -width / 2)], axis=1)
    length = 2 * free + pitch * (rows - 1)
    grid = tube(length=length, width=width, size=width / 14)
    means = patch_means(grid, centers, np.full(rows, patch / 2))
    # sheet 1 is pulled back at x = 0 (last row of its grid), sheet 2 forward at its far end (first row)
    pulls = end_load(grid, -1, -1.0), end_load(grid, 0, 1.0)
    sheets = [give(grid, means, poisson_ratio=poisson_ratio, loads=pull, where="lap") for pull in pulls]
    matrix, right = np.zeros((rows + 1, rows + 1)), np.zeros(rows + 1)
    matrix[:rows, :rows] = flexibility * np.eye(rows)
    for sheet, sign, gauge in zip(sheets, (1.0, -1.0), thickness, strict=True):
        stiff = modulus * gauge
        matrix[:rows, :rows] += sheet.at_fasteners[::2, CASES::2] / stiff
        right[:rows] -= sign * sheet.at_fasteners[::2, 0] / stiff
    # unknown: forces of the rows on sheet 1 (and back on sheet 2), and how far sheet 2 has slid as a whole
    matrix[:rows, rows] = matrix[rows, :rows] = -1.0
    right[rows] = -1.0
    return np.linalg.solve(matrix, right)[:rows]
