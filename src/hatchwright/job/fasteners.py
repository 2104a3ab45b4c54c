"""Fasteners as a job names them: rivets without their length, and the screws and nuts of a cover."""

from functools import cache
from typing import Annotated, Literal, Self, get_args

from msgspec.structs import replace
from pydantic import AfterValidator, Field, StringConstraints, model_validator

from hatchwright.errors import EntryError, UnlistedError
from hatchwright.job.entry import Count, Diameter, Entered, NotNegative, Positive, Size, YesNo, refusal
from hatchwright.job.skin import Sheet
from hatchwright.said import Listed, said
from hatchwright.tables.nutplates import NUTPLATE_KINDS, NutplateKind, nutplate_kind
from hatchwright.tables.rivet_part import parse_rivet

Preparation = Literal["dimple", "countersink", "dimple over countersink"]
"""All sheets dimpled; all countersunk; or the outer dimpled into a countersunk one below."""

SCREW_HEADS: tuple[str, ...] = get_args(Literal["100 degree flush", "pan", "washer"])
CLIP_NUT: str = get_args(Literal["clip nut"])[0]

_Kind = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=40)]


@cache
def cover_nuts() -> tuple[str, ...]:
    """The kinds whose shape the program knows; a job may name others, and what needs their shape is not shown."""
    return (*(kind.called for kind in NUTPLATE_KINDS.all()), CLIP_NUT)


def without_length(text: str) -> str:
    """A rivet as it is ordered but for its length, which follows from the grip; one that no table lists as typed."""
    try:
        part = parse_rivet(text)
    except EntryError as error:
        if text.strip():
            return text.strip()
        raise refusal(error.what, error.remedy) from None
    if part.length is not None:
        bare = replace(part, length=None)
        raise refusal(said("job.rivet_length"), said("job.rivet_length.do", rivet=str(bare)))
    return str(part)


RivetName = Annotated[str, AfterValidator(without_length)]
"""A rivet without its length."""


def _without_length_or_none(text: str) -> str:
    return without_length(text) if text.strip() else ""


class Strap(Sheet):
    """A strap between the innermost sheet and the nutplates."""

    width: Positive | None = None


class Screws(Entered):
    """The screws of the cover, all round at a distance inside the cover's edge."""

    size: str = Field(min_length=1, max_length=20)
    length: Positive | None = None
    preparation: Preparation | None = None
    pilot: Diameter | None = None
    final: Diameter | None = None
    nut_height: Positive | None = Field(default=None)
    steel: YesNo = True
    nut_rivet: Annotated[str, AfterValidator(_without_length_or_none)] = Field(default="", max_length=40)
    nut_rivet_spacing: Positive | None = None
    nut_ears: Literal["dimple", "countersink"] | None = None
    nut_lugs: Literal["along", "outward", "inward"] = "along"
    strap: Strap | None = None
    clip_reach: Positive | None = None
    clip_width: Positive | None = None
    clip_grip: Size | None = None
    head: _Kind
    nut: _Kind
    inset: Positive
    count: Count | None = None
    pitch: Positive | None = None
    straights_only: YesNo = False
    from_tangent: NotNegative | None = None

    @model_validator(mode="after")
    def _pitch_or_count(self) -> Self:
        if (self.pitch is None) == (self.count is None):
            raise refusal(said("job.screw_row"), said("job.pitch_or_count"))
        if self.straights_only and self.pitch is None:
            raise refusal(said("job.screw_pitch"), said("job.screw_pitch.do"))
        if self.strap and self.nut == CLIP_NUT:
            raise refusal(said("job.strap"), said("job.strap.do"))
        return self

    @property
    def nutplate(self) -> NutplateKind | None:
        """The kind of nutplate; None for other nuts."""
        return nutplate_kind(self.nut)

    @property
    def known_head(self) -> str:
        """The kind of head.

        Raises:
            UnlistedError: none of `SCREW_HEADS`.
        """
        return _known("screw_head", self.head, SCREW_HEADS)

    @property
    def known_nut(self) -> str:
        """The kind of nut.

        Raises:
            UnlistedError: none of `cover_nuts`.
        """
        return _known("nut", self.nut, cover_nuts())


def _known(what: str, name: str, kinds: tuple[str, ...]) -> str:
    if name not in kinds:
        raise UnlistedError(
            said(f"unlisted.{what}", name=name), remedy=said("table.listed", rows=Listed(kinds, ","))
        )
    return name
