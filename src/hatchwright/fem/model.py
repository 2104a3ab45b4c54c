"""What is analyzed: flat sheets laid on each other and the fasteners that join them."""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from hatchwright.fem.curve import Array
from hatchwright.shapes.outlines import circle
from hatchwright.shapes.profile import Loop

_WIDE_RATIO = 100.0


class Sheet(Struct, frozen=True):
    """A flat sheet with one opening or none.

    Args:
        compression_modulus_psi: by which it bends as it buckles; None for its modulus [psi].
    """

    name: str
    outer: Loop
    inner: Loop | None
    thickness_in: float
    modulus_psi: float
    poisson_ratio: float = 0.33
    compression_modulus_psi: float | None = None

    @property
    def membrane_lbf_in(self) -> float:
        """Modulus times thickness [lbf/in]."""
        return self.modulus_psi * self.thickness_in

    @property
    def stretch_in_bending_lbf_in(self) -> float:
        """Modulus in compression times thickness [lbf/in]."""
        return (self.compression_modulus_psi or self.modulus_psi) * self.thickness_in

    @property
    def bending_lbf_in(self) -> float:
        """Bending stiffness of the sheet by itself, E t^3 / 12 (1 - nu^2) [lbf in]."""
        return self.stretch_in_bending_lbf_in * self.thickness_in**2 / 12.0 / (1.0 - self.poisson_ratio**2)


class Fastener(Struct, frozen=True):
    """A rivet, bolt or screw through two sheets, in single shear.

    Args:
        diameter_in: of the shank, or of the hole of a driven rivet [in].
        modulus_psi: of the shank [psi].
        joins: names of the two sheets.
        kind: "rivet" or "bolt" (a screw is a bolt).
        flexibility_in_per_lbf: sliding of one sheet on the other for each lbf, when it is known [in/lbf].
    """

    name: str
    x_in: float
    y_in: float
    diameter_in: float
    modulus_psi: float
    joins: tuple[str, str]
    kind: str = "rivet"
    flexibility_in_per_lbf: float | None = None


class OpeningModel(Struct, frozen=True):
    """An opening in a loaded sheet, with what is fastened round it.

    Args:
        skin: the sheet that carries the loads at its outer edge.
        doublers: sheets fastened to it, or to each other.
        cover: the sheet that closes the opening, if any.
        cover_carries: whether the cover takes part; screws in clearance holes do not carry.
    """

    skin: Sheet
    doublers: tuple[Sheet, ...] = ()
    fasteners: tuple[Fastener, ...] = ()
    cover: Sheet | None = None
    cover_carries: bool = False

    @property
    def sheets(self) -> tuple[Sheet, ...]:
        """The sheets that take part, the loaded one first."""
        cover = (self.cover,) if self.cover and self.cover_carries else ()
        return (self.skin, *self.doublers, *cover)

    @property
    def centers(self) -> Array:
        """Places of all fasteners, shape (m, 2) [in]."""
        return np.array([(f.x_in, f.y_in) for f in self.fasteners]).reshape(-1, 2)

    @property
    def working(self) -> NDArray[np.intp]:
        """Numbers of the fasteners that take part."""
        idle = {self.cover.name} if self.cover and not self.cover_carries else set()
        return np.array([k for k, f in enumerate(self.fasteners) if not idle & set(f.joins)], dtype=np.intp)

    def holds(self, sheet: Sheet) -> NDArray[np.intp]:
        """Numbers of the working fasteners that go through a sheet."""
        return np.array([k for k in self.working if sheet.name in self.fasteners[k].joins], dtype=np.intp)


def wide_panel(opening: Loop) -> Loop:
    """An outer edge so far away that it no longer matters: a circle a hundred times the size of the opening."""
    x_low, y_low, x_high, y_high = opening.bounds
    size = _WIDE_RATIO * max(x_high - x_low, y_high - y_low)
    return circle(diameter_in=size, center=((x_low + x_high) / 2, (y_low + y_high) / 2))
