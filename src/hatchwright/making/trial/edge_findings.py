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
from hatchwright.workings import Grade, Quantity, Source

_THEORY = "docs/theory/trial.md"
_METHOD = Ground(Source(GUM, f"5.1.2 and G.2b; {_THEORY}"), Grade.COMPUTED)
_READS = ("cutter", "template", "wanted")

for _code in ("T205", "T206", "T210", "T211"):
    enter(Entry(_code, Shelf.SETTLE, step="trial", reads=_READS, theory=_THEORY))


def edge_findings(trial: Trial, template: GuideChain | None) -> Iterator[Finding]:
    """Judge the edges and the corners of a trial cut: what was measured, nothing of what was not but the
    corners of a piece cut for them. The shift and the turn are tried out on the job's template, where there
    is one."""
    yield from _edges(trial, template)
    yield from _turn(trial, template)
    yield from _corner(trial)


def _edges(trial: Trial, template: GuideChain | None) -> Iterator[Finding]:
    """T205: the template lies true on the datum cross. T206: the cut is concentric with its guide."""
    fit = trial.edges
    if fit is None:
        return
    on_the_job = tuple(_on_the_job(fit, template))
    if fit.eccentricity is None:
        advice = (said("T205.align"), said("T205.second_trial"), *on_the_job)
        yield _off_center("T205", "T205.together", fit.shift, *advice)
        return
    yield _off_center("T205", "T205.shift", fit.shift, said("T205.align_or_remake"), *on_the_job)
    yield _off_center("T206", "T206.subject", fit.eccentricity, said("T206.do"))


def _on_the_job(fit: EdgeFit, template: GuideChain | None) -> Iterator[Said]:
    """What the same shift and turn would do to the opening."""
    if template is None:
        return
    x_min, y_min, x_max, y_max = template.wanted.bounds
    turn = fit.turn_rad if fit.turn_rad and not fit.sides_disagree else None
    off = misplaced(
        template.predicted,
        template.wanted,
        shift_in=(fit.shift[0].size_in, fit.shift[1].size_in),
        turn_deg=math.degrees(turn.size_in) if turn else 0.0,
        pivot=((x_min + x_max) / 2.0, (y_min + y_max) / 2.0),
    )
    yield said("T205.on_the_job", by=inch(off.over_cut.depth_in))


def _turn(trial: Trial, template: GuideChain | None) -> Iterator[Finding]:
    """T210: the template was not turned against the datum cross."""
    fit = trial.edges
    if fit is None or fit.turn_rad is None:
        return
    turn_deg, within_deg = math.degrees(fit.turn_rad.size_in), math.degrees(fit.turn_rad.expanded_in)
    turn, judged = (Measure("turn", turn_deg, within_deg, "deg"), shows(fit.turn_rad, on=_METHOD, unit="rad"))
    if fit.sides_disagree:
        sides = tuple(
            said(f"T210.side.{side_of(side.normal)}", turn=_degrees(side.turn_rad)) for side in fit.sides
        )
        subject, advice = said("T210.disagree", sides=Listed(sides, ",")), _disagreement(fit)
        yield beside_plan("T210", turn, 0.0, judged, subject, *advice, status=Status.UNKNOWN)
        return
    on_the_job = _turn_on_the_job(fit.turn_rad, template)
    yield beside_plan("T210", turn, 0.0, judged, _turned(turn_deg, within_deg), said("T210.do"), *on_the_job)


def _degrees(angle_rad: float) -> Amount:
    """A turn to a hundredth of a degree, which is all that the readings are worth."""
    return Amount(round(math.degrees(angle_rad), 2), "deg")


def _turned(turn_deg: float, within_deg: float) -> Said:
    size, within = Amount(abs(round(turn_deg, 2)), "deg"), Amount(round(within_deg, 2), "deg")
    if size.value == 0.0:
        return said("T210.not_turned", within=within)
    return said("T210.left" if turn_deg > 0.0 else "T210.right", turn=size, within=within)


def _turn_on_the_job(turn: Effect, template: GuideChain | None) -> Iterator[Said]:
    """How far the same turn moves the point of the job's rough line that is farthest from its middle."""
    if template is None:
        return
    x_min, y_min, x_max, y_max = template.wanted.bounds
    moved_in = abs(turn.size_in) * math.hypot(x_max - x_min, y_max - y_min) / 2.0
    yield said("T210.on_the_job", by=inch(moved_in))


def _disagreement(fit: EdgeFit) -> Iterator[Said]:
    left = [side for side in fit.sides if side.turn_rad > 0.0]
    right = [side for side in fit.sides if side.turn_rad < 0.0]
    fewer = min(left, right, key=len)
    sizes = [abs(side.turn_rad) for side in fit.sides]
    middle = sum(sizes) / len(sizes)
    told = max(side.against_all.expanded_in for side in fit.sides)
    yield said("T210.contradict")
    if fewer and max(abs(size - middle) for size in sizes) <= told:
        sides = Listed(tuple(said(f"T210.on.{side_of(side.normal)}") for side in fewer))
        id = "T210.opposite_order_either" if len(left) == len(right) else "T210.opposite_order"
        yield said(id, turn=_degrees(middle), n=len(fewer), sides=sides)
    yield said("T210.measure_again")


def _corner(trial: Trial) -> Iterator[Finding]:
    """T211: the corners have the radius that the cutter was to leave, and metal is left in them."""
    corner = trial.corner
    if corner is None:
        if trial.piece.kind == "corner":
            yield stated(
                "T211",
                Status.UNKNOWN,
                said("T211.not_measured"),
                _METHOD,
                said("T211.measure"),
                limit=trial.piece.corner_in,
                unit="in",
            )
        return
    left = _METHOD.at_least(Measure("left", corner.left_in), 0.0)
    is_over = left.status is not Status.PASS
    yield beside_plan(
        "T211",
        Measure("R", corner.radius_in, corner.beyond.expanded_in),
        corner.predicted_in,
        left if is_over else shows(corner.beyond, on=_METHOD),
        said("T211.subject", n=corner.count),
        *_corner_advice(corner, is_over=is_over),
        working=_METHOD.working(
            "R = (sqrt 2 width - diagonal) / (2 (sqrt 2 - 1))",
            Quantity("R", corner.radius_in, "in"),
            Quantity("R predicted", corner.predicted_in, "in"),
        ),
    )


def _corner_advice(corner: TrialCorner, *, is_over: bool) -> Iterator[Said]:
    if is_over:
        yield said("T211.over", by=missing(-corner.left_in))
    yield said(
        "T211.radius",
        radius=inch(corner.radius_in),
        within=inch(corner.beyond.expanded_in),
        predicted=inch(corner.predicted_in),
    )
    if is_over:
        yield said("T211.over.do")
    else:
        yield said(
            "T211.rounder" if corner.beyond.size_in > 0.0 else "T211.sharper", left=inch(corner.left_in)
        )
        yield said("T211.do")


def _off_center(code: str, subject: str, along: tuple[Effect, Effect], *advice: Said) -> Finding:
    x, y = along
    off = Measure("off", math.hypot(x.size_in, y.size_in), max(x.expanded_in, y.expanded_in))
    told = said(subject, x=inch(x.size_in, fine=True), y=inch(y.size_in, fine=True))
    return beside_plan(code, off, 0.0, shows(x, y, on=_METHOD), told, *advice)
