"""A trial on scrap: from the readings to the real offset, what is behind it, and the template made anew.

Method: docs/theory/trial.md.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from msgspec import Struct

from hatchwright.errors import Fault, JobError
from hatchwright.job.cutter import Cutter, Template
from hatchwright.job.job import Job
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.layout.layout import Layout
from hatchwright.layout.named import tool_named
from hatchwright.making.template.guide_template import guide_of
from hatchwright.making.trial.corner import TrialCorner, diagonal_in, trial_corner
from hatchwright.making.trial.piece import PieceKind, TrialPiece, trial_piece
from hatchwright.making.trial.scanned_cut import by_scan, edges_by_scan, put_together
from hatchwright.metrology.edge_fit import EdgeFit, EdgeRun, fit_edges
from hatchwright.metrology.real_offset import Effect, RealOffset, between_directions, drift, real_offset
from hatchwright.metrology.standing_apart import StandingApart, standing_apart
from hatchwright.said import Said, inch, said
from hatchwright.shapes.pieces import Floats
from hatchwright.units import MM_PER_IN, Unit, decimal_inch, parse_length
from hatchwright.words.tell import tell

_PLAUSIBLE_RATIO = 1.25
"""A reading farther from what is expected than this factor is not a cutter's doing [-]."""

USUAL_GAUGE: dict[Unit, str] = {"in": ".001 in", "mm": "0.03 mm"}
"""Largest error of a usual caliper, as it is typed. Common practice, no source."""

_FINEST_GAUGE_IN = 0.00005
"""A finer limit than half a tenth is a slip of the unit [in]. Common practice, no source."""


class Stray(Struct, frozen=True):
    """A reading that the others of its kind do not bear out: at "cuts.0.x.2", say, and named for people."""

    field: str
    named: Said
    text: str
    apart: StandingApart


class Trial(Struct, frozen=True):
    """What a trial on scrap showed.

    Args:
        cut_in: the real width of the cut [in].
        cut_along_in: the same from the readings along X and along Y by themselves, None without readings [in].
        wear: drift of the width of the cut, None with too few readings.
        directions: cut along X less cut along Y, None with too few readings.
        edges: growth, shift, turn and eccentricity by distances from the datum cross, or by scans where there are none;
            None without either.
        corner: radius by the diagonals, None without diagonals or without widths in both directions.
        made_in: the template as made, along X and Y [in].
        template_standard_in: standard uncertainty of these two sizes [in].
        strays: readings that stand apart, widths along X, along Y and edges each by themselves.
        by_caliper: the offset by widths alone, None without them.
        by_scan: the offset by a scan alone, None without one.
    """

    piece: TrialPiece
    offset: RealOffset
    cut_in: float
    cut_along_in: tuple[float | None, float | None]
    wear: Effect | None
    directions: Effect | None
    edges: EdgeFit | None
    corner: TrialCorner | None
    made_in: tuple[float, float]
    template_standard_in: float
    strays: tuple[Stray, ...]
    unit: Unit
    by_caliper: RealOffset | None = None
    by_scan: RealOffset | None = None

    @property
    def over_size_in(self) -> float:
        """How much larger than planned the cut comes out, across [in]."""
        guide = self.piece.chain.guide
        sign = 1.0 if guide.kind == "female" else -1.0
        return sign * 2.0 * (guide.offset_in - self.offset.offset_in)


def piece_for(layout: Layout, kind: PieceKind, size_in: float) -> TrialPiece:
    """Plan the trial piece of a job; JobError where it has no cutter or no template, GeometryError where the
    piece is too small for the cutter."""
    cutter, template = cutter_and_template(layout.job)
    corner = layout.rough_corner
    return trial_piece(
        kind,
        size_in=size_in,
        allowance_in=cutter.filing_allowance.inch,
        corner_in=corner.radius_in if corner else 0.0,
        guide=guide_of(cutter, template),
        unit=layout.job.unit,
    )


def cutter_and_template(job: Job) -> tuple[Cutter, Template]:
    """What a trial is made with; JobError where the job lacks one of them."""
    if job.hand_tool:
        told = said("trial.by_hand", tool=tool_named(job.hand_tool))
        raise JobError((Fault("hand_tool", told, remedy=said("trial.by_hand.do")),))
    faults = [
        Fault(name, said("trial.needs"), remedy=said(f"making.add.{name}"))
        for name in ("cutter", "template")
        if getattr(job, name) is None
    ]
    if faults or job.cutter is None or job.template is None:
        raise JobError(tuple(faults))
    return job.cutter, job.template


