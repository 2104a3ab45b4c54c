"""R203, R206 to R208, R211: the pattern of rows, its longest and flush pitches, its overlap and its stagger."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from hatchwright.finding import Finding
from hatchwright.judged import Judgement, Measure, Numbers, Status, bound
from hatchwright.layout.layout import Array, Spacing, points_of
from hatchwright.layout.survey import EdgeDistances, Survey
from hatchwright.metrology.distance_uncertainty import distance_us
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.spacing import judge_spacings, worst_pitch
from hatchwright.rules.wording import is_flush, numbered
from hatchwright.said import Amount, said
from hatchwright.tables.cited import Cited


@rule("R203", Shelf.KNOW, reads=("pitches",), marks_holes=True, cause="long pitch")
@judged_by(limits=("pitch_usual_max",))
@mended_by(Change.ROW_PITCH)
def longest_pitch(survey: Survey) -> Iterator[Finding]:
    """R203: pitch, longest."""
    yield from _longest(survey, "R203")


@rule("R207", Shelf.HOLDS, reads=("pitches",), marks_holes=True, cause="long pitch")
@judged_by(limits=("pitch_max",))
@mended_by(Change.ROW_PITCH)
def pitch_beyond_any_reading(survey: Survey) -> Iterator[Finding]:
    """R207: pitch, beyond any reading."""
    yield from _longest(survey, "R207")


LONGEST = {"R203": ("pitch_usual_max", Status.CAUTION), "R207": ("pitch_max", Status.UNKNOWN)}
"""The rules that hold a pitch to a greatest: their limit, and what a longer one is."""


def judge_longest(survey: Survey, code: str, pairs: Sequence[Spacing]) -> Judgement:
    """What one of `LONGEST` holds against its limit."""
    key, over = LONGEST[code]
    return judge_spacings(pairs, {"": survey.limit(key)}, at_least=False, fails_as=over)


def _longest(survey: Survey, code: str) -> Iterator[Finding]:
    """Each row with a pitch that is too long; where there is none the longest of all rows."""
    rows = survey.rivet_pitches
    every = [pair for pairs in rows.values() for pair in pairs]
    if not every:
        return
    judged = judge_longest(survey, code, every)
    if judged.status is Status.PASS:
        i = int(np.argmax([pair.distance_in / pair.diameter_in for pair in every]))
        pair = every[i]
        subject = said("pitch.longest_of_all", holes=numbered(pair.first, pair.second))
        yield held(judged.at(i), subject, holes=(pair.first.number, pair.second.number), place=pair.middle)
        return
    for row, pairs in rows.items():
        judged = judge_longest(survey, code, pairs)
        if judged.status is not Status.PASS:
            yield worst_pitch(row, pairs, judged, subject="pitch.longest")


_PROTRUDING = {1: "pitch_min_single_row", 2: "pitch_min_double_row", 3: "pitch_min_triple_row"}
_FLUSH = {
    1: "pitch_min_countersunk_single_row",
    2: "pitch_min_countersunk_double_row",
    3: "pitch_min_countersunk_triple_row",
}
"""Limits by the number of rows side by side, three for more."""


@rule("R206", Shelf.KNOW, reads=("pattern", "pitches"), marks_holes=True)
@judged_by(limits=(*_FLUSH.values(), *_PROTRUDING.values()))
def pitch_of_flush_rows(survey: Survey) -> Iterator[Finding]:
    """R206: pitch of flush rivets; the figure is from memory, protruding heads give the other end of its range."""
    for row, pairs, judged in judged_flush_pitches(survey):
        yield worst_pitch(row, pairs, judged, advice=said("R206.confirm"))


def judged_flush_pitches(survey: Survey) -> Iterator[tuple[str, tuple[Spacing, ...], Judgement]]:
    """What R206 holds against its limit: each flush row, its neighbors, and both together."""
    for row, pairs in survey.rivet_pitches.items():
        if is_flush(pairs[0].first):
            rows = min(len(survey.pattern(row)), 3)
            limits, to = {"": survey.limit(_FLUSH[rows])}, survey.limit(_PROTRUDING[rows])
            yield row, pairs, judge_spacings(pairs, limits, to=to, fails_as=Status.CAUTION)


@rule("R208", Shelf.HOLDS, reads=("edges", "row_spacings"), marks_holes=True)
@judged_by(limits=("min_overlap_double_row",))
@mended_by(Change.DOUBLER_SIZE, Change.OPENING_SIZE, Change.NEW_RING)
def overlap_of_double_row(survey: Survey) -> Iterator[Finding]:
    """R208: overlap of a double row."""
    found = judged_overlap(survey)
    if found is None:
        return
    opening, here, judged = found.opening, found.here, found.judged
    i = judged.worst()
    hole = opening.holes[here[i]]
    subject = said("R208.narrowest", hole=numbered(hole))
    yield held(judged.at(i), subject, said("R208.too_narrow"), ASK, holes=(hole.number,), place=hole.place)


class Overlap(NamedTuple):
    """The overlap of a double row hole by hole, from the opening's edge through the hole to the doubler's.

    Args:
        opening: all distances to the opening's edge, of which `here` are meant, shape (n,).
        outer: all to the doubler's outer edge, of which `there` are meant, shape (n,).
    """

    opening: EdgeDistances
    here: npt.NDArray[np.intp]
    outer: EdgeDistances
    there: npt.NDArray[np.intp]
    judged: Judgement


def judged_overlap(survey: Survey) -> Overlap | None:
    """What R208 holds against its limit; None without two rows between opening and doubler edge."""
    edges = {row.edge.name: row for row in survey.edges}
    opening, outer = edges.get("opening edge"), edges.get("doubler outer edge")
    if opening is None or outer is None:
        return None
    paired = {name for found in survey.row_spacings for name in (found.hole.row, found.other_row)}
    to_outer = {hole.number: j for j, hole in enumerate(outer.holes) if hole.row in paired}
    across = [(k, to_outer[hole.number]) for k, hole in enumerate(opening.holes) if hole.number in to_outer]
    if not across:
        return None
    here, there = np.array(across, dtype=int).T
    diameter_in = opening.diameter_in[here]
    feet_in = opening.foot_in[here], outer.foot_in[there]
    is_own = opening.edge.is_own_u_at(feet_in[0]) | outer.edge.is_own_u_at(feet_in[1])
    overlap = Measure(
        "overlap",
        opening.distance_in[here] + outer.distance_in[there],
        distance_us(opening.uncertainty_in[here], outer.uncertainty_in[there], is_own=is_own),
        per=("D", diameter_in, "in"),
    )
    judged = overlap_held(overlap, diameter_in, survey.limit("min_overlap_double_row"))
    return Overlap(opening, here, outer, there, judged)


def overlap_held(overlap: Measure, diameter_in: Numbers, least: Cited) -> Judgement:
    """Hold overlaps of a double row to the least of a document [D]; what is short of it can't be shown to hold."""
    return Judgement(overlap, (bound(least, diameter_in, "D"),), fails_as=Status.UNKNOWN)


