"""A trial on scrap: from the readings to the real offset, what is behind it, and the template made anew.

Method: docs/theory/trial.md.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hatchwright.errors import Fault, JobError
from hatchwright.job.cutter import Cutter, Template
from hatchwright.job.job import Job
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.layout.layout import Layout
from hatchwright.shapes.pieces import Floats
from hatchwright.tooling.edge_fit import EdgeFit, EdgeRun, fit_edges
from hatchwright.tooling.guide_template import guide_of, least_corner
from hatchwright.tooling.real_offset import Effect, RealOffset, between_directions, drift, real_offset
from hatchwright.tooling.trial_piece import PieceKind, TrialPiece, trial_piece
from hatchwright.units import MM_PER_IN, Length, decimal_inch, parse_length

_PLAUSIBLE_RATIO = 1.25
"""A reading farther from what is expected than this factor is not a cutter's doing [-]."""


@dataclass(frozen=True, slots=True)
class Trial:
    """What a trial on scrap showed.

    Args:
        piece: the trial piece with its template.
        offset: the real offset.
        cut_in: the real width of the cut [in].
        cut_along_in: the same from the readings along X and along Y by themselves, None without readings [in].
        wear: drift of the width of the cut, None with too few readings.
        directions: cut along X less cut along Y, None with too few readings.
        edges: growth, shift, turn and eccentricity, None without distances from the datum cross.
    """

    piece: TrialPiece
    offset: RealOffset
    cut_in: float
    cut_along_in: tuple[float | None, float | None]
    wear: Effect | None
    directions: Effect | None
    edges: EdgeFit | None

    @property
    def over_size_in(self) -> float:
        """How much larger than planned the cut comes out, across [in]."""
        guide = self.piece.chain.guide
        sign = 1.0 if guide.kind == "female" else -1.0
        return sign * 2.0 * (guide.offset_in - self.offset.offset_in)


def piece_for(layout: Layout, kind: PieceKind, size_in: float) -> TrialPiece:
    """Plan the trial piece of a job.

    Args:
        layout: as derived.
        kind: "square", "disc" or "corner".
        size_in: finished size of the piece [in].
    Returns:
        TrialPiece: with its template.
    Raises:
        JobError: the job has no cutter or no template.
        GeometryError: the piece is too small for the cutter.
    """
    cutter, template = _cutter_of(layout.job)
    corner = least_corner(layout.rough_cut) if layout.rough_cut else None
    return trial_piece(
        kind,
        size_in=size_in,
        allowance_in=cutter.filing_allowance.inch,
        corner_in=corner.radius_in if corner else 0.0,
        guide=guide_of(cutter, template),
    )


def _cutter_of(job: Job) -> tuple[Cutter, Template]:
    faults = [
        Fault(name, "a trial needs this section", remedy=f"Add [{name}] to the job.")
        for name in ("cutter", "template")
        if getattr(job, name) is None
    ]
    if faults or job.cutter is None or job.template is None:
        raise JobError(tuple(faults))
    return job.cutter, job.template


def evaluate(readings: TrialReadings, layout: Layout) -> Trial:
    """Work out what the readings of a trial say.

    Args:
        readings: as read.
        layout: of the job whose cutter was tried.
    Returns:
        Trial: offset, wear, directions and edges.
    Raises:
        JobError: a reading is in the wrong unit or far from what a trial can give.
        GeometryError: fewer than two widths were read.
    """
    piece = piece_for(layout, readings.piece, readings.size.inch)
    _refuse_slips(readings, piece)
    guide = piece.chain.guide
    sign = 1.0 if guide.kind == "female" else -1.0
    runs_x, runs_y = _widths(readings, "x"), _widths(readings, "y")
    apart_x = sign * (readings.template_x.inch - _joined(runs_x))
    apart_y = sign * (readings.template_y.inch - _joined(runs_y))
    offset = real_offset(
        np.concatenate([apart_x, apart_y]),
        gauge_limit_in=readings.gauge_limit.inch,
        template_standard_in=readings.template_uncertainty.inch,
    )
    cut_x, cut_y = (sign * (guide.guide_in - apart) for apart in (apart_x, apart_y))
    return Trial(
        piece=piece,
        offset=offset,
        cut_in=sign * (guide.guide_in - 2.0 * offset.offset_in),
        cut_along_in=(_mean(cut_x), _mean(cut_y)),
        wear=drift((*runs_x, *runs_y)),
        directions=between_directions(cut_x, cut_y),
        edges=_edges(readings, piece),
    )


def _mean(values: Floats) -> float | None:
    return float(np.mean(values)) if len(values) else None


def _widths(readings: TrialReadings, axis: str) -> list[Floats]:
    return [
        np.array([width.inch for width in getattr(cut, axis)]) for cut in readings.cuts if getattr(cut, axis)
    ]


