"""A skin curved one way: what flat templates and flat-drilled sheets do on it, and the patterns that allow for it.

Lengths along the curve are taken on the skin's outer face, of radius R; X and Y of a job are such lengths.
Method: docs/theory/curved.md.
"""

from __future__ import annotations

import math
from typing import Literal

from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.job.skin import Curvature
from hatchwright.said import inch, said
from hatchwright.units import Unit

Face = Literal["inside", "outside"]
"""Of the skin, on which a sheet is laid after it is rolled."""

STRAIGHT_IN = 1.0 / 64.0
"""A gap under the straightedge that is no curvature [in]. Common practice, no source."""


class CurvedSkin(Struct, frozen=True):
    """A skin curved along one axis.

    Args:
        along: "x" or "y", the axis that is curved.
        radius_in: of its outer face [in].
        thickness_in: of the skin [in].
        unit: that a refusal tells lengths in.
    """

    along: Literal["x", "y"]
    radius_in: float
    thickness_in: float
    unit: Unit = "in"

    @property
    def axis(self) -> int:
        """0 when X is curved, 1 when Y is."""
        return 0 if self.along == "x" else 1

    def rigid_error_in(self, arc_in: float) -> float:
        """How much nearer a rigid flat template that touches at the middle puts a mark, at a length along the arc [in].

        Method: docs/theory/curved.md, eq. 2: s - R sin(s/R).
        """
        return arc_in - self.radius_in * math.sin(self._angle(arc_in))

    def stand_off_in(self, arc_in: float) -> float:
        """How far a rigid flat template stands off there, R (1 - cos(s/R)) [in]."""
        return self.radius_in * (1.0 - math.cos(self._angle(arc_in)))

    def gap_under_flat_in(self, half_width_in: float) -> float:
        """Gap under the edge of a flat base that touches at its middle, R - sqrt(R^2 - a^2) [in]."""
        if half_width_in >= self.radius_in:
            raise GeometryError(said("error.flat_wide"), where="mount.base")
        return self.radius_in - math.sqrt(self.radius_in**2 - half_width_in**2)

    def flexed_shrink_in(self, length_in: float, *, template_in: float) -> float:
        """How much shorter a pattern gets on the skin when its flat template is flexed over the outer face [in].

        Method: docs/theory/curved.md, eq. 4: L T / (2 R + T), positive.
        """
        return length_in * template_in / (2.0 * self.radius_in + template_in)

    def fan_in(self, *, guide_in: float, cut_in: float, template_in: float, kind: str) -> float:
        """Farthest that the cut goes beyond its line because a flexed template's edge stands open like a fan [in].

        Args:
            cut_in: width of the cut [in].
            kind: "female", guided inside a window, or "male", round a plug.
        Returns:
            float: at the worst height of the guide, the tool held square to the skin [in].
        Raises:
            GeometryError: the guide or the cut is wider than the skin is round.
        Method: docs/theory/curved.md, eq. 10 to 12.
        """
        radius_in, guide, cut = self.radius_in, guide_in / 2.0, cut_in / 2.0
        if max(guide, cut) >= radius_in:
            raise GeometryError(said("error.guide_wide"), where="cutter.guide")
        cut_arc_in = radius_in * math.asin(cut / radius_in)
        if kind == "female":
            return (guide - cut) - (radius_in * math.asin(guide / (radius_in + template_in)) - cut_arc_in)
        return radius_in * math.asin(guide / radius_in) + cut_arc_in - (guide + cut)

    def flat_drilled_growth_in(self, length_in: float, *, sheet_in: float, face: Face) -> float:
        """How much longer a pattern of lengths along the outer face comes out when it is drilled in a flat sheet [in].

        Args:
            length_in: of the pattern, along the outer face [in].
        Returns:
            float: along the outer face, L R/R_m - L; positive inside, where the sheet's holes come too far out;
                negative outside [in].
        Raises:
            GeometryError: the sheet is thicker than the radius allows.
        Method: docs/theory/curved.md, eq. 9.
        """
        return length_in * (1.0 / self.flat_place_ratio(sheet_in=sheet_in, face=face) - 1.0)

    def both_flat_growth_in(self, length_in: float, *, sheet_in: float, face: Face) -> float:
        """How much longer a pattern comes out in a sheet than in the skin when both are drilled flat and rolled [in].

        Args:
            length_in: of the pattern in both flat sheets [in].
        Returns:
            float: positive inside, where the sheet's holes come too far out; negative outside [in].
        Method: docs/theory/curved.md, eq. 5.
        """
        middle_in = self.radius_in - self.thickness_in / 2.0
        apart_in = (self.thickness_in + sheet_in) / 2.0
        return length_in * apart_in / middle_in * (1.0 if face == "inside" else -1.0)

    def roll_radii_in(self, *, sheet_in: float, face: Face) -> tuple[float, float]:
        """Radii of the outer and the inner face of a sheet that lies on the skin [in].

        Raises:
            GeometryError: the sheet is thicker than the radius allows.
        """
        outer_in = self.radius_in - self.thickness_in if face == "inside" else self.radius_in + sheet_in
        if outer_in <= sheet_in:
            raise GeometryError(said("error.no_roll"), where="skin.curvature.rise")
        return outer_in, outer_in - sheet_in

    def flexed_pattern_ratio(self, *, template_in: float) -> float:
        """Stretch for the pattern of a template that is made flat and flexed over the outer face, (R + T/2)/R [-]."""
        return (self.radius_in + template_in / 2.0) / self.radius_in

    def flat_place_ratio(self, *, sheet_in: float, face: Face) -> float:
        """Stretch for places told along the outer face of the skin, for a sheet drilled flat and rolled later [-].

        Method: docs/theory/curved.md, eq. 8.
        """
        return sum(self.roll_radii_in(sheet_in=sheet_in, face=face)) / 2.0 / self.radius_in

    def _angle(self, arc_in: float) -> float:
        angle = abs(arc_in) / self.radius_in
        if angle > math.pi / 2.0:
            raise GeometryError.saying(
                "error.quarter",
                where="skin.curvature",
                unit=self.unit,
                arc=inch(arc_in),
                radius=inch(self.radius_in),
            )
        return angle