@rule("R211", Shelf.KNOW, reads=("row_spacings", "rows"), marks_holes=True)
@judged_by(limits=("stagger_rows",))
@mended_by(Change.ROW_STAGGER, Change.ROW_PITCH)
def stagger(survey: Survey) -> Iterator[Finding]:
    """R211: stagger of neighboring rows."""
    least = bound(survey.limit("stagger_rows"))
    for found in {found.rows: found for found in survey.row_spacings}.values():
        share = stagger_ratio(*(points_of(survey.rows[row]) for row in (found.hole.row, found.other_row)))
        if share is None:
            continue
        judged = Judgement(
            Measure("offset/pitch", share, unit="of a pitch"), (least,), fails_as=Status.CAUTION
        )
        rows = {"row": found.hole.row, "other": found.other_row}
        subject = (
            said("R211.rows", share=Amount(share, ""), **rows)
            if judged.status is Status.PASS
            else said("R211.facing", **rows)
        )
        yield held(judged, subject, said("R211.stagger"), ASK)


_NO_STEP_IN2 = 1e-18
"""Holes on the same place make no bay: the square of their distance [in^2]."""


def stagger_ratio(points: Array, others: Array) -> float | None:
    """Median distance along the row from a hole to the nearest hole of the other row, over the pitch; 0.5 at most.

    None for rows that do not run side by side over at least two holes.

    Args:
        points, others: hole centers of both rows in the order in which they are laid, shape (n, 2) [in].
    """
    share = float(stagger_ratios(points, others))
    return None if np.isnan(share) else share


def stagger_ratios(points: Array, others: Array) -> Array:
    """The same of many pairs of rows, NaN for those that do not run side by side, of the shape that the leading axes
    broadcast to.

    Args:
        points, others: shapes (..., n, 2) and (..., m, 2) [in].
    """
    step = np.diff(others, axis=-2)
    square = (step**2).sum(axis=-1, keepdims=True)
    per_step = np.divide(step, square, out=np.full(step.shape, np.nan), where=square > _NO_STEP_IN2)
    off = (points[..., :, None, axis] - others[..., None, :-1, axis] for axis in (0, 1))
    x, y = (each * per_step[..., None, :, axis] for axis, each in enumerate(off))
    share = x + y  # of the step, from its first hole
    share = np.minimum(share, 1.0 - share)
    # Only where a hole lies square beside a bay of the other row is it opposite anything; round a corner it is not.
    to_nearest = np.where(share >= 0.0, share, np.inf).min(axis=-1)
    # The median, because equal bays on rows of different length drift past each other: the ends say nothing of the row.
    to_nearest.sort(axis=-1)
    count = np.isfinite(to_nearest).sum(axis=-1)
    middle = [np.maximum((count - by) // 2, 0)[..., None] for by in (1, 0)]
    low, high = (np.take_along_axis(to_nearest, each, axis=-1)[..., 0] for each in middle)
    with np.errstate(invalid="ignore"):
        return np.asarray(np.where(count < 2, np.nan, (low + high) / 2.0))
