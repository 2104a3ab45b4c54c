"""R903: the manufacturer's own data, and where a job that they cover departs from them."""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha256

from hatchwright.finding import Finding
from hatchwright.job.departures import SUBJECTS, Subject
from hatchwright.judged import Status
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.said import Listed, Value, said
from hatchwright.tables.instructions import instruction

_LETTERS = 6

DEPARTURES = "R903"
"""The code that asks for departures."""


@rule(
    DEPARTURES,
    Shelf.PLACE,
    reads=("departures", "gate", "doubler", "cover", "holes", "opening", "parts", "skin"),
    forbids_template=True,
)
@judged_by("approved_data_conditions")
def maker_data(survey: Survey) -> Iterator[Finding]:
    """R903: the manufacturer's own data; yes is no stop, an open departure from them is."""
    layout, asked = survey.layout, instruction("approved_data_conditions")
    covers, departures = layout.job.gate.maker_data, layout.job.departures
    if covers is None:
        return
    if not covers:
        yield stated(Status.PASS, said("scope.data_do_not_cover_it"), asked)
        return
    if left := [of for of in SUBJECTS if departures.answer(of) is None]:
        which = Listed(tuple(said(f"departure.{of}") for of in left))
        enter = tuple(f"departures.{of}" for of in left)
        subject = said("departure.not_answered", which=which)
        yield stated(Status.UNKNOWN, subject, asked, said("departure.compare"), enter=enter)
    elif all(departures.answer(of) == "none" for of in SUBJECTS):
        yield stated(Status.PASS, said("departure.none"), asked)
    for of in SUBJECTS:
        if departures.answer(of) == "departs":
            yield _departs(layout, of)


def _departs(layout: Layout, of: Subject) -> Finding:
    """A departure stands by who accepted it, and only as it was then."""
    asked, accepted = instruction("approved_data_conditions"), layout.job.departures.acceptance(of)
    what, now = said(f"departure.{of}"), departure_number(layout, of)
    enter: tuple[str, ...] = ("departures.accepted",)
    if accepted is None:
        subject, advice = said("departure.open", what=what), said("departure.have_accepted", number=now)
        return stated(Status.STOP, subject, asked, advice, cause=of, enter=enter)
    by: dict[str, Value] = {"what": what, "by": accepted.by, "data": accepted.data}
    if accepted.number == now:
        return stated(Status.PASS, said("departure.accepted", **by), asked, cause=of)
    subject = said("departure.changed", **by, was=accepted.number, now=now)
    return stated(
        Status.STOP, subject, asked, said("departure.accept_again", number=now), cause=of, enter=enter
    )


def departure_number(layout: Layout, of: Subject) -> str:
    """What a departure is accepted at: another number makes it open again.

    A figure in inches that a person knows again where there is one, and letters that stand for all of it.
    """
    whole: tuple[str, ...]
    x, y = layout.center_in
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    match of:
        case "size":
            corner = layout.wanted_corner
            figure = f"{x_max - x_min:.3f}x{y_max - y_min:.3f}"
            whole = (figure, f"{corner.radius_in:.3f}" if corner else "", f"{layout.wanted.area_sq_in:.3f}")
        case "place":
            figure = f"{x:.3f},{y:.3f}"
            whole = (figure, layout.frame.origin)
        case "hardware":
            figure = str(len(layout.holes))
            screws = layout.job.cover.screws if layout.job.cover else None
            named = (screws.head, screws.nut, screws.nut_rivet) if screws else ()
            whole = (*sorted(f"{hole.fastener}/{hole.kind}" for hole in layout.holes), *map(str, named))
        case "sheet":
            figure = "/".join(f"{part.thickness_in:.4g}" for part in layout.parts)
            whole = tuple(
                f"{part.name} {part.thickness_in:.5f} {part.alloy} {part.temper} {part.clad}"
                for part in layout.parts
            )
    return f"{figure}#{sha256(' '.join(whole).encode()).hexdigest()[:_LETTERS].upper()}"


def departs_in(layout: Layout, changed: Layout) -> tuple[Subject, ...]:
    """In what a changed job departs from what somebody else gave: a mandate, or manufacturer's data that cover it.

    The outlines of doubler and cover are part of the size, as drawn; the owner's own job departs from nothing.
    """
    job, new = layout.job, changed.job
    if job.mandate.kind == "owner" and not job.gate.maker_data:
        return ()
    found = {of for of in SUBJECTS if departure_number(layout, of) != departure_number(changed, of)}
    if (job.doubler, job.cover) != (new.doubler, new.cover):
        found.add("size")
    return tuple(of for of in SUBJECTS if of in found)
