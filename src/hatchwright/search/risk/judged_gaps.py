"""The gaps of a job, taken from the judgements of the rules: what they measure, what they hold it to, and which way.

No limit stands here: each comes with the judgement that `check` makes of the same distances.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.judged import Judgement, Numbers, Status
from hatchwright.layout.layout import Edge, Layout, Spacing
from hatchwright.layout.row_spacing import every_row_spacing
from hatchwright.layout.survey import EdgeDistances, Survey, survey
from hatchwright.rules.edge_distance import EDGE_CODES, judged_edges
from hatchwright.rules.row_pattern import LONGEST, judge_longest, judged_flush_pitches, judged_overlap
from hatchwright.rules.spacing import PAIR_CODES, PITCH_CODES, judged_pairs, judged_pitches, judged_rows
from hatchwright.search.risk.errors import Errors, Order
from hatchwright.search.risk.form import (
    EDGES,
    Form,
    Moves,
    culprits_of,
    edge_form,
    opening_moves,
    pair_form,
    ring_moves,
    row_form,
    wander_of,
)
from hatchwright.search.risk.gaps import AS_MEASURED, Between, Gaps, nothing
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile

Floats = npt.NDArray[np.float64]
Integers = npt.NDArray[np.intp]
Bools = npt.NDArray[np.bool_]

COVERAGE = 2.0
"""What an expanded uncertainty is divided by for a standard one, the usual factor at 95 % [-].
Source: [JCGM 100:2008], G.1.3."""


_JUST_SHORT_IN = 1e-6
"""By so much a distance misses a limit to see what that is answered with [in]."""


class Batch(Struct, frozen=True):
    """Some gaps that one judgement holds to one limit each.

    Args:
        drawn_in: each as drawn, shape (n,) [in].
        holds_back: whether work stops, or can't be shown to pass, where it misses that limit, shape (n,).
        is_held: whether it does so already, shape (n,).
    """

    between: tuple[Between, ...]
    judged: Judgement
    form: Form
    drawn_in: Floats
    holds_back: Bools
    is_held: Bools


def _batches(between: tuple[Between, ...], judged: Judgement, form: Form) -> Iterator[Batch]:
    """Hold some gaps to the limit that their judgement goes by; where missing that only cautions, as where documents
    differ and none is chosen, to the hardest of the others too by which work stops."""
    drawn_in = _for_each(judged.margins(), between)
    value_in, way = _for_each(judged.measure.value, between), 1.0 if judged.at_least else -1.0
    back = _holds_back(judged, value_in - way * drawn_in)
    is_held: Bools = np.broadcast_to(judged.ranks() >= Status.UNKNOWN.rank, back.shape)
    yield Batch(between, judged, form, drawn_in, back, is_held)
    harder_in = np.full(len(between), np.inf)
    for other in judged.bounds if not back.all() and len(judged.bounds) > 1 else ():
        limit_in = _for_each(other.limit, between)
        stops = _holds_back(judged, limit_in) & ~back
        harder_in = np.where(stops, np.minimum(harder_in, way * (value_in - limit_in)), harder_in)
    if np.isfinite(harder_in).any():
        yield Batch(between, judged, form, harder_in, np.isfinite(harder_in), np.zeros_like(back))


def _holds_back(judged: Judgement, limit_in: Floats) -> Bools:
    """What the judgement answers of distances that just miss some limits, shape (n,)."""
    way = 1.0 if judged.at_least else -1.0
    return judged.ranks_of(limit_in - way * _JUST_SHORT_IN) >= Status.UNKNOWN.rank


def gaps_of(layout: Layout, errors: Errors, order: Order = Order.SKIN) -> Gaps:
    """All gaps that scatter can close, of holes whose fasteners a table lists, and those that hold work back already.

    What is measured on both sides is judged by its measurement and not by chance.
    """
    measured = survey(layout)
    if any(hole.nominal_in is None for hole in layout.holes):
        measured = measured.listed()
    return _joined(list(_Gathering(measured, errors, order).batches()))


class _Gathering:
    """One walk through the rules; edges get columns of their own in the order in which they come."""

    def __init__(self, measured: Survey, errors: Errors, order: Order) -> None:
        self.survey, self.errors, self.order = measured, errors, order
        self.wander = wander_of(measured.layout, errors)
        self.sides: dict[tuple[str, str], int] = {}
        own = {(row.part.name, row.edge.name) for row in measured.edges if not self._is_opening(row.edge)}
        if errors.edge_in > 0.0:
            self.sides = {key: at for at, key in enumerate(sorted(own))}
        self.width = EDGES + 4 * len(self.sides)

    def batches(self) -> Iterator[Batch]:
        yield from self._edges()
        yield from self._pairs()
        yield from self._rows()
        yield from self._overlap()

    def _is_opening(self, edge: Edge) -> bool:
        return edge.loop == self.survey.layout.opening

    def _moves(self, row: EdgeDistances) -> Moves:
        is_made = row.edge.own_u is not None
        if self._is_opening(row.edge):
            return opening_moves(self.order, is_made=is_made)
        sides = None if is_made else self.sides.get((row.part.name, row.edge.name))
        if row.part.name == "doubler":
            return ring_moves(self.order, sides, is_made=is_made)
        return Moves(place=True, sides=sides, is_there=is_made)

    def _edge_form(self, row: EdgeDistances) -> Form:
        at = self.wander.at(row.holes)
        points = self.wander.points_in[at]
        out = points - row.foot_in
        length = np.hypot(*out.T)
        metal = np.where(row.distance_in < 0.0, -1.0, 1.0)
        normal = out * (metal / np.maximum(length, 1e-12))[:, None]
        normal[length < 1e-12] = (1.0, 0.0)
        return edge_form(
            self.errors,
            self.wander,
            at,
            normal=normal,
            about=distances(Profile((row.edge.loop,)), points).bends_about,
            center_in=self.survey.layout.center_in,
            moves=self._moves(row),
            width=self.width,
        )

    def _edges(self) -> Iterator[Batch]:
        for code in EDGE_CODES:
            for row, judged, _ in judged_edges(self.survey, code):
                between = tuple(Between(code, hole, row.part, row.edge) for hole in row.holes)
                yield from _batches(between, judged, self._edge_form(row))

    def _pairs(self) -> Iterator[Batch]:
        for code in PAIR_CODES:
            if (near := judged_pairs(self.survey, code)) is not None:
                yield from self._of_pairs(code, *near)
        along = [(code, *one) for code in PITCH_CODES for one in judged_pitches(self.survey, code)]
        along += [("R206", *one) for one in judged_flush_pitches(self.survey)]
        for code, _, pairs, judged in along:
            yield from self._of_pairs(code, pairs, judged)
        every = tuple(pair for pairs in self.survey.rivet_pitches.values() for pair in pairs)
        for code in LONGEST if every else ():
            yield from self._of_pairs(code, every, judge_longest(self.survey, code, every))

    def _of_pairs(
        self, code: str, pairs: list[Spacing] | tuple[Spacing, ...], judged: Judgement
    ) -> Iterator[Batch]:
        first, second = (
            self.wander.at(pair.first for pair in pairs),
            self.wander.at(pair.second for pair in pairs),
        )
        center_in, width = self.survey.layout.center_in, self.width
        form = pair_form(self.errors, self.wander, first, second, center_in=center_in, width=width)
        is_greatest = not judged.at_least
        between = tuple(
            Between(code, pair.first, other=pair.second, is_greatest=is_greatest) for pair in pairs
        )
        yield from _batches(between, judged, form.turned() if is_greatest else form)

    def _rows(self) -> Iterator[Batch]:
        some = every_row_spacing(self.survey.rows)
        if some:
            here = self.wander.at(one.hole for one in some)
            step = self.wander.at(one.step[0] for one in some), self.wander.at(one.step[1] for one in some)
            share = np.array([one.share for one in some])
            center_in, width = self.survey.layout.center_in, self.width
            form = row_form(self.errors, self.wander, here, step, share, center_in=center_in, width=width)
            between = tuple(Between("R204", one.hole, other_row=one.other_row) for one in some)
            yield from _batches(between, judged_rows(self.survey, some), form)

    def _overlap(self) -> Iterator[Batch]:
        if (found := judged_overlap(self.survey)) is not None:
            holes = [found.opening.holes[k] for k in found.here.tolist()]
            inner, outer = _some(found.opening, found.here), _some(found.outer, found.there)
            part, one, other = found.outer.part, found.opening.edge, found.outer.edge
            between = tuple(Between("R208", hole, part, one, across=other) for hole in holes)
            yield from _batches(between, found.judged, self._edge_form(inner) + self._edge_form(outer))


def _some(row: EdgeDistances, which: Integers) -> EdgeDistances:
    """The same edge with some of its holes in another order."""
    arrays = (row.distance_in, row.foot_in, row.nominal_in, row.uncertainty_in)
    return EdgeDistances(
        row.part, row.edge, tuple(row.holes[k] for k in which.tolist()), *(array[which] for array in arrays)
    )


def _joined(batches: list[Batch]) -> Gaps:
    """All gaps in one set of arrays; what no error moves is left out where it passes."""
    if not batches:
        return nothing()
    before = np.cumsum([0, *(len(batch.between) for batch in batches)])[:-1].tolist()
    forms = [batch.form for batch in batches]
    drawn_in = np.concatenate([batch.drawn_in for batch in batches])
    value_in, u_in, way = (
        np.concatenate(
            [_for_each(numbers, batch.between) for batch, numbers in zip(batches, some, strict=True)]
        )
        for some in zip(*map(_read, batches), strict=True)
    )
    common = np.concatenate([form.common for form in forms])
    source = np.concatenate([form.source for form in forms])
    every = Gaps(
        between=tuple(one for batch in batches for one in batch.between),
        drawn_in=drawn_in,
        measured_in=value_in,
        limit_in=value_in - way * drawn_in,
        holds_back=np.concatenate([batch.holds_back for batch in batches]),
        is_held=np.concatenate([batch.is_held for batch in batches]),
        common=common,
        culprit=culprits_of((common.shape[1] - EDGES) // 4),
        gap=np.concatenate([form.gap + begin for form, begin in zip(forms, before, strict=True)]),
        source=source,
        coefficient=np.concatenate([form.coefficient for form in forms]),
        bent_in=np.concatenate([form.bent_in for form in forms]),
        known_in=u_in / COVERAGE,
        sources=int(source.max(initial=-1)) + 1,
    )
    is_moved = every.variance_in2[:, :AS_MEASURED].sum(axis=1) > 0.0
    return every.taken((is_moved | every.is_held) & np.isfinite(every.drawn_in))


def _read(batch: Batch) -> tuple[Numbers, Numbers, Numbers]:
    """What was measured, its expanded uncertainty, and which way its limit lies."""
    measure = batch.judged.measure
    return measure.value, measure.u, 1.0 if batch.judged.at_least else -1.0


def _for_each(numbers: Numbers, between: tuple[Between, ...]) -> Floats:
    """One number, or one for each gap, as an array of all."""
    return np.broadcast_to(np.asarray(numbers, dtype=np.float64), (len(between),))
