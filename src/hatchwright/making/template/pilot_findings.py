"""T106: what is drilled through the template is no larger than the holes that are to be opened from it."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, held, stated
from hatchwright.judged import FLOAT_NOISE, Bound, Judgement, Measure, Status
from hatchwright.layout.layout import Layout
from hatchwright.making.hole_work import hole_work
from hatchwright.making.making import Making
from hatchwright.making.template.holes import TemplateHole, first_drill, template_holes
from hatchwright.making.unlisted import unlisted_findings
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Listed, inch, said
from hatchwright.tables.drills import Drill
from hatchwright.workings import Grade, Source

_WORK = Source("PRACTICE", "a hole is opened from its pilot; it cannot be made smaller")

T106 = enter(Entry("T106", Shelf.HOLDS, step="template", reads=("cover", "holes", "rows", "template")))


def pilot_findings(making: Making) -> tuple[Finding, ...]:
    """Judge the pilot holes of a job's template.

    Returns:
        tuple: T106 for each size that is drilled through the template too large, one that passes when none is; not
            shown for what no table lists; empty without pilot holes.
    """
    holes, lacking = template_holes(making), unlisted_findings(T106, making.layout.holes, making.layout)
    if not holes:
        return lacking
    judged = tuple(_too_large(making.layout, holes)) or (
        stated(
            "T106",
            Status.PASS,
            said("T106.largest"),
            source=_WORK,
            grade=Grade.COMPUTED,
            value=max(one.pilot_in for one in holes),
            unit="in",
        ),
    )
    return (*judged, *lacking)


def _too_large(layout: Layout, holes: tuple[TemplateHole, ...]) -> Iterator[Finding]:
    """Each size of the template with each smaller drill that holes under it ask for first."""
    judged: dict[tuple[float, Drill], list[TemplateHole]] = {}
    for one in holes:
        drill = None if one.hole.is_made else _limit(layout, one)
        if drill and one.pilot_in > drill.diameter_in + FLOAT_NOISE:
            judged.setdefault((one.pilot_in, drill), []).append(one)
    for (size_in, drill), found in judged.items():
        rows = tuple(dict.fromkeys(one.hole.row for one in found))
        yield held(
            "T106",
            Judgement(
                Measure("pilot", size_in),
                (Bound(drill.diameter_in, _WORK, Grade.COMPUTED),),
                at_least=False,
            ),
            said(
                "T106.too_large",
                n=len(found),
                size=inch(size_in, fine=True),
                drill=str(drill),
                first=inch(drill.diameter_in, fine=True),
                rows=Listed(rows, ","),
            ),
            said("T106.do"),
            holes=tuple(one.hole.number for one in found),
            place=(found[0].hole.x_in, found[0].hole.y_in),
        )


def _limit(layout: Layout, one: TemplateHole) -> Drill | None:
    """The drill that no hole of the template may exceed: the first, or the smallest known while that is not."""
    known = (step.drill for work in hole_work(one.hole, layout) for step in work.steps if step.drill)
    return first_drill(one.hole, layout) or min(known, key=lambda drill: drill.diameter_in, default=None)
