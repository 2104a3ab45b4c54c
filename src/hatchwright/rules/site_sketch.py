"""R933: which way the sketch of a survey lies; one without an arrow, or mirrored, is asked about and never guessed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.said import Said, said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

if TYPE_CHECKING:
    from hatchwright.layout.site.sketch import Sketch

_SKETCH = Cited(0.0, "", Source("PRACTICE", "sketch of a survey"), Grade.PRACTICE)


@rule("R933", Shelf.PLACE, reads=("aircraft", "site"))
@judged_by(_SKETCH)
def sketch(survey: Survey) -> Iterator[Finding]:
    """R933: the sketch of a survey."""
    site, frame = survey.layout.job.site, survey.layout.frame
    if site is None:
        return
    from hatchwright.layout.site.sketch import sketches

    found = sketches(site, frame)
    if not found.is_asked:
        yield stated(Status.PASS, said("site_sketch.told", **_read(found.ways[0])), _SKETCH)
        return
    one, other = (said("site_sketch.reading", **_read(way)) for way in found.ways)
    ask = said("site_sketch.ask", one=one, other=other)
    if found.contradicts:
        subject = said("site_sketch.mirrored", **_read(found.ways[0]) | {"told": str(site.right)})
        yield stated(Status.STOP, subject, _SKETCH, ask)
        return
    missing = "seen_from" if site.seen_from is None else "up" if site.up is None else "right"
    off = found.off_skin
    subject = said("site_sketch.off_skin", told=off) if off else said(f"site_sketch.no_{missing}")
    yield stated(Status.UNKNOWN, subject, _SKETCH, ask)


def _read(way: Sketch) -> dict[str, Said | str]:
    seen_from = said(f"site_sketch.{way.seen_from}")
    return {"seen_from": seen_from, "up": way.up, "right": way.right, "x": way.x, "y": way.y}
