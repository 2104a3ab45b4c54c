"""The site survey: what was measured at the aircraft before anything was drawn, as it was read off tape and gauge."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from hatchwright.job.bay import Flange, LandmarkRow, Region
from hatchwright.job.bracketed import Bracketed, in_brackets
from hatchwright.job.entry import (
    Coordinate,
    Diameter,
    Entered,
    NotNegative,
    Point,
    Positive,
    Thickness,
    Uncertainty,
    WrittenBy,
    YesNo,
    refusal,
)
from hatchwright.job.existing import ExistingFastener
from hatchwright.job.frame import Direction
from hatchwright.job.skin import Curvature
from hatchwright.number import MOST_HOLES
from hatchwright.said import said
from hatchwright.units import Length

ViewedFrom = Literal["outside", "inside"]
EDGES = ("x_from", "x_to", "y_from", "y_to")
CORNERS = ("A", "B", "C", "D")
"""Names of the corners: A at the origin, B along X from it, C across, D along Y."""


class Stations(Entered):
    """Where along a straight landmark its distance was read, once or twice, so that one that is not parallel shows."""

    at: Coordinate | None = None
    second: Coordinate | None = None
    second_at: Coordinate | None = None
    u: Uncertainty | None = None

    @model_validator(mode="after")
    def _two_stations(self) -> Self:
        if (self.second is None) != (self.second_at is None) or (self.second is not None and self.at is None):
            raise refusal(said("site.half_second"), said("site.half_second.do"))
        if self.at and self.second_at and self.at.exact_in == self.second_at.exact_in:
            raise refusal(said("site.one_station"), said("site.one_station.do"))
        return self


class SiteRow(Stations, LandmarkRow):
    """An existing rivet row, by its distance from the origin row along X or along Y."""

    @property
    def reading(self) -> Length:
        """What was read at its first station."""
        found = self.x or self.y
        assert found is not None  # it gives one of the two
        return found


class SiteFlange(Stations, Flange):
    """The free edge of a flange: the flange lies on the side of it that its one bound says."""

    @model_validator(mode="after")
    def _one_edge(self) -> Self:
        if sum(getattr(self, name) is not None for name in EDGES) != 1:
            raise refusal(said("site.flange_edge"), said("site.flange_edge.do"))
        return self

    @property
    def bound(self) -> str:
        """Which of its bounds the edge is, such as ``x_to``."""
        return next(name for name in EDGES if getattr(self, name) is not None)

    @property
    def axis(self) -> int:
        """The axis that its edge crosses, 0 for X, 1 for Y."""
        return 0 if self.bound.startswith("x") else 1

    @property
    def reading(self) -> Length:
        """What was read at its first station."""
        found: Length = getattr(self, self.bound)
        return found


class SiteCorners(Entered):
    """Four sides and both diagonals between the corners A, B, C and D of the bay."""

    ab: Positive | None = None
    bc: Positive | None = None
    cd: Positive | None = None
    da: Positive | None = None
    ac: Positive | None = None
    bd: Positive | None = None
    u: Uncertainty | None = None


class SiteHazard(Region):
    """Something behind the skin, as it was found from outside or from inside."""

    found_from: ViewedFrom | None = None
    depth: NotNegative | None = None
    moves: YesNo | None = None
    photo: str = Field(default="", max_length=40)
    u: Uncertainty | None = None


class Borescope(Entered):
    """A hole for a borescope, drilled before the opening is cut, where the metal is cut out later."""

    center: Point
    diameter: Diameter
    u: Uncertainty | None = None


class SiteRoute(Entered):
    """One way to the center: along X and along Y from two landmarks, or from two or more corners of the bay."""

    name: str = Field(min_length=1, max_length=80)
    x_from: str = Field(default="", max_length=80)
    x: Positive | None = None
    x_toward: Direction | None = None
    y_from: str = Field(default="", max_length=80)
    y: Positive | None = None
    y_toward: Direction | None = None
    a: Positive | None = None
    b: Positive | None = None
    c: Positive | None = None
    d: Positive | None = None
    u: Uncertainty | None = None

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        along = (self.x_from, self.x, self.y_from, self.y)
        corners = len(self.from_corners)
        if any(along) == bool(corners) or (any(along) and not all(along)) or corners == 1:
            raise refusal(said("site.half_route"), said("site.half_route.do"))
        return self

    @property
    def from_corners(self) -> dict[str, Length]:
        """The distances from corners that were taped, by the corner."""
        found = zip(CORNERS, (self.a, self.b, self.c, self.d), strict=True)
        return {name: taped for name, taped in found if taped is not None}


class SiteTape(Bracketed):
    """A distance to the marked center, as a helper taped it from a landmark or a corner."""

    landmark: str = Field(min_length=1, max_length=80)
    distance: Positive
    u: Uncertainty | None = None


Tape = Annotated[SiteTape, in_brackets(SiteTape, "site.tape"), WrittenBy(Bracketed.as_typed)]


class Site(Entered):
    """What was measured at the aircraft, before anything was drawn."""

    u: Uncertainty
    seen_from: ViewedFrom | None = None
    up: Direction | None = None
    right: Direction | None = None
    rows: tuple[SiteRow, ...] = Field(default=(), max_length=100)
    flanges: tuple[SiteFlange, ...] = Field(default=(), max_length=100)
    corners: SiteCorners | None = None
    hazards: tuple[SiteHazard, ...] = Field(default=(), max_length=100)
    existing: tuple[ExistingFastener, ...] = Field(default=(), max_length=MOST_HOLES)
    thickness: tuple[Thickness, ...] = Field(default=(), max_length=40)
    thickness_u: Uncertainty | None = None
    curvature: Curvature | None = None
    borescope: Borescope | None = None
    routes: tuple[SiteRoute, ...] = Field(default=(), max_length=20)
    tapes: tuple[Tape, ...] = Field(default=(), max_length=40)
    gap: Positive | None = None

    @property
    def landmarks(self) -> tuple[SiteRow | SiteFlange, ...]:
        """Rows, then flange edges."""
        return (*self.rows, *self.flanges)

    def u_in(self, own: Length | None) -> float:
        """Expanded uncertainty of a reading: its own, else that of the survey [in]."""
        return (own or self.u).inch
