"""Buckling of a rectangular sheet without an opening, on simple supports and under even loads: by double sine waves.

Method: docs/theory/fem.md, section 7.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from scipy.linalg import eigh

from hatchwright.errors import SolveError
from hatchwright.fem.curve import Array
from hatchwright.fem.model import Sheet

_WAVES = (8, 12, 18, 27)
"""Half waves across the short side, one size after the other; along the long side two more for each width."""

_SETTLED = 1e-3
"""A further size is not worth its time once the last one changed the factor by less."""


class WholePlate(Struct, frozen=True):
    """A rectangle along the axes.

    Args:
        size_in: along x and along y [in].
        bending_lbf_in: bending stiffness, E t^3 / 12 (1 - nu^2) [lbf in].
    """

    size_in: tuple[float, float]
    bending_lbf_in: float

    def factor(self, load_lbf_in: Array) -> tuple[float, float]:
        """How many times a load Nx, Ny, q of shape (3,), tension positive, buckles the plate [lbf/in].

        Returns:
            tuple: the factor, never too low and infinite where that load cannot buckle it; and by how much the last
                size still changed it, which is more than what further ones would [-].
        """
        nx, ny, q = (float(one) for one in load_lbf_in)
        if min(nx, ny) >= 0.0 and q**2 <= nx * ny:
            return np.inf, 0.0
        factor, change = np.inf, 1.0
        for waves in _WAVES:
            coarser, factor = factor, self._with(waves, nx, ny, q)
            change = 1.0 - factor / coarser if np.isfinite(coarser) else 1.0
            if change < _SETTLED:
                break
        return (factor, change) if np.isfinite(factor) else (np.inf, 0.0)

    def _with(self, waves: int, nx: float, ny: float, q: float) -> float:
        """The factor with so many half waves across the short side; those whose sum is odd and even stay apart."""
        x, y = (np.arange(1, count + 1) for count in self._counts(waves))
        m, n = (each.ravel().astype(float) for each in np.meshgrid(x, y, indexing="ij"))
        even = (m + n) % 2 == 0
        greatest = max(self._greatest(m[one], n[one], nx, ny, q) for one in (even, ~even))
        return 1.0 / greatest if greatest > 0.0 else np.inf

    def _counts(self, waves: int) -> tuple[int, int]:
        """Half waves along x and along y."""
        short_in = min(self.size_in)
        along_x, along_y = (waves + 2 * round(size_in / short_in - 1.0) for size_in in self.size_in)
        return along_x, along_y

    def _greatest(self, m: Array, n: Array, nx: float, ny: float, q: float) -> float:
        """Greatest value of the load's work over the work of bending; 0 where no wave gives way."""
        width_in, height_in = self.size_in
        p, r = (np.pi * m / width_in) ** 2, (np.pi * n / height_in) ** 2
        quarter = width_in * height_in / 4.0
        stiff = self.bending_lbf_in * quarter * (p + r) ** 2
        work = np.diag(-quarter * (nx * p + ny * r))
        if q:
            work -= 2.0 * q * _twist(m, n)
        scale = 1.0 / np.sqrt(stiff)
        last = len(m) - 1
        value = eigh(scale[:, None] * work * scale, eigvals_only=True, subset_by_index=[last, last])[0]
        return max(float(value), 0.0)


def _twist(m: Array, n: Array) -> Array:
    """Integral of w,x w,y for each pair of waves, nought unless both differ by odd numbers."""
    odd = ((m[:, None] + m) % 2 == 1) & ((n[:, None] + n) % 2 == 1)
    apart = (m**2 - m[:, None] ** 2) * (n[:, None] ** 2 - n**2)
    return np.divide(4.0 * np.outer(m * n, m * n), apart, out=np.zeros_like(apart), where=odd)


def whole_plate(skin: Sheet) -> WholePlate:
    """A sheet as it was without its opening; only its outer edge counts.

    Raises:
        SolveError: that is no rectangle along the axes.
    """
    rows = skin.outer.cleaned().rows
    x_min, y_min, x_max, y_max = skin.outer.bounds
    size_in = x_max - x_min, y_max - y_min
    if (
        rows[:, 2].any()
        or len(rows) != 4
        or abs(skin.outer.area_sq_in) < (1 - 1e-9) * size_in[0] * size_in[1]
    ):
        raise SolveError.saying("error.no_rectangle", where=f"{skin.name}.outer")
    return WholePlate(size_in, skin.bending_lbf_in)
