"""What binds an offer: every limit that it lies on, to within a step of the shop, or a single rivet."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import survey
from hatchwright.said import Amount, Said, inch, room, said
from hatchwright.search.proposal.conflict_told import called
from hatchwright.search.proposal.family import Family, Ring
from hatchwright.search.proposal.laid import apart_in, between_rows_in, neighbors_in, points_of_row
from hatchwright.search.proposal.place import Shift
from hatchwright.search.proposal.problem import Problem
from hatchwright.search.proposal.values import Binding

_PLAIN = ("proposal.binds.opening_edge", "proposal.binds.outer_edge", "proposal.binds.between")
_KEPT = ("proposal.binds.opening_edge_kept", "proposal.binds.outer_edge_kept", "proposal.binds.between_kept")
"""Limits to which something is added for the shop's scatter, without that and with it."""


def bindings(problem: Problem, of: int, ring: Ring, shift: Shift, entered: Layout) -> tuple[Binding, ...]:
    """The limits that a ring lies on, the rivets first.

    Args:
        of: number of its family.
        entered: the job with it.
    """
    family = problem.families[of]
    lengths = (*_of_rows(family, ring), *_of_place(problem, of, ring, shift))
    close = (one for one in lengths if one.room.value < family.step_in - FLOAT_NOISE)
    return (*_of_counts(family, entered), *close)


def _of_counts(family: Family, entered: Layout) -> Iterator[Binding]:
    limits = family.kind.limits
    for axis in (0, 1):
        sides = [side for side in survey(entered).sides if side.axis == axis]
        counted = min(len(side.rivets) for side in sides)
        asked = limits.needed[axis]
        if counted <= asked and asked > 1:
            limit = said("proposal.binds.count", axis="XY"[axis])
            yield Binding(limit, Amount(counted, ""), Amount(asked, ""), Amount(counted - asked, ""), "R601")


def _of_rows(family: Family, ring: Ring) -> Iterator[Binding]:
    limits, step_in = family.kind.limits, family.step_in
    points = [points_of_row(family.shape, row) for row in ring.rows]
    edge, kept_in = "R102" if limits.is_flush else "R101", limits.kept_in
    width_in = ring.width * step_in
    to_opening, to_outer, between = _KEPT if kept_in > 0.0 else _PLAIN
    yield _least(to_opening, ring.at[0] * step_in, limits.edge_in + kept_in, edge)
    yield _least(to_outer, width_in - ring.at[-1] * step_in, limits.edge_in + kept_in, edge)
    double = len(ring.rows) > 1
    pitch_in = min(float(neighbors_in(one).min()) for one in points)
    yield _least("proposal.binds.pitch", pitch_in, limits.pitch_in[double], "R202" if double else "R201")
    longest_in = max(float(neighbors_in(one).max()) for one in points)
    yield _most("proposal.binds.longest_pitch", longest_in, limits.pitch_most_in, "R203")
    if double:
        between_in = between_rows_in(points[0], points[1], reach_in=limits.reach_in)
        yield _least(between, between_in, limits.between_in + kept_in, "R204")
        yield _least("proposal.binds.apart", apart_in(points[0], points[1]), limits.apart_in, "R201")
        yield _least("proposal.binds.overlap", width_in, limits.overlap_in, "R208")


def _of_place(problem: Problem, of: int, ring: Ring, shift: Shift) -> Iterator[Binding]:
    one, width_in = problem.asked[of], ring.width * problem.step_in
    left_in = one.obstacles.gaps_in(problem.shape, width_in, shift)
    for at in np.argsort(left_in, kind="stable").tolist():
        kept_in = float(one.obstacles.kept_in[at])
        limit = said("proposal.binds.place", name=called((one.obstacles.names[at],))[0])
        yield _least_of(limit, float(left_in[at]) + kept_in, kept_in, "R701")
    if problem.through:
        shape = problem.shape
        least_in = min(shape.width_in, shape.height_in) + 2.0 * width_in
        yield _most("proposal.binds.through", least_in, shape.longest_chord_in, "R304")
    least_in = one.least_in[len(ring.rows) - 1]
    if least_in > 0.0:
        yield _least("proposal.binds.section", width_in, least_in, "S302")


def _least(id: str, measured_in: float, bound_in: float, code: str) -> Binding:
    return _least_of(said(id), measured_in, bound_in, code)


def _least_of(limit: Said, measured_in: float, bound_in: float, code: str) -> Binding:
    return Binding(limit, inch(measured_in), inch(bound_in), room(max(0.0, measured_in - bound_in)), code)


def _most(id: str, measured_in: float, bound_in: float, code: str) -> Binding:
    left_in = max(0.0, bound_in - measured_in)
    return Binding(said(id), inch(measured_in), inch(bound_in), room(left_in), code)
