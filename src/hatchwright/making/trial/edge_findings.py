"""T205, T206, T210 and T211: where the edges and corners of a trial cut lie, from the datum cross and the diagonals."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.finding import Finding, stated
from hatchwright.ground import Ground
from hatchwright.judged import Measure, Status
from hatchwright.making.cutter.misplacement import misplaced
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.making.trial.beside_plan import beside_plan, shows
from hatchwright.making.trial.corner import TrialCorner
from hatchwright.making.trial.piece import side_of
from hatchwright.making.trial.trial import Trial
from hatchwright.metrology.edge_fit import EdgeFit
from hatchwright.metrology.real_offset import GUM, Effect
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Amount, Listed, Said, inch, missing, said
from hatchwright.workings import Grade, Source

_THEORY = "docs/theory/trial.md"
_METHOD = Ground(Source(GUM, f"5.1.2 and G.2b; {_THEORY}"), Grade.COMPUTED)
_READS = ("cutter", "template", "wanted")

for _code in ("T205", "T206", "T210", "T211"):
    enter(Entry(_code, Shelf.SETTLE, step="trial", reads=_READS, theory=_THEORY))


def edge_findings(trial: Trial, template: GuideChain | None) -> Iterator[Finding]:
    """Judge the edges and the corners of a trial cut: what was measured, nothing of what was not but the
    corners of a piece cut for them. The shift and the turn are tried out on the job's template, where there
    is one."""
    fit, corner, piece = trial.edges, trial.corner, trial.piece
    if fit:
        yield from _edges(fit, template)
    if fit and fit.turn_rad:
        yield _turn(fit, fit.turn_rad, template)
    if corner:
        yield _corner(corner)
    elif piece.kind == "corner":
        what, do = said("T211.not_measured"), said("T211.measure")
        yield stated("T211", Status.UNKNOWN, what, _METHOD, do, limit=piece.corner_in, unit="in")


def _edges(fit: EdgeFit, template: GuideChain | None) -> Iterator[Finding]:
    """T205: the template lies true on the datum cross. T206: the cut is concentric with its guide."""
    on_the_job = (_on_the_job(fit, template),) if template else ()
    if fit.eccentricity is None:
        advice = (said("T205.align"), said("T205.second_trial"), *on_the_job)
        yield _off_center("T205", "T205.together", fit.shift, *advice)
        return
    yield _off_center("T205", "T205.shift", fit.shift, said("T205.align_or_remake"), *on_the_job)
    yield _off_center("T206", "T206.subject", fit.eccentricity, said("T206.do"))


def _on_the_job(fit: EdgeFit, template: GuideChain) -> Said:
    """What the same shift and turn would do to the opening."""
    x_min, y_min, x_max, y_max = template.wanted.bounds
    turn = fit.turn_rad if fit.turn_rad and not fit.sides_disagree else None
    shift_in = (fit.shift[0].size_in, fit.shift[1].size_in)
    turn_deg = math.degrees(turn.size_in) if turn else 0.0
    pivot = ((x_min + x_max) / 2.0, (y_min + y_max) / 2.0)
    off = misplaced(template.predicted, template.wanted, shift_in=shift_in, turn_deg=turn_deg, pivot=pivot)
    return said("T205.on_the_job", by=inch(off.over_cut.depth_in))


def _turn(fit: EdgeFit, found: Effect, template: GuideChain | None) -> Finding:
    """T210: the template was not turned against the datum cross."""
    turn_deg, within_deg = math.degrees(found.size_in), math.degrees(found.expanded_in)
    turn, judged = Measure("turn", turn_deg, within_deg, "deg"), shows(found, on=_METHOD, unit="rad")
    if fit.sides_disagree:
        turned = ((side_of(side.normal), _degrees(side.turn_rad)) for side in fit.sides)
        sides = tuple(said(f"T210.side.{of}", turn=turn_of) for of, turn_of in turned)
        subject, advice = said("T210.disagree", sides=Listed(sides, ",")), _disagreement(fit)
        return beside_plan("T210", turn, 0.0, judged, subject, *advice, status=Status.UNKNOWN)
    within, size = _degrees(found.expanded_in), _degrees(abs(found.size_in))
    subject = said("T210.not_turned", within=within)
    if size.value:
        subject = said("T210.left" if turn_deg > 0.0 else "T210.right", turn=size, within=within)
    advised = [said("T210.do")]
    if template:
        # The point of the job's rough line that is farthest from its middle moves most.
        x_min, y_min, x_max, y_max = template.wanted.bounds
        moved_in = abs(found.size_in) * math.hypot(x_max - x_min, y_max - y_min) / 2.0
        advised.append(said("T210.on_the_job", by=inch(moved_in)))
    return beside_plan("T210", turn, 0.0, judged, subject, *advised)


def _degrees(angle_rad: float) -> Amount:
    """A turn to a hundredth of a degree, which is all that the readings are worth."""
    return Amount(round(math.degrees(angle_rad), 2), "deg")


def _disagreement(fit: EdgeFit) -> Iterator[Said]:
    left = [side for side in fit.sides if side.turn_rad > 0.0]
    right = [side for side in fit.sides if side.turn_rad < 0.0]
    fewer, sizes = min(left, right, key=len), [abs(side.turn_rad) for side in fit.sides]
    middle, told = sum(sizes) / len(sizes), max(side.against_all.expanded_in for side in fit.sides)
    yield said("T210.contradict")
    if fewer and max(abs(size - middle) for size in sizes) <= told:
        sides = Listed(tuple(said(f"T210.on.{side_of(side.normal)}") for side in fewer))
        id = "T210.opposite_order_either" if len(left) == len(right) else "T210.opposite_order"
        yield said(id, turn=_degrees(middle), n=len(fewer), sides=sides)
    yield said("T210.measure_again")


def _corner(corner: TrialCorner) -> Finding:
    """T211: the corners have the radius that the cutter was to leave, and metal is left in them."""
    left = _METHOD.at_least(Measure("left", corner.left_in), 0.0)
    is_over, within_in = left.status is not Status.PASS, corner.beyond.expanded_in
    radius, predicted = inch(corner.radius_in), inch(corner.predicted_in)
    told = said("T211.radius", radius=radius, within=inch(within_in), predicted=predicted)
    if is_over:
        advice = (said("T211.over", by=missing(-corner.left_in)), told, said("T211.over.do"))
    else:
        shape = "T211.rounder" if corner.beyond.size_in > 0.0 else "T211.sharper"
        advice = (told, said(shape, left=inch(corner.left_in)), said("T211.do"))
    sizes = {"R": corner.radius_in, "R predicted": corner.predicted_in}
    judged = left if is_over else shows(corner.beyond, on=_METHOD)
    working = _METHOD.lengths("R = (sqrt 2 width - diagonal) / (2 (sqrt 2 - 1))", **sizes)
    made, subject = Measure("R", corner.radius_in, within_in), said("T211.subject", n=corner.count)
    return beside_plan("T211", made, corner.predicted_in, judged, subject, *advice, working=working)


def _off_center(code: str, subject: str, along: tuple[Effect, Effect], *advice: Said) -> Finding:
    x, y = along
    off = Measure("off", math.hypot(x.size_in, y.size_in), max(x.expanded_in, y.expanded_in))
    told = said(subject, x=inch(x.size_in, fine=True), y=inch(y.size_in, fine=True))
    return beside_plan(code, off, 0.0, shows(x, y, on=_METHOD), told, *advice)
