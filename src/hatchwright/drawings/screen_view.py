"""The layout drawing on a page: the bay as on paper, dimensioned near the parts, each place marked where cutting must
stop.

A page has tables and notes in its own words, and letters in its own size what `Text.span` tells of.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hatchwright.drawings.bay_view import bay_ink
from hatchwright.drawings.dimensions_of_parts import from_datum, sizes
from hatchwright.drawings.ink import Circle, Ink, Layer, Style, Text
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.short_holes import StopPlace, short_holes, stop_places
from hatchwright.finding import Finding
from hatchwright.layout.layout import Layout
from hatchwright.said import said

_RING_IN = 0.3
_STOPS = "short"


def screen_picture(layout: Layout, findings: Iterable[Finding]) -> Sheet:
    """The same ink in the same places as on paper, without tables and notes."""
    judged, unit, page = tuple(findings), layout.job.unit, PageFrame(layout.frame)
    ink = (
        *bay_ink(layout, short_holes(judged, unit)),
        *_stops(stop_places(judged, unit), page),
        *sizes(layout, page, css="near"),
        *from_datum(layout, page, css="datum", with_halves=False),
    )
    return page.sheet(layout.job, said("layout.title"), ink)


def _stops(places: Iterable[StopPlace], page: PageFrame) -> Iterator[Ink]:
    """A ring at each place, and beside it what stops there."""
    for place in places:
        at = page.point(*place.at_in)
        yield Circle(at, _RING_IN, Layer.DIMENSION, Style.FINISHED, css=f"ring {_STOPS}")
        beside = at[0] + _RING_IN, at[1]
        yield Text(beside, place.words, note_id=place.code, css=_STOPS, span=(at, at))
