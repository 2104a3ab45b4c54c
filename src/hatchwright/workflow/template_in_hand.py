"""Judge a template file in hand against the job that it is to be laid on."""

from __future__ import annotations

from pathlib import Path

from hatchwright.drawings.ink import Layer
from hatchwright.errors import EntryError
from hatchwright.finding import Finding
from hatchwright.job.dxf_loop import read_closed
from hatchwright.judged import Status
from hatchwright.making.template.key_findings import holes_laid_on, laid_on
from hatchwright.making.template.part import KEY_HOLE, PartHole, TemplatePart, template_part
from hatchwright.said import said
from hatchwright.shapes.profile import Loop, profile_of
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.template_files import sound_making

SAME_IN = 1e-3
"""Drawing programs round to three places or more; what is off by less is the same template [in]."""


def in_hand(examination: Examination, path: Path) -> tuple[Finding, ...]:
    """Judge a template's DXF file for the side that it is to be laid on: T802, a stop when its edges or its
    key are not those of the job as it is now; where they are, T803 on its holes too.

    Raises:
        EntryError: the file cannot be read, or holds no template.
        ExportError: the job has no template.
    """
    own, held = template_part(sound_making(examination)), _part(path)
    edges = laid_on(held, own, same_in=SAME_IN)
    if edges.status is not Status.PASS:
        return (edges,)
    holes = holes_laid_on(held, own, same_in=SAME_IN)
    return (edges, holes) if holes else (edges,)


def _part(path: Path) -> TemplatePart:
    """The template of a file, face up, as a machine would make it."""
    edges = sorted(read_closed(path, layer=Layer.TEMPLATE), key=lambda loop: -loop.area_sq_in)
    if not edges:
        raise EntryError.saying(
            "error.no_template_edge", where="--in-hand", name=path.name, layer=str(Layer.TEMPLATE)
        )
    pilots = tuple(_hole(loop) for loop in read_closed(path, layer=Layer.DRILL_PILOT))
    keys = tuple(_hole(loop, KEY_HOLE) for loop in read_closed(path, layer=Layer.DRILL_FINAL))
    return TemplatePart(profile_of(*edges), tuple(edges), None, (*pilots, *keys))


def _hole(loop: Loop, name: str = "") -> PartHole:
    x_min, y_min, x_max, y_max = loop.bounds
    x, y = 0.5 * (x_min + x_max), 0.5 * (y_min + y_max)
    called = name or tell(said("making.hole_of_file", x=f"{x:.3f}", y=f"{y:.3f}"))
    return PartHole(called, (x, y), x_max - x_min)