def evaluate(readings: TrialReadings, layout: Layout) -> Trial:
    """Work out what the readings of a trial say; JobError where one is in the wrong unit or far from what a
    trial can give, GeometryError where fewer than two widths were read."""
    piece = piece_for(layout, readings.piece, readings.size.inch)
    _refuse_slips(readings, piece, layout.job.unit)
    guide = piece.chain.guide
    sign = 1.0 if guide.kind == "female" else -1.0
    runs_x, runs_y = _read(readings, "x"), _read(readings, "y")
    apart_x = sign * (readings.template_x.inch - np.concatenate(runs_x))
    apart_y = sign * (readings.template_y.inch - np.concatenate(runs_y))
    edges = _edges(readings, piece) or edges_by_scan(readings, piece)
    gauge_in, template_in = readings.gauge_limit.inch, readings.template_uncertainty.inch
    errors = {"gauge_limit_in": gauge_in, "template_standard_in": template_in}
    widths = np.concatenate([apart_x, apart_y])
    caliper = real_offset(widths, **errors) if len(widths) or readings.scan is None else None
    scan = by_scan(readings, sign)
    offset = put_together(caliper, scan, template_in=template_in, unit=layout.job.unit)
    cut_x, cut_y = (sign * (guide.guide_in - apart) for apart in (apart_x, apart_y))
    return Trial(
        piece=piece,
        offset=offset,
        cut_in=sign * (guide.guide_in - 2.0 * offset.offset_in),
        cut_along_in=(_mean(cut_x), _mean(cut_y)),
        wear=drift((*runs_x, *runs_y), gauge_limit_in=gauge_in),
        directions=between_directions(cut_x, cut_y, **errors),
        edges=edges,
        corner=_corner(readings, piece, caliper),
        made_in=(readings.template_x.inch, readings.template_y.inch),
        template_standard_in=template_in,
        strays=tuple(_strays(readings, edges)),
        unit=layout.job.unit,
        by_caliper=caliper,
        by_scan=scan,
    )


def _corner(readings: TrialReadings, piece: TrialPiece, caliper: RealOffset | None) -> TrialCorner | None:
    x, y, diagonals = (np.concatenate(_read(readings, name)) for name in ("x", "y", "diagonals"))
    if caliper is None or not (len(x) and len(y) and len(diagonals)):
        return None
    return trial_corner(
        diagonals,
        width_in=0.5 * (float(np.mean(x)) + float(np.mean(y))),
        scatter_in=caliper.scatter_in,
        widths=caliper.count,
        gauge_limit_in=readings.gauge_limit.inch,
        predicted_in=piece.corner_in,
        finished_in=diagonal_in(piece.size_in, piece.finished_corner_in),
    )


def _strays(readings: TrialReadings, edges: EdgeFit | None) -> Iterator[Stray]:
    """In each direction by itself, over all cuts; the edges by what explains them."""
    for axis in ("x", "y"):
        values = np.concatenate(_read(readings, axis))
        found = standing_apart(values, np.ones((len(values), 1)), gauge_limit_in=readings.gauge_limit.inch)
        if found:
            yield _stray(readings, axis, found)
    if edges and edges.apart:
        yield _stray(readings, "edges", edges.apart)


def _stray(readings: TrialReadings, name: str, apart: StandingApart) -> Stray:
    """The reading that stands apart, by the numbers of its cut and of its place."""
    listed = [
        (cut_number, number, length)
        for cut_number, cut in enumerate(readings.cuts)
        for number, length in enumerate(getattr(cut, name))
    ]
    cut, number, length = listed[apart.index]
    kind = "place" if name == "edges" else "reading"
    named = said(f"trial.{kind}", list=name, number=number + 1, cut=cut + 1)
    return Stray(f"cuts.{cut}.{name}.{number}", named, length.text, apart)


def _mean(values: Floats) -> float | None:
    return float(np.mean(values)) if len(values) else None


