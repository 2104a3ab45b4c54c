"""What may be changed of the cover's screws while their holes are not drilled."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from hatchwright.job.fasteners import Screws
from hatchwright.search.candidate import (
    Candidate,
    Concern,
    either_way,
    is_drilled,
    numbers,
    one_entry,
    pitches,
)
from hatchwright.units import parse_length

_SCREW_STEP_IN = Fraction(1, 16)
_SCREW_STEPS = 8


def _screws(concern: Concern) -> Screws | None:
    """The screws of the cover, None where there are none or where their holes are drilled already."""
    cover = concern.job.cover
    drilled = is_drilled(concern.layout.holes_of("screw"))
    return cover.screws if cover and not drilled else None


def screw_inset(concern: Concern) -> Iterator[Candidate]:
    """How far the screws lie inside the cover's edge, either way."""
    if screws := _screws(concern):
        yield from either_way(concern, "cover.screws.inset", screws.inset, "remedy.screw_inset")


def screw_number(concern: Concern) -> Iterator[Candidate]:
    """The number of screws, or their pitch."""
    screws = _screws(concern)
    if screws and screws.count is not None:
        for number in numbers(screws.count):
            yield one_entry("cover.screws.count", screws.count, number, "remedy.screw_count")
    elif screws and screws.pitch is not None:
        for new in pitches(screws.pitch, len(concern.layout.holes_of("screw")), concern.unit):
            yield one_entry("cover.screws.pitch", screws.pitch, new, "remedy.screw_pitch")


def screw_length(concern: Concern) -> Iterator[Candidate]:
    """Screws a sixteenth longer or shorter each time; in a metric job too, for the screws are inch screws."""
    cover = concern.job.cover
    if cover is None or cover.screws is None or cover.screws.length is None:
        return
    old = cover.screws.length
    for steps in range(1, _SCREW_STEPS + 1):
        for signed in (steps, -steps):
            value = old.exact_in + signed * _SCREW_STEP_IN
            if value > 0:
                new = parse_length(f"{float(value):.4f}".rstrip("0").rstrip(".") + " in")
                yield one_entry("cover.screws.length", old, new, "remedy.screw_length")
