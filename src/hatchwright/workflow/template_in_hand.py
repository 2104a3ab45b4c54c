"""Judge a template file in hand against the job that it is to be laid on."""

from __future__ import annotations

from pathlib import Path

from hatchwright.drawings.layers import Layer
from hatchwright.errors import EntryError
from hatchwright.finding import Finding
from hatchwright.job.dxf_loop import read_closed
from hatchwright.shapes.profile import Loop, profile_of
from hatchwright.tooling.key_findings import laid_on
from hatchwright.tooling.template_part import KEY_HOLE, PartHole, TemplatePart, template_part
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.template_files import sound_chain

SAME_IN = 1e-3
"""Drawing programs round to three places or more; what is off by less is the same template [in]."""


def in_hand(examination: Examination, path: Path) -> Finding:
    """Judge a template's DXF file.

    Args:
        examination: of the job, on the side that the template is to be laid on.
        path: the file.
    Returns:
        Finding: T802, a stop when the file is not that of the job as it is now.
    Raises:
        EntryError: the file cannot be read, or holds no template.
        ExportError: the job has no template.
    """
    own = template_part(examination.layout, sound_chain(examination))
    return laid_on(_part(path), own, same_in=SAME_IN)


def _part(path: Path) -> TemplatePart:
    """The template of a file, face up, as a machine would make it."""
    edges = sorted(read_closed(path, layer=Layer.TEMPLATE), key=lambda loop: -loop.area_sq_in)
    if not edges:
        raise EntryError(
            f"{path.name} has no closed edge on the layer {Layer.TEMPLATE}",
            where="--in-hand",
            remedy="Give the DXF file of a template as this program wrote it",
        )
    keys = tuple(_hole(loop) for loop in read_closed(path, layer=Layer.DRILL_FINAL))
    return TemplatePart(profile_of(*edges), tuple(edges), None, keys)


def _hole(loop: Loop) -> PartHole:
    x_min, y_min, x_max, y_max = loop.bounds
    return PartHole(KEY_HOLE, (0.5 * (x_min + x_max), 0.5 * (y_min + y_max)), x_max - x_min)
