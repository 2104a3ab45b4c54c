"""Buckling of a strip of skin whose one long edge is free, as the edge of an opening is."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.polynomial import legendre
from numpy.typing import NDArray
from scipy.linalg import eigh

from hatchwright.ground import Ground
from hatchwright.said import said
from hatchwright.strength.worked import Worked, inputs, work_out
from hatchwright.workings import Source

Array = NDArray[np.float64]

_FREE_EDGE = Ground(Source("ELASTICITY", "energy method, one long edge free"))
_SIZES = ((6, 4), (10, 6))
"""Half waves along the strip, four more for each width, and terms across it; of the first size and of the second."""


def free_edge_coefficient(
    *, length_in: float, width_in: float, poisson_ratio: float, shear_ratio: float = 0.0
) -> Worked:
    """Buckling coefficient of a plate on simple supports along three edges, its fourth, along the load, free.

    Args:
        length_in: side along the load [in].
        width_in: side across the load [in].
        shear_ratio: shear over compression, which grow together; even over the plate [-].
    Returns:
        Worked: K of the compression, on the width, less what the last size of the sum changed [-].
    Method: docs/theory/stability.md, eq. 5.

    >>> round(free_edge_coefficient(length_in=30.0, width_in=1.0, poisson_ratio=0.3).value, 3)
    0.426
    """
    first, last = (_lowest(length_in / width_in, poisson_ratio, abs(shear_ratio), size) for size in (0, 1))
    return work_out(
        last * last / first,
        "K = K(L/w, nu, q/N), one long edge free",
        *inputs("in", L=length_in, w=width_in),
        *inputs("", nu=poisson_ratio, q_over_N=abs(shear_ratio)),
        by=_FREE_EDGE,
        note=said("working.free_edge"),
    )


@lru_cache(maxsize=256)
def _lowest(ratio: float, nu: float, shear: float, size: int) -> float:
    """K of a plate of width 1, from above: sin(m pi x / L) times y P(2 y - 1)."""
    extra, terms = _SIZES[size]
    waves = np.arange(1, extra + 4 * int(np.ceil(ratio)) + 1) if shear else np.arange(1, extra + 1)
    held, slope, bend = _across(terms)
    weight = _gauss(terms)[1]

    def over(one: Array, other: Array) -> Array:
        return np.asarray((one * weight) @ other.T)

    a = waves * np.pi / ratio
    stiff = np.zeros((len(a), terms, len(a), terms))
    work = np.zeros_like(stiff)
    mixed = over(held, bend)
    at = np.arange(len(a))
    stiff[at, :, at, :] = (ratio / 2) * (
        np.multiply.outer(a**4, over(held, held))
        + over(bend, bend)
        + np.multiply.outer(a**2, 2 * (1 - nu) * over(slope, slope) - nu * (mixed + mixed.T))
    )
    work[at, :, at, :] = (ratio / 2) * np.multiply.outer(a**2, over(held, held))
    if shear:
        m, r = waves[:, None].astype(float), waves.astype(float)
        odd = (m + r) % 2 == 1
        along = np.divide(2 * m * r, r**2 - m**2, out=np.zeros(odd.shape), where=odd)
        twist = shear * np.einsum("mr,ij->mirj", along, over(held, slope))
        work -= twist + twist.transpose(2, 3, 0, 1)
    count = len(a) * terms
    greatest = eigh(
        work.reshape(count, count),
        stiff.reshape(count, count),
        eigvals_only=True,
        subset_by_index=[count - 1, count - 1],
    )[0]
    return 1.0 / float(greatest) / np.pi**2


def _gauss(terms: int) -> tuple[Array, Array]:
    at, weight = legendre.leggauss(terms + 2)
    return (at + 1) / 2, weight / 2


def _across(terms: int) -> tuple[Array, Array, Array]:
    """Shapes across the strip, nought at y = 0, with both derivatives, each of shape (terms, gauss points)."""
    y = _gauss(terms)[0]
    found = []
    for order in range(terms):
        plain = legendre.Legendre.basis(order, domain=[0.0, 1.0])
        first, second = plain.deriv(1), plain.deriv(2)
        found.append((y * plain(y), plain(y) + y * first(y), 2 * first(y) + y * second(y)))
    held, slope, bend = np.array(found).transpose(1, 0, 2)
    return held, slope, bend