def radius_from_chord_in(*, chord_in: float, rise_in: float, unit: Unit = "in") -> float:
    """Radius of an arc from a straightedge laid across it.

    Args:
        chord_in: length of the straightedge [in].
        rise_in: gap at its middle [in].
        unit: that a refusal tells lengths in.
    Raises:
        GeometryError: the rise is nothing, or more than half the chord.
    Method: docs/theory/curved.md, eq. 1: R = c^2/(8 h) + h/2.

    >>> round(radius_from_chord_in(chord_in=8.0, rise_in=0.583), 2)
    14.01
    """
    if not 0.0 < rise_in <= chord_in / 2.0:
        raise GeometryError.saying(
            "error.no_arc", where="skin.curvature.rise", unit=unit, rise=inch(rise_in), chord=inch(chord_in)
        )
    return chord_in**2 / (8.0 * rise_in) + rise_in / 2.0


def curved_skin(curvature: Curvature, *, thickness_in: float, unit: Unit) -> CurvedSkin:
    """The curved skin of a job.

    Raises:
        GeometryError: the skin is curved both ways, or the rise is no rise of an arc.
    """
    other = curvature.other_rise
    if other is not None and other.inch > STRAIGHT_IN:
        other_in = radius_from_chord_in(chord_in=curvature.chord.inch, rise_in=other.inch, unit=unit)
        raise GeometryError.saying(
            "error.double", where="skin.curvature.other_rise", unit=unit, radius=inch(other_in)
        )
    return CurvedSkin(
        along=curvature.along,
        radius_in=radius_from_chord_in(chord_in=curvature.chord.inch, rise_in=curvature.rise.inch, unit=unit),
        thickness_in=thickness_in,
        unit=unit,
    )
