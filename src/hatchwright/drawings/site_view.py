"""The drawing of a survey: the bay as measured, the center by each route with its u, and tables to work by.

Where it is open how the sketch is to be read, both readings are drawn side by side, each as seen from outside.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Circle, Ink, Layer, Outline, Point, Style, Text, moved
from hatchwright.drawings.lettering import fitted
from hatchwright.drawings.marks import cross
from hatchwright.drawings.page_frame import PageFrame, rectangle, side_word
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.site_bay import SiteBay, place_said
from hatchwright.drawings.site_marks import LABEL_ROOM_IN, NAME_IN
from hatchwright.drawings.site_tables import hazards_table, tapes_table
from hatchwright.drawings.table import Table
from hatchwright.job.frame import Frame, FrameEntry, make_frame
from hatchwright.job.job import Job
from hatchwright.layout.site.center import Center, RoutePlace
from hatchwright.layout.site.sketch import Sketch
from hatchwright.metrology.routes import Place
from hatchwright.said import Said, inch, missing, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell

_ROOM_IN = (7.0, 5.4)
_HALF_ROOM_IN = (3.9, 4.4)
_APART_IN = 0.3
_DETAIL_IN = 1.5
_LEGEND = {
    Style.FINISHED: said("site_view.corners"),
    Style.CENTER: said("site_view.rows"),
    Style.PHANTOM: said("site_view.edges"),
    Style.KEEP_OUT: said("site_view.hatched"),
    Style.DIMENSION: said("site_view.tapes"),
    Style.HIDDEN: said("site_view.dashed"),
}


def site_sheet(job: Job, center: Center, ways: Sequence[Sketch], *, gap_in: float, date: str) -> Sheet:
    """Draw a survey.

    Args:
        ways: how its sketch may be read; two are drawn side by side.
        gap_in: how far routes may lie apart, drawn as a ring about the best estimate [in].
    """
    frames = [_frame(job, way) for way in ways]
    if len(ways) == 1:
        bay = SiteBay(center, frames[0], job.unit, _ROOM_IN)
        ink = list(_side_by_side([bay]))
        if center.best:
            low = min(part.box().bottom for part in ink)
            ink += _detail(center, frames[0], job.unit, gap_in, (0.0, low - 0.35))
        title, notes = said("site_view.title"), ("site_view.tape_it", "site_view.u_is")
    else:
        bays = [SiteBay(center, frame, job.unit, _HALF_ROOM_IN, has_tapes=False) for frame in frames]
        ink = list(_side_by_side(bays, [_reading(way, "AB"[k]) for k, way in enumerate(ways)]))
        title, notes = said("site_view.title_both"), ("site_view.which", "site_view.u_is")
    return PageFrame(frames[0]).sheet(
        job,
        title,
        ink,
        date=date,
        notes=map(said, notes),
        tables=(*(tapes_table(center, job.unit) if len(ways) == 1 else ()), *hazards_table(job)),
        legend=_LEGEND,
    )


def sides_sheet(
    one: tuple[Job, Center], other: tuple[Job, Center], differ: Sequence[tuple[str, ...]] = (), *, date: str
) -> Sheet:
    """Draw the surveys of two sides beside each other, each as seen from outside, without what is taped.

    Args:
        differ: what differs, five cells a row: of what, which of its sizes, on one side, on the other, by how much.
    """
    bays = [
        SiteBay(center, job.frame, job.unit, _HALF_ROOM_IN, has_tapes=False) for job, center in (one, other)
    ]
    ink = _side_by_side(bays, [(side_word(job), job.title) for job, _ in (one, other)])
    page = PageFrame(one[0].frame)
    sides = [job.aircraft.side for job, _ in (one, other)]
    which = sides if sides[0] != sides[1] else ["first", "second"]
    heads = [f"site_view.head.{name}" for name in ("of", "what", *which, "off")]
    table = Table.told(said("site_view.differ"), heads, differ, one[0].unit)
    tables = (table,) if differ else ()
    return page.sheet(one[0], said("site_view.title_sides"), ink, date=date, tables=tables, legend=_LEGEND)


def _side_by_side(bays: Sequence[SiteBay], below: Sequence[Sequence[str]] = ()) -> Iterator[Ink]:
    """Bays from left to right, each with lines of words below it, the first of them bold."""
    left = 0.0
    for number, bay in enumerate(bays):
        box = bay.box
        yield from moved(bay.ink(), right_in=left - box.left, up_in=-box.top)
        for row, words in enumerate(below[number] if below else ()):
            at = left, -box.height_in - 1.35 - 0.2 * row
            shown, size_in = fitted(
                words, height_in=0.13 if row == 0 else 0.11, width_in=3.4, least_height_in=0.08
            )
            yield Text(at, shown, size_in, bold=row == 0)
        left += box.width_in + LABEL_ROOM_IN + _APART_IN


def _frame(job: Job, way: Sketch) -> Frame:
    entry = FrameEntry(origin=job.frame.origin, x=way.x, y=way.y)
    return make_frame(entry, side=job.aircraft.side, surface=job.aircraft.surface)


def _reading(way: Sketch, letter: str) -> tuple[str, ...]:
    """What a reading takes the sketch for, in words."""
    return (
        tell(said("site_view.reading", letter=letter)),
        tell(said(f"site_view.drawn.{way.seen_from}")),
        tell(said("site_view.top", up=way.up, right=way.right)),
        tell(said("site_view.axes", x=way.x, y=way.y)),
    )


def _detail(center: Center, frame: Frame, unit: Unit, gap_in: float, at: Point) -> Iterator[Ink]:
    """The places of the center, enlarged: each with a box of its u, the best estimate within the ring of the limit."""
    assert center.best is not None  # asked before
    best = center.best.place
    placed = [(number, route) for number, route in enumerate(center.routes, start=1) if route.place]
    every = [best, *(route.place for _, route in placed if route.place)]
    reach = max(
        max(abs(one.value - mine.value) + one.u for one, mine in zip(place, best, strict=True))
        for place in every
    )
    per_in = 0.5 * _DETAIL_IN / max(reach, 0.55 * gap_in)
    middle = at[0] + 0.5 * _DETAIL_IN, at[1] - 0.5 * _DETAIL_IN - 0.25

    def to(place: Place) -> Point:
        x, y = frame.to_page(place[0].value - best[0].value, place[1].value - best[1].value)
        return middle[0] + per_in * x, middle[1] + per_in * y

    yield Text(at, tell(said("site_view.detail")), 0.11, bold=True)
    yield Circle(middle, per_in * gap_in, Layer.DIMENSION, Style.HIDDEN)
    yield from cross(middle, 0.5)
    right = at[0] + _DETAIL_IN + 0.45
    for number, route in placed:
        assert route.place is not None  # sorted out above
        x, y = to(route.place)
        u_x, u_y = (per_in * route.place[axis].u for axis in (0, 1))
        u_x, u_y = (u_x, u_y) if frame.x_on_page[0] else (u_y, u_x)
        yield Outline(rectangle(Box(x - u_x, y - u_y, x + u_x, y + u_y)), Layer.DIMENSION, Style.DIMENSION)
        yield from cross((x, y), 0.12)
        yield Text((x + u_x + 0.03, y + u_y - NAME_IN), str(number), NAME_IN, bold=True)
    for row, (words, is_bold) in enumerate(_figures(center, unit, gap_in)):
        yield Text((right, at[1] - 0.3 - 0.2 * row), words, 0.11, bold=is_bold)


def _figures(center: Center, unit: Unit, gap_in: float) -> Iterator[tuple[str, bool]]:
    """Each route in figures, the gap, and the best estimate."""
    for number, route in enumerate(center.routes, start=1):
        yield tell(_route(number, route), unit), False
    if center.gap:
        apart = center.gap.apart
        gap = said("site_view.gap", gap=inch(apart.distance_in), u=missing(apart.u_in), limit=inch(gap_in))
        yield tell(gap, unit), False
    if center.best:
        x, y = place_said(center.best.place)
        yield tell(said("site_view.best", x=x, y=y), unit), True


def _route(number: int, route: RoutePlace) -> Said:
    if route.place is None:
        return said("site_view.no_route", number=number, name=route.name)
    x, y = place_said(route.place)
    return said("site_view.route", number=number, name=route.name, x=x, y=y)