def _joined(runs: list[Floats]) -> Floats:
    return np.concatenate(runs) if runs else np.empty(0)


def _edges(readings: TrialReadings, piece: TrialPiece) -> EdgeFit | None:
    should_be = np.einsum("nc,nc->n", piece.places, piece.normals)
    runs = tuple(
        EdgeRun(
            piece.places, piece.normals, np.array([edge.inch for edge in cut.edges]) - should_be, cut.turned
        )
        for cut in readings.cuts
        if cut.edges
    )
    return fit_edges(runs) if runs else None


def _refuse_slips(readings: TrialReadings, piece: TrialPiece) -> None:
    """Readings in the wrong unit are 25.4 times off; a reading far off for any other reason is a slip too."""
    expected: list[tuple[str, Length, float]] = [
        ("template_x", readings.template_x, piece.template_in),
        ("template_y", readings.template_y, piece.template_in),
    ]
    for number, cut in enumerate(readings.cuts):
        expected += [(f"cuts.{number}.x.{k}", width, piece.width_in) for k, width in enumerate(cut.x)]
        expected += [(f"cuts.{number}.y.{k}", width, piece.width_in) for k, width in enumerate(cut.y)]
        half_in = piece.width_in / 2.0
        expected += [(f"cuts.{number}.edges.{k}", edge, half_in) for k, edge in enumerate(cut.edges)]
    faults = tuple(
        Fault(field, _slip(length.inch / size_in), given=length.text, remedy=_expectation(size_in))
        for field, length, size_in in expected
        if not _is_plausible(length.inch / size_in)
    )
    if faults:
        raise JobError(faults)
    if readings.gauge_limit.inch > 0.1 * piece.width_in:
        raise JobError(
            (
                Fault(
                    "gauge_limit",
                    "a caliper is far better than that",
                    given=readings.gauge_limit.text,
                    remedy="Give its largest error, such as .001 in.",
                ),
            )
        )


def _is_plausible(ratio: float) -> bool:
    return 1.0 / _PLAUSIBLE_RATIO < ratio < _PLAUSIBLE_RATIO


def _slip(ratio: float) -> str:
    if _is_plausible(ratio / MM_PER_IN):
        return "this is 25.4 times too large: read in millimetres, entered as inches"
    if _is_plausible(ratio * MM_PER_IN):
        return "this is 25.4 times too small: read in inches, entered as millimetres"
    return "this is far from the size of the trial piece"


def _expectation(size_in: float) -> str:
    return f"About {decimal_inch(size_in)} in ({size_in * MM_PER_IN:.2f} mm) is expected; write the unit beside it."


@dataclass(frozen=True, slots=True)
class Regenerated:
    """The job with the proved cutter, and why its template changed.

    Args:
        job: with the new width of cut and the next revision of the template.
        reason: to be printed on the template and kept with the job.
        cut_text: the new width of cut as it goes into the job [in].
        revision: the new revision of the template.
    """

    job: Job
    reason: str
    cut_text: str
    revision: str


def regenerated(job: Job, trial: Trial) -> Regenerated:
    """Take the real offset over into the job.

    Args:
        job: whose cutter was tried.
        trial: on scrap.
    Returns:
        Regenerated: the same job with the proved width of cut; everything that is derived follows from it.
    Raises:
        JobError: the job has no cutter or no template.
    """
    cutter, template = _cutter_of(job)
    cut_text = decimal_inch(trial.cut_in, 4)
    if job.units == "mm":
        cut_text += " in"
    revision = next_revision(template.revision)
    reason = (
        f"Trial {trial.piece.kind} {decimal_inch(trial.piece.size_in)}: {trial.offset.count} readings give an "
        f"offset of {decimal_inch(trial.offset.offset_in, 4)} +- {decimal_inch(trial.offset.expanded_in, 4)} "
        f"(95 %), a cut of {decimal_inch(trial.cut_in, 4)} instead of {decimal_inch(cutter.cut_width.inch, 4)}."
    )
    cut_width = parse_length(cut_text)
    return Regenerated(
        job=job.model_copy(
            update={
                "cutter": cutter.model_copy(update={"cut_width": cut_width}),
                "template": template.model_copy(update={"revision": revision, "reason": reason}),
            }
        ),
        reason=reason,
        cut_text=cut_text,
        revision=revision,
    )


def next_revision(revision: str) -> str:
    """The letter after a revision: B after A, AA after Z.

    Args:
        revision: one or more capital letters.
    Returns:
        str: the next.

    >>> next_revision("A"), next_revision("AZ"), next_revision("Z")
    ('B', 'BA', 'AA')
    """
    kept = revision.rstrip("Z")
    after = "A" * (len(revision) - len(kept))
    return kept[:-1] + chr(ord(kept[-1]) + 1) + after if kept else "A" + after
