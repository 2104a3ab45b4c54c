"""Outlines as measured on the part: each edge and each corner for itself."""

from typing import Annotated, Literal

from pydantic import Field

from hatchwright.errors import GeometryError
from hatchwright.job.entry import Coordinate, Entered, NotNegative, SameAs, Uncertainty
from hatchwright.job.outline import Circle, DShape, DxfLoop, FiledEdges, Obround, Polygon, RoundedRectangle
from hatchwright.job.side_uncertainty import SideUncertainty
from hatchwright.said import inch
from hatchwright.shapes import outlines
from hatchwright.shapes.profile import Loop
from hatchwright.units import Length


class MeasuredEdges(FiledEdges):
    """A rectangle given by its four measured edges, the radius of its corners, and each corner that has another.

    The corners count from that at the lowest X and Y toward the highest X, and on round.
    """

    radius_1: NotNegative | None = None
    radius_2: NotNegative | None = None
    radius_3: NotNegative | None = None
    radius_4: NotNegative | None = None
    uncertainty: Uncertainty | None = None
    x_from_u: Uncertainty | None = None
    x_to_u: Uncertainty | None = None
    y_from_u: Uncertainty | None = None
    y_to_u: Uncertainty | None = None
    radius_1_u: Uncertainty | None = None
    radius_2_u: Uncertainty | None = None
    radius_3_u: Uncertainty | None = None
    radius_4_u: Uncertainty | None = None

    def own_u(self, common_in: float) -> SideUncertainty:
        """Of each side and corner: its own where it names one, else that of the outline, else the common one.

        Args:
            common_in: of all that was measured [in].
        """
        return _own_u(self, common_in)

    @property
    def radii_in(self) -> tuple[float, float, float, float]:
        """Of the four corners in their order [in]."""
        own = (self.radius_1, self.radius_2, self.radius_3, self.radius_4)
        one, two, three, four = ((self.radius if radius is None else radius).inch for radius in own)
        return one, two, three, four

    def loop(self, center_in: tuple[float, float]) -> Loop:
        """The closed loop [in]; the edges carry their own place, so the center is not used."""
        radii_in = self.radii_in
        if set(radii_in) == {self.radius.inch}:
            return super().loop(center_in)
        left, right, low, high = (at.inch for at in (self.x_from, self.x_to, self.y_from, self.y_to))
        _refuse_crossed(left, right, low, high)
        sides_in = (right - left, high - low, right - left, high - low)
        for at, side_in in enumerate(sides_in):
            further = (at + 1) % 4
            if radii_in[at] + radii_in[further] > side_in:
                worse = max(at, further, key=radii_in.__getitem__)
                most = inch(side_in - min(radii_in[at], radii_in[further]))
                raise GeometryError.saying(
                    "error.radius_large",
                    where=f"radius_{worse + 1}",
                    radius=inch(radii_in[worse]),
                    most=most,
                )
        corners = [(left, low), (right, low), (right, high), (left, high)]
        return outlines.polygon(corners, list(radii_in))


class RoundEnds(Entered, defer_build=False):
    """A round outline, or one with round ends, given by its four measured extremes."""

    shape: Literal["round ends"]
    x_from: Coordinate
    x_to: Coordinate
    y_from: Coordinate
    y_to: Coordinate
    uncertainty: Uncertainty | None = None
    x_from_u: Annotated[Uncertainty | None, SameAs(MeasuredEdges, "x_from_u")] = None
    x_to_u: Annotated[Uncertainty | None, SameAs(MeasuredEdges, "x_to_u")] = None
    y_from_u: Annotated[Uncertainty | None, SameAs(MeasuredEdges, "y_from_u")] = None
    y_to_u: Annotated[Uncertainty | None, SameAs(MeasuredEdges, "y_to_u")] = None

    def own_u(self, common_in: float) -> SideUncertainty:
        """Of each extreme; see `MeasuredEdges.own_u`."""
        return _own_u(self, common_in)

    def loop(self, center_in: tuple[float, float]) -> Loop:
        """The closed loop [in]; the extremes carry their own place, so the center is not used."""
        left, right, low, high = (at.inch for at in (self.x_from, self.x_to, self.y_from, self.y_to))
        _refuse_crossed(left, right, low, high)
        width_in, height_in = right - left, high - low
        return outlines.obround(
            length_in=max(width_in, height_in),
            width_in=min(width_in, height_in),
            center=((left + right) / 2.0, (low + high) / 2.0),
            angle_deg=0.0 if width_in >= height_in else 90.0,
        )


def _own_u(outline: MeasuredEdges | RoundEnds, common_in: float) -> SideUncertainty:
    rest_in = common_in if outline.uncertainty is None else outline.uncertainty.inch
    names = ("x_from_u", "x_to_u", "y_from_u", "y_to_u", *(f"radius_{k}_u" for k in range(1, 5)))
    typed: list[Length | None] = [getattr(outline, name, None) for name in names]
    x_from, x_to, y_from, y_to, one, two, three, four = (
        rest_in if own is None else own.inch for own in typed
    )
    left, right, low, high, *radii = (own is not None for own in typed)
    own_sides, own_corners = (left, right, low, high), (radii[0], radii[1], radii[2], radii[3])
    return SideUncertainty((x_from, x_to, y_from, y_to), (one, two, three, four), own_sides, own_corners)


def _refuse_crossed(left: float, right: float, low: float, high: float) -> None:
    if right <= left or high <= low:
        raise GeometryError.saying("job.edges_crossed")


MadeOutline = Annotated[
    MeasuredEdges | RoundEnds | RoundedRectangle | Circle | Obround | DShape | Polygon | DxfLoop,
    Field(discriminator="shape"),
]
