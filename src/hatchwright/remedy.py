"""A remedy: a change of the job that was applied to it and judged, told beside the finding that it makes pass.

Beside each rule stands what may be changed where it fails; `search.remedy` tries it. What was not tried is never told:
a finding without a remedy asks the design approval holder.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from typing import Any, TypeAlias

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.said import Said, said

ASK = said("ask.disposition")
"""What is told where no remedy is."""


class Change(StrEnum):
    """What of a job may be changed, by the rivets, edges or screws that a finding concerns."""

    ROW_DISTANCE = "row_distance"
    """A row's distance from its edge."""
    ROW_PLACE = "row_place"
    """A straight row, square to itself."""
    ROW_PITCH = "row_pitch"
    """A row's pitch, or the number of its rivets."""
    ROW_STAGGER = "row_stagger"
    """Whether a row starts half a pitch on."""
    ROW_PREPARATION = "row_preparation"
    """How the sheets of a flush row take its heads."""
    ROW_RIVET = "row_rivet"
    """The rivet, one size smaller or larger, or of the alloy for structure."""
    DOUBLER_SIZE = "doubler_size"
    """Outer size of the doubler."""
    LAND_SIZE = "land_size"
    """Size of the hole in the doubler, and so the width of the land inside the opening."""
    OPENING_SIZE = "opening_size"
    """Size of the opening, where nobody mandates it."""
    CORNER_RADIUS = "corner_radius"
    """Corner radius of the edge that a finding names."""
    COVER_SIZE = "cover_size"
    """Size of the cover, as lap or outline."""
    DOUBLER_GAUGE = "doubler_gauge"
    """Thickness of the doubler, a stock gauge."""
    DOUBLER_SHEET = "doubler_sheet"
    """Material of the doubler, that of the skin."""
    BEND_RADIUS = "bend_radius"
    """Bend radius of the mount's bracket."""
    SCREW_INSET = "screw_inset"
    """How far the cover's screws lie inside its edge."""
    SCREW_NUMBER = "screw_number"
    """Number, or pitch, of the cover's screws."""
    SCREW_LENGTH = "screw_length"
    """Length of the cover's screws."""
    NUTPLATE_KIND = "nutplate_kind"
    """Nutplates with the same lugs whose face fits what they lie on."""
    NUTPLATE_EARS = "nutplate_ears"
    """How sheet and ears take the nutplate rivets."""
    NUTPLATE_STRAP = "nutplate_strap"
    """The strap between the innermost sheet and the nutplates: with one, or a thicker or wider one."""
    NEXT_RIVET = "next_rivet"
    """The next size of rivet in a hole that is drilled."""
    CLEANED_HOLE = "cleaned_hole"
    """A hole that was drilled twice, reamed to the size that takes in both."""
    MOVED_RIVET = "moved_rivet"
    """A rivet that is not drilled yet, away from a hole that is."""
    ADDED_RIVET = "added_rivet"
    """One more rivet for a hole that has none."""
    REDUCED_HEAD = "reduced_head"
    """Flush rivets with reduced heads in a row that is not countersunk yet."""
    NEXT_REDUCED_HEAD = "next_reduced_head"
    """The next size of flush rivet, with a reduced head, in a hole that is drilled."""
    FILLED_STRAY = "filled_stray"
    """A rivet in a hole that belongs to no row."""
    NEW_RING = "new_ring"
    """A doubler that is made anew, or wider on the side of a hole that is drilled."""
    EDGE_PAST_ROW = "edge_past_row"
    """The opening past a row that is drilled, with doubler and cover made anew to match."""
    NEW_COVER = "new_cover"
    """A cover made anew to the opening as it was filed."""


OF_ONE_HOLE = frozenset(
    (
        Change.NEXT_RIVET, Change.CLEANED_HOLE, Change.MOVED_RIVET, Change.NEXT_REDUCED_HEAD,
    )
)  # fmt: skip
"""Changes that help one hole: of several that fall short each is tried by itself."""


class EntryChange(Struct, frozen=True):
    """One entry of the job file and its new text.

    Args:
        field: dotted, with numbers in lists, such as ``rows.0.distance`` or ``rows.1.start.0``.
        old: as it stands, "" where nothing does.
        new: as it is to be typed.
    """

    field: str
    old: str
    new: str


class PartChange(Struct, frozen=True):
    """A section, a list or a line of one, put into the job file whole.

    Args:
        field: dotted, such as ``rows.8``, one past the last, or ``as_made.holes.3``.
        new: what is to stand there, as the file writes it; None takes away what stands there.
    """

    field: str
    new: Any


class Remedy(Struct, frozen=True):
    """What is to be entered so that, tried on the job, a cause passes and no other answer gets worse.

    Args:
        entries: what is to be typed anew, together.
        told: the sentence, with the old number and the new one.
        parts: what is put in or taken away whole after that, one after the other.
    """

    entries: tuple[EntryChange, ...]
    told: Said
    parts: tuple[PartChange, ...] = ()


Tried: TypeAlias = Sequence[tuple[Finding, Remedy]]
"""The findings for which a remedy was found, by themselves: an equal one elsewhere was not tried."""


def told_for(finding: Finding, tried: Tried) -> Said | None:
    """What to say in the place of asking for a disposition, None where nothing was tried or found."""
    return next((remedy.told for one, remedy in tried if one is finding), None)
