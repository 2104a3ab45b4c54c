"""T106: what is drilled through the template is no larger than the holes that are to be opened from it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.layout.layout import Layout
from hatchwright.making.answer import answer
from hatchwright.making.hole_work import hole_work
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.making.template.holes import TemplateHole, first_drill, template_holes
from hatchwright.tables.drills import Drill
from hatchwright.units import length_words
from hatchwright.workings import Source

_WORK = Source("PRACTICE", "a hole is opened from its pilot; it cannot be made smaller")


def pilot_findings(layout: Layout, chain: GuideChain) -> tuple[Finding, ...]:
    """Judge the pilot holes of a job's template.

    Returns:
        tuple: T106 for each size that is drilled through the template too large, one that passes when none is; empty
            without pilot holes.
    """
    holes = template_holes(layout, chain)
    if not holes:
        return ()
    return tuple(_too_large(layout, holes)) or (
        answer(
            "T106",
            Status.PASS,
            "largest pilot hole of the template",
            value=max(one.pilot_in for one in holes),
            source=_WORK,
        ),
    )


def _too_large(layout: Layout, holes: tuple[TemplateHole, ...]) -> Iterator[Finding]:
    """Each size of the template with each smaller drill that holes under it ask for first."""
    judged: dict[tuple[float, Drill], list[TemplateHole]] = {}
    for one in holes:
        drill = None if one.hole.is_made else _limit(layout, one)
        if drill and one.pilot_in > drill.diameter_in + FLOAT_NOISE:
            judged.setdefault((one.pilot_in, drill), []).append(one)
    unit = layout.job.unit
    for (size_in, drill), found in judged.items():
        rows = ", ".join(dict.fromkeys(f'"{one.hole.row}"' for one in found))
        made = answer(
            "T106",
            Status.STOP,
            f"{len(found)} holes of {length_words(size_in, unit, fine=True)} in the template, where drill {drill}, "
            f"{length_words(drill.diameter_in, unit, fine=True)}, goes first: rows {rows}",
            value=size_in,
            limit=drill.diameter_in,
            source=_WORK,
            advice="Metal that is gone cannot be put back: take a smaller template.pin or leave it away, then every "
            "hole takes its own pilot; or enter in each row the pilot that is drilled.",
            place=(found[0].hole.x_in, found[0].hole.y_in),
        )
        yield replace(made, holes=tuple(one.hole.number for one in found))


def _limit(layout: Layout, one: TemplateHole) -> Drill | None:
    """The drill that no hole of the template may exceed: the first, or the smallest known while that is not."""
    known = (step.drill for work in hole_work(one.hole, layout) for step in work.steps if step.drill)
    return first_drill(one.hole, layout) or min(known, key=lambda drill: drill.diameter_in, default=None)
