"""The holes of a trial: the starter in its waste, and four places for pins or clamps that hold its template.

Method: docs/theory/trial.md, Holes.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from hatchwright.job.cutter import Cutter, Template
from hatchwright.layout.layout import Layout
from hatchwright.making.cutter.starter import starter_diameter_in
from hatchwright.making.trial.piece import TrialPiece
from hatchwright.shapes.distance import distances

Place = tuple[float, float]

_PIN_INSET_IN = 0.35
"""Middle of a pin from the edges of the plate [in]. Common practice, no source."""

_PIN_RATIO = 0.4
"""Middle of a pin on a plug, as a share of half its width; nearer to the edge are the words [-]."""

_SAME_IN = 1e-9
_BESIDE_CROSS_IN = 0.1
_ACROSS_RATIO = 0.3


class TrialHoles(Struct, frozen=True):
    """Where a trial is drilled.

    Args:
        starter_at: its middle in the waste (x, y), None where there is no room for it [in].
        pins_at: four places for pins or clamps, the same when the template is turned half round [in].
        pin_in: diameter of the pilot hole of a pin, None when the job does not say [in].
        are_clear: whether the tool passes all four; None when its body or that of a pin was not measured.
    """

    starter_in: float
    starter_at: Place | None
    pins_at: tuple[Place, ...]
    pin_in: float | None
    are_clear: bool | None


def trial_holes(
    layout: Layout, piece: TrialPiece, cutter: Cutter, template: Template, *, plate_half_in: float
) -> TrialHoles:
    """Find room for the holes of a trial.

    Args:
        plate_half_in: from the datum cross to the edge of the plate round a window, or of the plug [in].
    """
    starter_in, is_window = starter_diameter_in(cutter), piece.chain.guide.kind == "female"
    clear_in = layout.limit("starter_from_cut_min").value
    at = _in_the_middle(piece, starter_in, clear_in) if is_window else _on_the_path(piece, starter_in)
    need_in = None
    if cutter.body and template.pin_body:
        need_in = (cutter.body.inch + template.pin_body.inch) / 2.0
    half_in = plate_half_in - _PIN_INSET_IN if is_window else _PIN_RATIO * plate_half_in
    if not is_window and need_in is not None:
        inside_in = plate_half_in + piece.chain.guide.guide_in / 2.0 - need_in
        half_in = min(half_in, inside_in) if inside_in > _PIN_INSET_IN / 2.0 else half_in
    pins = tuple((x * half_in, y * half_in) for x in (-1.0, 1.0) for y in (-1.0, 1.0))
    off = distances(piece.chain.reached, list(pins)).distance_in
    return TrialHoles(
        starter_in=starter_in,
        starter_at=at,
        pins_at=pins,
        pin_in=template.pin.inch if template.pin else None,
        are_clear=None if need_in is None else bool(np.min(off) >= need_in - _SAME_IN),
    )


def _in_the_middle(piece: TrialPiece, diameter_in: float, clear_in: float) -> Place | None:
    """Inside a window: beside the datum cross when there is room, else on it."""
    beside_in = max(diameter_in / 2.0 + _BESIDE_CROSS_IN, _ACROSS_RATIO * piece.width_in / 2.0)
    for place in ((-beside_in, -beside_in), (0.0, 0.0)):
        if distances(piece.chain.wanted, [place]).inward_in[0] >= diameter_in / 2.0 + clear_in:
            return place
    return None


def _on_the_path(piece: TrialPiece, diameter_in: float) -> Place | None:
    """Beside a plug the guide keeps the tool's middle on its path, half a cut inside the line."""
    if diameter_in > piece.chain.guide.cut_in + _SAME_IN:
        return None
    out = piece.normals[1] + piece.normals[2]
    out = out / np.linalg.norm(out)
    between = (piece.places[1] + piece.places[2]) / 2.0
    x, y = between + out * ((piece.width_in - piece.chain.guide.cut_in) / 2.0 - between @ out)
    return float(x), float(y)
