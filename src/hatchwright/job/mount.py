"""What is mounted on the skin: an antenna, a camera or another fitting."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from hatchwright.job.amount import Allowable, Area, Force, Speed, Weight
from hatchwright.job.entry import AngleDeg, Entered, Point, Positive, Size, YesNo, matching, refusal
from hatchwright.job.skin import Sheet
from hatchwright.said import said


class StaticTest(Entered):
    """What the mounted part held in a static test without letting go or staying bent, by the aircraft's directions."""

    down: Force | None = None
    up: Force | None = None
    forward: Force | None = None
    side: Force | None = None
    aft: Force | None = None


class Bracket(Sheet):
    """The bracket that is bent up for the mount: legs in their order, a bend between each two."""

    radius: Positive
    angle: AngleDeg = 90.0
    legs: tuple[Positive, ...] = Field(min_length=2, max_length=12)

    @model_validator(mode="after")
    def _bends(self) -> Self:
        if not 0.0 < self.angle < 180.0:
            raise refusal(said("job.bend"), said("job.bend.do"))
        return self


_CABIN_ITEMS_FROM_AMENDMENT, _CABIN_ITEMS_FROM = 36, "1988-09-14"
"""From when the section on emergency landings names factors for items of mass in the cabin. Source: [14CFR23],
23.561(b)(3), Amdt 23-36, effective 14 Sep 1988."""

_DATE = r"(19|20)\d\d-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])"
_BASIS = rf"|CAR 3|23-\d{{1,2}}|{_DATE}"
Certification = Annotated[str, matching(_BASIS, said("job.certification"), said("job.certification.do"))]


class Mount(Entered):
    """The part that is mounted, and what it asks of the skin."""

    kind: Literal["antenna", "camera", "other"]
    base: Size
    screw_size: str = Field(default="", max_length=20)
    screw_pattern: Size | None = None
    bonded: YesNo | None = None
    sealed: YesNo | None = None
    nearest_antenna: Positive | None = None
    least_distance: Positive | None = Field(default=None)
    weight: Weight | None = None
    where: Literal["cabin", "inside", "outside"] | None = None
    certification: Certification = ""
    category: Literal["normal", "utility", "acrobatic"] | None = None
    frontal_area: Area | None = None
    speed: Speed | None = None
    height: Positive | None = None
    drag_height: Positive | None = None
    offset: Point | None = None
    screw_shear: Allowable | None = None
    screw_tension: Allowable | None = None
    screw_reach: Positive | None = None
    test: StaticTest | None = None
    bracket: Bracket | None = None

    @property
    def is_cabin_item(self) -> bool | None:
        """Whether it takes the factors of an item of mass in the cabin; None while that is open."""
        if self.where in ("inside", "outside") or self.certification == "CAR 3":
            return False
        if not self.certification:
            return None
        is_amendment = self.certification.startswith("23-")
        if is_amendment:
            late = int(self.certification.removeprefix("23-")) >= _CABIN_ITEMS_FROM_AMENDMENT
        else:
            late = self.certification >= _CABIN_ITEMS_FROM
        if not late:
            return False
        return True if self.where == "cabin" else None
