"""What metal, paper and glass look like close by: grain, scratches, dust, glints of a burr; and the blur of optics."""

from __future__ import annotations

import numpy as np

from tests.scans.setup import Setup
from tests.scans.shapes import Values


def blurred(light: Values, sigma_px: float) -> Values:
    """A picture through optics that spread each place as a bell curve."""
    reach = int(np.ceil(3.5 * sigma_px))
    weights = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sigma_px) ** 2)
    weights = (weights / weights.sum()).astype(np.float32)
    for axis in (0, 1):
        wide = np.pad(light, [(reach, reach) if each == axis else (0, 0) for each in (0, 1)], mode="edge")
        length = light.shape[axis]
        parts = [wide[i : i + length] if axis == 0 else wide[:, i : i + length] for i in range(len(weights))]
        light = weights[0] * parts[0]
        for weight, part in zip(weights[1:], parts[1:], strict=True):
            light += weight * part
    return light


def _flecks(size: tuple[int, int], rng: np.random.Generator, length: int) -> Values:
    """Noise of one standard deviation that runs on for some pixels along the lines."""
    coarse = rng.standard_normal((size[0], -(-size[1] // length)), dtype=np.float32)
    return coarse.repeat(length, 1)[:, : size[1]]


def grained(size: tuple[int, int], setup: Setup, rng: np.random.Generator) -> Values:
    """Rolled sheet: streaks along the lines or across them, and finer grain."""
    along = bool(rng.integers(2))
    streaks = _flecks(size, rng, 12) if along else _flecks(size[::-1], rng, 12).T
    return setup.metal * (1.0 + setup.grain * (0.8 * streaks + 0.5 * _flecks(size, rng, 1)))


def paper_grained(size: tuple[int, int], setup: Setup, rng: np.random.Generator) -> Values:
    """White matt paper."""
    return setup.paper * (1.0 + 0.01 * _flecks(size, rng, 2))


def scratched(light: Values, setup: Setup, rng: np.random.Generator) -> Values:
    """Fine scratches, brighter or darker."""
    rows, columns = light.shape
    for _ in range(setup.scratches):
        length, angle = rng.uniform(0.2, 2.0) * setup.dpi, rng.uniform(0.0, 2.0 * np.pi)
        way = np.arange(0.0, length, 0.5)
        row = (rng.uniform(0, rows) + np.sin(angle) * way).astype(int)
        column = (rng.uniform(0, columns) + np.cos(angle) * way).astype(int)
        seen = (row >= 0) & (row < rows) & (column >= 0) & (column < columns)
        light[row[seen], column[seen]] *= rng.choice([0.7, 1.3])
    return light


def dusty(light: Values, setup: Setup, rng: np.random.Generator) -> Values:
    """Specks on the glass, gray wherever they lie."""
    rows, columns = light.shape
    for _ in range(setup.dust):
        _speck(
            light, rng.uniform(0, rows), rng.uniform(0, columns), rng.uniform(0.001, 0.004) * setup.dpi, 0.35
        )
    return light


def glinting(light: Values, face: Values, setup: Setup, rng: np.random.Generator) -> Values:
    """Bright spots of a burr along the edges, up to .008 across, inside or outside of them."""
    rows, columns = np.nonzero((face > 0.2) & (face < 0.8))
    for at in rng.integers(0, max(len(rows), 1), setup.glints if len(rows) else 0):
        off = rng.normal(0.0, 0.002 * setup.dpi, 2)
        radius = rng.uniform(0.0005, 0.004) * setup.dpi
        _speck(light, rows[at] + off[0], columns[at] + off[1], radius, rng.uniform(0.7, 1.0))
    return light


def _speck(light: Values, row: float, column: float, radius: float, value: float) -> None:
    """Lay a round speck over what is there."""
    far = int(radius) + 2
    top, left = max(int(row) - far, 0), max(int(column) - far, 0)
    part = light[top : int(row) + far + 1, left : int(column) + far + 1]
    there_row, there_column = np.indices(part.shape)
    away = np.hypot(there_row + top - row, there_column + left - column)
    # a speck smaller than a pixel covers part of one only
    cover = np.clip(radius + 0.5 - away, 0.0, 1.0) * min(1.0, 2.0 * radius)
    part += (value - part) * cover.astype(np.float32)