def _read(readings: TrialReadings, name: str) -> list[Floats]:
    """What was read of one kind, an array for each cut, empty where it has none [in]."""
    return [np.array([length.inch for length in getattr(cut, name)]) for cut in readings.cuts]


def _edges(readings: TrialReadings, piece: TrialPiece) -> EdgeFit | None:
    should_be = np.einsum("nc,nc->n", piece.places, piece.normals)
    made = ((np.array([edge.inch for edge in cut.edges]), cut.turned) for cut in readings.cuts if cut.edges)
    runs = tuple(EdgeRun(piece.places, piece.normals, at - should_be, turned) for at, turned in made)
    return fit_edges(runs, gauge_limit_in=readings.gauge_limit.inch) if runs else None


def _refuse_slips(readings: TrialReadings, piece: TrialPiece, unit: Unit) -> None:
    """Readings in the wrong unit are 25.4 times off; a reading far off for any other reason is a slip too."""
    templates = {"template_x": readings.template_x, "template_y": readings.template_y}
    expected = [(field, length, piece.template_in) for field, length in templates.items()]
    sizes_in = dict.fromkeys(("x", "y"), piece.width_in) | {
        "edges": piece.width_in / 2.0,
        "diagonals": diagonal_in(piece.width_in, piece.corner_in),
    }
    expected += [
        (f"cuts.{number}.{name}.{k}", length, size_in)
        for number, cut in enumerate(readings.cuts)
        for name, size_in in sizes_in.items()
        for k, length in enumerate(getattr(cut, name))
    ]
    for name, scan in readings.scans.items():
        sizes = {f"{name}.width": scan.width, f"{name}.height": scan.height}
        expected += [(field, length, piece.width_in) for field, length in sizes.items()]
    faults = []
    for field, length, size_in in expected:
        if not _is_plausible(length.inch / size_in):
            what, do = _slip(length.inch / size_in), said("trial.expected", size=inch(size_in))
            faults.append(Fault(field, what, length.text, do, unit=unit))
    if faults:
        raise JobError(tuple(faults))
    gauge = readings.gauge_limit
    if gauge.inch < _FINEST_GAUGE_IN:
        raise JobError.about("gauge_limit", "trial.gauge_too_good", gauge.text)
    if gauge.inch > 0.1 * piece.width_in:
        raise JobError.about("gauge_limit", "trial.gauge_too_coarse", gauge.text, such_as=USUAL_GAUGE[unit])


def _is_plausible(ratio: float) -> bool:
    return 1.0 / _PLAUSIBLE_RATIO < ratio < _PLAUSIBLE_RATIO


def _slip(ratio: float) -> Said:
    if _is_plausible(ratio / MM_PER_IN):
        return said("trial.mm_as_inches")
    if _is_plausible(ratio * MM_PER_IN):
        return said("trial.inches_as_mm")
    return said("trial.far_off")


def regenerated(job: Job, trial: Trial) -> tuple[Cutter, Template]:
    """Take the real offset over: the proved cutter, and the template's next revision with the reason for it;
    JobError where the job has no cutter or no template."""
    cutter, template = cutter_and_template(job)
    unit = job.unit
    cut_text = decimal_inch(trial.cut_in, 4) if unit == "in" else f"{trial.cut_in * MM_PER_IN:.3f} mm"
    real, wide_in = trial.offset, cutter.cut_width.inch
    sizes = {"offset": real.offset_in, "within": real.expanded_in, "cut": trial.cut_in, "planned": wide_in}
    exact = {name: inch(size_in, fine=True) for name, size_in in sizes.items()}
    told = said(f"trial.reason.{trial.piece.kind}", size=inch(trial.piece.size_in), n=real.count, **exact)
    # The reason is kept with the job as text, so it is made here and not where it is shown.
    anew = {"revision": next_revision(template.revision), "reason": tell(told, unit)}
    width = {"cut_width": parse_length(cut_text, unit=unit)}
    return cutter.model_copy(update=width), template.model_copy(update=anew)


def next_revision(revision: str) -> str:
    """The letter after a revision: B after A, AA after Z.

    >>> next_revision("A"), next_revision("AZ"), next_revision("Z")
    ('B', 'BA', 'AA')
    """
    kept = revision.rstrip("Z")
    after = "A" * (len(revision) - len(kept))
    return kept[:-1] + chr(ord(kept[-1]) + 1) + after if kept else "A" + after
