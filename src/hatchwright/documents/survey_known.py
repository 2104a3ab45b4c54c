"""What of a survey is known of a job, printed into the survey sheet: readings where there are some, else names."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.survey_sheet import KnownSite
from hatchwright.drawings.ink import Point
from hatchwright.drawings.site_sketch import DIAGONALS, SIDES, SiteSketch
from hatchwright.job.bay import LandmarkRow, Region
from hatchwright.job.frame import Frame
from hatchwright.job.job import Job
from hatchwright.job.site import SiteFlange, SiteHazard, SiteRoute, SiteRow, ViewedFrom
from hatchwright.said import Value, said
from hatchwright.units import Length
from hatchwright.words.tell import tell

_Landmark = SiteRow | SiteFlange | LandmarkRow | Region


def known_site(job: Job) -> KnownSite:
    """What is printed in: of a job that was not surveyed, its aircraft, frame, and what it knows to be there."""
    site, frame = job.site, job.frame
    surface = "side_skin" if job.aircraft.surface == "side" else job.aircraft.surface
    seen: ViewedFrom = site.seen_from if site and site.seen_from else "outside"
    corners = site.corners if site else None
    readings = (
        {name: _read(getattr(corners, name.lower())) for name in (*SIDES, *DIAGONALS)} if corners else {}
    )
    landmarks: tuple[_Landmark, ...] = site.landmarks if site else ()
    hazards = site.hazards if site and site.hazards else job.bay.keep_outs
    return KnownSite(
        ticked=frozenset({job.aircraft.side, surface, job.unit, seen}),
        filled=dict(_filled(job)),
        sketch=SiteSketch(readings, (frame.x, frame.y), _axes(frame, seen)),
        rows=[_landmark(one) for one in landmarks or (*job.bay.rows, *job.bay.flanges)],
        hazards=[_hazard(one) for one in hazards],
        routes=[_route(one) for one in (site.routes if site else ())],
    )


def _axes(frame: Frame, seen: ViewedFrom) -> tuple[Point, Point]:
    """Where X and Y point on the sketch: from inside left and right change places."""
    turn = -1.0 if seen == "inside" else 1.0
    (a, b), (c, d) = frame.x_on_page, frame.y_on_page
    return (turn * a, b), (turn * c, d)


def _filled(job: Job) -> Iterator[tuple[str, str]]:
    mandate, site = job.mandate, job.site
    yield "aircraft", job.aircraft.registration
    yield "serial", job.aircraft.serial
    yield "data", " ".join(filter(None, (mandate.reference, mandate.bulletin, mandate.revision)))
    yield "origin", job.frame.origin
    shown = zip("XY", (mandate.bay_x, mandate.bay_y), strict=True)
    yield "data_pitch", ", ".join(f"{axis} {length.text}" for axis, length in shown if length)
    if site is None:
        return
    yield "tape_u", site.u.text
    yield "thickness", ", ".join(one.text for one in site.thickness)
    if site.borescope:
        yield "borescope_x", site.borescope.center[0].text
        yield "borescope_y", site.borescope.center[1].text
        yield "diameter", site.borescope.diameter.text
    if site.thickness_u:
        yield "with_what", site.thickness_u.text
    if site.curvature:
        yield "chord", site.curvature.chord.text
        yield "rise", site.curvature.rise.text
        yield "bend", site.curvature.along.upper()


def _read(length: Length | None) -> str:
    return length.text if length else ""


def _landmark(one: _Landmark) -> list[str]:
    """Its line: which way it is measured to, its name, and its readings where it was surveyed."""
    if isinstance(one, SiteRow | SiteFlange):
        kind, axis = ("row" if isinstance(one, SiteRow) else "edge"), one.axis
        cells = one.reading.text, _read(one.at), _read(one.second), _read(one.second_at)
    elif isinstance(one, LandmarkRow):
        kind, axis, cells = "row", one.axis, ("", "", "", "")
    else:
        kind, axis, cells = "edge", 0 if one.x_from or one.x_to else 1, ("", "", "", "")
    return [tell(said(f"site_paper.to.{kind}", axis="XY"[axis])), one.name, *cells]


def _hazard(one: Region) -> list[str]:
    bounds = [_read(bound) for bound in (one.x_from, one.x_to, one.y_from, one.y_to)]
    depth: Length | None = getattr(one, "depth", None)
    seen = one.found_from if isinstance(one, SiteHazard) else None
    moves = getattr(one, "moves", None)
    answer: Value = "" if moves is None else said("site_paper.yes" if moves else "site_paper.no")
    photo = one.photo if isinstance(one, SiteHazard) else ""
    ticks = ("X" if seen == "outside" else "", "X" if seen == "inside" else "")
    return [one.name, *ticks, *bounds, _read(depth), tell(answer), photo]


def _route(one: SiteRoute) -> list[str]:
    if taped := one.from_corners:
        (first, first_read), (second, second_read), *others = taped.items()
        more = (f"{corner} {length.text}" for corner, length in others)
        return [first, first_read.text, second, ", ".join((second_read.text, *more)), _read(one.u)]
    return [one.x_from, _read(one.x), one.y_from, _read(one.y), _read(one.u)]
