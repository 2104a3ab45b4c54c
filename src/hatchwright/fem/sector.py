"""Direct solver for a ring of sectors: dense blocks on the radial lines, walked round the opening.

Between two grid lines lie the middles of the ring sides; they are eliminated for all sectors at once. What
remains couples each line with the next and the last with the first; a block Cholesky walk with a border
factorizes it.
Method: docs/theory/fem.md, section 3.
"""

from __future__ import annotations

import itertools

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray
from scipy.linalg import LinAlgError
from scipy.linalg.blas import dsyrk, dtrsm
from scipy.linalg.lapack import dpotrf
from scipy.sparse import csc_array

from hatchwright.errors import SolveError
from hatchwright.fem.curve import Array

_LEAST_PIVOT = 1e-6
_AT_ONCE = 8

_Part = tuple[NDArray[np.intp], Array]
"""Columns that load a line, and their loads there, a dense block."""


class RingFactor(Struct, frozen=True, eq=False):
    """A factorized sheet, ready for right-hand sides.

    Args:
        middle_inverse: inverse stiffness of the middles of ring sides, shape (n_lines, b, b).
        to_middle: `middle_inverse` times their stiffness against the two lines, shape (n_lines, b, 2 B).
        triangles: lower Cholesky factors of the lines, each (B, B).
        links: factor rows from each line but the last to the next and to the last, each (B, 2 B).
    """

    middle_inverse: Array
    to_middle: Array
    triangles: list[Array]
    links: list[Array]

    def solve(self, loads: Array) -> Array:
        """Displacements under nodal loads for E t = 1; divide by E t for inches.

        Args:
            loads: one column a load case, in the order of the grid's places, as the answer, shape (places, 2, m) [lbf].
        """
        lines, cases = len(self.triangles), loads.shape[2]
        loads = loads.reshape(-1, 2 * lines, 2, cases)
        line_load = np.ascontiguousarray(loads[:, ::2].swapaxes(0, 1)).reshape(lines, -1, cases)
        middle_load = np.ascontiguousarray(loads[::2, 1::2].swapaxes(0, 1)).reshape(lines, -1, cases)
        block = line_load.shape[1]

        carried = self.to_middle.swapaxes(1, 2) @ middle_load
        line_load -= carried[:, :block]
        line_load -= np.roll(carried[:, block:], 1, axis=0)
        last = line_load[-1]
        for j, link in enumerate(self.links):
            _solve_triangle(self.triangles[j], line_load[j])
            passed = link.T @ line_load[j]
            if j < lines - 2:
                line_load[j + 1] -= passed[:block]
            last -= passed[-block:]
        _solve_triangle(self.triangles[-1], last)
        _solve_triangle(self.triangles[-1], last, transposed=True)
        for j in range(lines - 2, -1, -1):
            ahead = last if j == lines - 2 else np.concatenate([line_load[j + 1], last])
            line_load[j] -= self.links[j] @ ahead
            _solve_triangle(self.triangles[j], line_load[j], transposed=True)

        both = np.concatenate([line_load, np.roll(line_load, -1, axis=0)], axis=1)
        middle = self.middle_inverse @ middle_load - self.to_middle @ both
        moved = np.zeros_like(loads)
        moved[:, ::2] = line_load.reshape(lines, -1, 2, cases).swapaxes(0, 1)
        moved[::2, 1::2] = middle.reshape(lines, -1, 2, cases).swapaxes(0, 1)
        return moved.reshape(-1, 2, cases)

    def compliance(self, columns: csc_array) -> Array:
        """What each column of nodal loads does along each other: half a solution and its product with itself.

        A column is nought on every line before the first that it loads; nothing is held but the line that is walked.

        Args:
            columns: in the order of the grid's places, x and y in turn, shape (2 places, k) [lbf].
        Returns:
            Array: symmetric, shape (k, k) [lbf].
        Method: docs/theory/fem.md, section 3.
        """
        lines, block = len(self.triangles), len(self.triangles[0])
        on_lines, on_middles, order = _by_place(columns, lines, block // 2)
        total = np.zeros((len(order),) * 2)
        loads = [(used, values.copy()) for used, values in on_lines]
        carried: list[list[_Part]] = [[part] for part in loads]
        for j, (used, values) in enumerate(on_middles):
            if len(used):
                total[np.ix_(used, used)] += values.T @ self.middle_inverse[j] @ values
                both = -self.to_middle[j].T @ values
                carried[j].append((used, both[:block]))
                carried[(j + 1) % lines].append((used, both[block:]))
        last = np.zeros((block, len(order)))
        for used, values in carried[-1]:
            last[:, used] += values
        ahead, walked = np.zeros((block, 0)), list[Array]()
        for j in range(lines - 1):
            width = max([ahead.shape[1], *(int(used[-1]) + 1 for used, _ in carried[j] if len(used))])
            load = np.zeros((block, width))
            load[:, : ahead.shape[1]] = ahead
            for used, values in carried[j]:
                load[:, used] += values
            _solve_triangle(self.triangles[j], load)
            passed = self.links[j].T @ load
            last[:, :width] -= passed[-block:]
            ahead = -passed[:block] if j < lines - 2 else ahead
            walked.append(load)
            if len(walked) == _AT_ONCE:
                _add_square(total, walked)
        _solve_triangle(self.triangles[-1], last)
        _add_square(total, [*walked, last])
        whole = np.empty_like(total)
        whole[np.ix_(order, order)] = total
        return whole


def _by_place(columns: csc_array, lines: int, rows: int) -> tuple[list[_Part], list[_Part], NDArray[np.intp]]:
    """Nodal loads by line and by the middles behind it, the columns in the order in which a walk meets them.

    Returns:
        tuple: of each line and of each middle which columns it has, and their dense block; that order.
    """
    found = columns.tocoo()
    place, axis = np.divmod(found.row, 2)
    row, around = np.divmod(place, 2 * lines)
    line, is_middle = around // 2, around % 2 == 1
    # A load on the middles behind a line comes to that line and to the next, which for the last is the first.
    first = np.full(columns.shape[1], lines - 1)
    np.minimum.at(first, found.col, np.where(is_middle & (line == lines - 1), 0, line))
    order = np.argsort(first, kind="stable")
    rank = np.empty_like(order)
    rank[order] = np.arange(len(order))
    within = np.where(is_middle, row // 2, row) * 2 + axis
    parts = []
    for of_middle, size in ((False, 2 * rows), (True, 2 * (rows // 2 + 1))):
        chosen = is_middle == of_middle
        at, column, inside, value = line[chosen], rank[found.col[chosen]], within[chosen], found.data[chosen]
        by_line = np.argsort(at, kind="stable")
        ends = np.searchsorted(at[by_line], np.arange(lines + 1))
        own = []
        for start, end in itertools.pairwise(ends.tolist()):
            here = by_line[start:end]
            used, back = np.unique(column[here], return_inverse=True)
            block = np.zeros((size, len(used)))
            np.add.at(block, (inside[here], back), value[here])
            own.append((used, block))
        parts.append(own)
    return parts[0], parts[1], order


def factorize(element_stiffness: Array, springs: Array, *, where: str) -> RingFactor:
    """Factorize the stiffness of a ring of elements, for any number of load cases.

    Args:
        element_stiffness: shape (n_lines, n_layers, 16, 16), in the order of `Grid.elements`.
        springs: stiffness added on the grid lines so that the sheet cannot float, shape (n_lines, B).
        where: name of the sheet, for messages.
    Raises:
        SolveError: the stiffness is singular.
    """
    layers = element_stiffness.shape[1]
    block = 2 * (2 * layers + 1)
    full = _sector_stiffness(element_stiffness)
    try:
        middle_inverse = np.asarray(np.linalg.inv(full[:, 2 * block :, 2 * block :]), dtype=np.float64)
        to_middle = middle_inverse @ full[:, 2 * block :, : 2 * block]
        sector = full[:, : 2 * block, : 2 * block] - full[:, : 2 * block, 2 * block :] @ to_middle
        own = sector[:, :block, :block] + np.roll(sector[:, block:, block:], 1, axis=0)
        own[:, np.arange(block), np.arange(block)] += springs
        triangles, links = _walk(own, sector[:, :block, block:])
        pivots = np.array([triangle.diagonal() for triangle in triangles])
        if not pivots.min() > _LEAST_PIVOT * pivots.max():
            raise LinAlgError
    except LinAlgError as error:
        raise SolveError.saying("error.singular", where=where) from error
    return RingFactor(middle_inverse, to_middle, triangles, links)


def _sector_stiffness(element_stiffness: Array) -> Array:
    """Stiffness of each sector: unknowns of its first line, of its second, then of the middles between."""
    lines, layers = element_stiffness.shape[:2]
    rows = 2 * layers + 1
    node = np.arange(layers)
    first, second, middle = 2 * node, rows + 2 * node, 2 * rows + node
    places = np.stack(
        [first, first + 2, second + 2, second, first + 1, middle + 1, second + 1, middle], axis=1
    )
    unknowns = (2 * places[..., None] + np.arange(2)).reshape(layers, 16)
    size = 2 * (2 * rows + layers + 1)
    full = np.zeros((lines, size, size))
    for layer, own in enumerate(unknowns):
        full[:, own[:, None], own] += element_stiffness[:, layer]
    return full


def _add_square(total: Array, walked: list[Array]) -> None:
    """Add the product of some lines' loads with themselves, and forget them."""
    width = max(load.shape[1] for load in walked)
    stack = np.zeros((sum(len(load) for load in walked), width))
    start = 0
    for load in walked:
        stack[start : start + len(load), : load.shape[1]] = load
        start += len(load)
    total[:width, :width] += stack.T @ stack
    walked.clear()


def _walk(own: Array, to_next: Array) -> tuple[list[Array], list[Array]]:
    """Cholesky factor of the ring: `own` couples each line with itself, `to_next` with the following one."""
    lines, block = own.shape[:2]
    triangles, links = [], []
    to_last = to_next[-1].T
    for j in range(lines - 1):
        triangle = _cholesky(own[j])
        final = j == lines - 2
        link = np.asfortranarray(
            to_next[j] + to_last if final else np.concatenate([to_next[j], to_last], axis=1)
        )
        link = dtrsm(1.0, triangle, link, lower=1, overwrite_b=1)
        taken = dsyrk(1.0, link, trans=1, lower=1)
        if not final:
            own[j + 1] -= taken[:block, :block]
            to_last = -taken[block:, :block].T
        own[-1] -= taken[-block:, -block:]
        triangles.append(triangle)
        links.append(link)
    triangles.append(_cholesky(own[-1]))
    return triangles, links


def _cholesky(matrix: Array) -> Array:
    """Lower Cholesky factor; only the lower half of the matrix is read."""
    triangle: Array
    triangle, fault = dpotrf(np.asfortranarray(matrix), lower=1, clean=1)
    if fault:
        raise LinAlgError
    return triangle


def _solve_triangle(triangle: Array, load: Array, *, transposed: bool = False) -> None:
    """Solve in place with a lower factor or its transpose; `load` has shape (B, m), rows contiguous."""
    dtrsm(1.0, triangle, load.T, side=1, lower=1, trans_a=0 if transposed else 1, overwrite_b=1)
