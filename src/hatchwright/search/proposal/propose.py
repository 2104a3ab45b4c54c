"""Propose layouts for the opening of a job: an exact search, whose first answer is the best of its space."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from msgspec.structs import replace

from hatchwright.errors import GeometryError, JobError
from hatchwright.layout.layout import Layout
from hatchwright.progress import Progress, unheard
from hatchwright.remedy import EntryChange
from hatchwright.said import Said, inch, room, said
from hatchwright.search.proposal.best_first import Tally
from hatchwright.search.proposal.conflict import conflict_of_rules, conflicts_of
from hatchwright.search.proposal.conflict_drawing import SIZE
from hatchwright.search.proposal.conflict_limit import typed
from hatchwright.search.proposal.entering import shape_of
from hatchwright.search.proposal.offering import MOST_JUDGED, Offering
from hatchwright.search.proposal.problem import Problem, problem_of, rivets_of
from hatchwright.search.proposal.shelf import refuse_no_gauge
from hatchwright.search.proposal.sizes import (
    OWN,
    Grown,
    goes_through,
    largest,
    least_of_shape,
    range_of,
    shape_grown,
    smallest,
)
from hatchwright.search.proposal.space import space_of
from hatchwright.search.proposal.strength_asked import StrengthAsked
from hatchwright.search.proposal.values import Aim, Conflict, Offer, Proposal, Relaxation

MOST_OFFERS = len(Aim)
"""The first of each aim [-]."""

MOST_LAID_OF_SIZES, MOST_LAID_OF_ONE = 2000, 300
"""Rings that are laid out to find the largest opening, in all and of one size: what finds none among these costs more
than it gives. Own choice, no source [-]."""

Shelf = tuple[str, float]
"""One rivet, and the gauge of the doubler that it joins [in]."""

_AT_HALF = 0.5


def propose(layout: Layout, *, only: Shelf | None = None, progress: Progress = unheard) -> Proposal:
    """At most three layouts of a ring with its rows, or the conflicts that leave none.

    Size and place stay as the job has them where a ring can be laid so; else what the wish leaves open is asked, and
    where nothing has room the largest opening of the same shape that does.

    Args:
        layout: the job as it stands with the shop's tables: opening, bay, skin, doubler, its rivets and its `[wish]`.
        only: a part of the space, as `propose_apart` searches it; None for all of it.
        progress: told the share that is done; what it raises ends the search (so a page cancels).
    Raises:
        GeometryError: the job has no opening that a ring can be laid round.
        JobError: something of it was made and measured already.
    Method: docs/theory/proposal.md.
    """
    return _Proposing(layout, progress, only).proposal()


class _Proposing:
    """One proposal, with what is worked out once."""

    def __init__(self, layout: Layout, progress: Progress, only: Shelf | None) -> None:
        _refuse(layout)
        self.only = only
        self.layout, self.progress = layout, progress
        self.doing: Said = said("progress.propose_sizes")
        self.tally = Tally(going_on=self._going_on)
        self.shape, self.share, self.begun = shape_of(layout.job), 0.0, 0
        self.is_sized = False
        solving = StrengthAsked(layout, float(layout.job.wish.margin), self._solving)
        self.offering = Offering(layout, solving, self.tally, self._judging)
        self.step = Fraction(layout.job.wish.step_in(layout.job.unit)).limit_denominator(10**6)

    def proposal(self) -> Proposal:
        """Ask one stage after the other, until one has an offer."""
        own = self._problem(OWN, 0.0)
        offers: tuple[Offer, ...] = ()
        conflicts: tuple[Conflict, ...] = ()
        asks = () if rivets_of(self.layout) else (said("proposal.asks.rivets"),)
        if not asks:
            offers = next(filter(None, self._stages(own)), ())
            if not offers and self.only is None:  # of a part nobody asks why
                conflicts = self._conflicts()
                if range_of(self.layout, self.shape) is None and not self.offering.is_of_kind:
                    offers = self._of_range(least_of_shape(self.shape, self.step), OWN, (Aim.LARGEST,))
                    if offers:
                        conflicts = tuple(_with_sizes(one, self.layout, offers[0]) for one in conflicts)
        self.progress(1.0, said("progress.propose_done"))
        return Proposal(
            space=space_of(self.layout, own, is_sized=self.is_sized),
            offers=offers,
            conflicts=conflicts,
            candidates=self.tally.candidates,
            checked=self.tally.checked,
            judged=self.tally.judged,
            bound=self._bound(offers),
            unproved=tuple(self._unproved()),
            first=self.offering.check.first,
            margin=_margin(self.layout, own),
            asks=asks,
        )

    def _stages(self, own: Problem) -> Iterator[tuple[Offer, ...]]:
        """What is asked, one after the other: least of all is changed first."""
        wish = self.layout.job.wish
        between = range_of(self.layout, self.shape)
        if between is None or self.is_given:
            yield self._offers(own, OWN, tuple(Aim))
        if wish.shift is not None:
            yield self._offers(self._problem(OWN, wish.shift.inch), OWN, tuple(Aim))
        if between is not None:
            yield self._of_range(*between)

    def _conflicts(self) -> tuple[Conflict, ...]:
        """What keeps a ring from being laid: limits, else what the rules found on the first ring that was judged."""
        least, most = range_of(self.layout, self.shape) or (OWN, OWN)
        shapes = [shape_grown(self.shape, grown) or self.shape for grown in (least, most)]
        found = conflicts_of(self.layout, *shapes, progress=self._explaining)
        held = next((one.findings for one in self.offering.refused if one.findings), ())
        return found or ((conflict_of_rules(held),) if held else ())

    def _explaining(self, share: float, doing: Said) -> None:
        self._tell(self.share, doing)

    @property
    def is_given(self) -> bool:
        """Whether somebody else gave size and place: they are not changed while a ring can be laid as they are."""
        mandate = self.layout.job.mandate
        return mandate.kind != "owner" or bool(mandate.opening_x or mandate.opening_y)

    def _of_range(self, least: Grown, most: Grown, aims: tuple[Aim, ...] = tuple(Aim)) -> tuple[Offer, ...]:
        """The largest opening between two, and the lightest and the fewest of the smallest that lets through what must
        pass."""
        wish = self.layout.job.wish
        shift_in = wish.shift.inch if wish.shift else 0.0
        found: list[Offer] = []
        self.is_sized = True
        if Aim.LARGEST in aims:
            self.begun = self.tally.checked
            grown = largest(
                least,
                most,
                self.step,
                lambda one: self._holds(one, shift_in, is_least=one == least),
                is_round=self.shape.is_round,
            )
            if grown is not None:
                found += self._offers(self._problem(grown, shift_in), grown, (Aim.LARGEST,))
        others = tuple(aim for aim in aims if aim is not Aim.LARGEST)
        if others:
            passing = smallest(least, most, self.step, lambda one: goes_through(self.layout, one))
            if passing is not None:
                found += self._offers(self._problem(passing, shift_in), passing, others)
        return _sorted(found)

    def _holds(self, grown: Grown, shift_in: float, *, is_least: bool) -> bool:
        """Whether an opening lets through what must pass and has a ring that holds hole by hole; of the least opening
        all rings are asked, of others those that are soon laid out."""
        self._tell(_AT_HALF * self.share, said("progress.propose_sizes"))
        if shape_grown(self.shape, grown) is None or not goes_through(self.layout, grown):
            return False
        problem = self._problem(grown, shift_in)
        if is_least:
            is_there = problem.has_ring(self.tally)
            self.begun = self.tally.checked
            return is_there
        left = MOST_LAID_OF_SIZES - (self.tally.checked - self.begun)
        return left > 0 and problem.has_ring(self.tally, min(left, MOST_LAID_OF_ONE))

    def _problem(self, grown: Grown, shift_in: float) -> Problem:
        shape = shape_grown(self.shape, grown)
        assert shape is not None  # one that holds
        whole = problem_of(self.layout, shape, shift_in=shift_in)
        return whole if self.only is None else whole.of(*self.only)

    def _offers(self, problem: Problem, grown: Grown, aims: Iterable[Aim]) -> tuple[Offer, ...]:
        """The first of each aim, those that are one merged."""
        if not goes_through(self.layout, grown):
            return ()
        found: list[Offer] = []
        for aim in aims:
            self._tell(self.share + 1.0 / (2 * MOST_OFFERS + 1), said(f"progress.propose.{aim.value}"))
            offer = self.offering.first(problem, grown, aim)
            if offer is not None:
                found.append(offer)
            elif not self.offering.is_cut:
                break  # every aim orders the same rings
        return _sorted(found)

    def _bound(self, offers: tuple[Offer, ...]) -> Said:
        done = {
            "candidates": self.tally.candidates,
            "checked": self.tally.checked,
            "judged": self.tally.judged,
        }
        if not self.tally.candidates:
            return said("proposal.bound_no_room")
        found = "proposal.bound_sizes" if self.is_sized else "proposal.bound"
        return said(found if offers else "proposal.bound_none", **done)

    def _unproved(self) -> Iterator[Said]:
        """What was not asked, so that nothing is told for a proof that is none."""
        if self.is_sized:
            yield said("proposal.unproved.sizes")
        if self.offering.is_cut:
            yield said("proposal.unproved.cut", n=MOST_JUDGED)
        if any(one.of_kind for one in self.offering.refused):
            yield said("proposal.unproved.kind")

    def _judging(self) -> None:
        self._tell(self.share, said("progress.propose_judging", n=self.tally.judged + 1))

    def _solving(self) -> None:
        self._tell(self.share, said("progress.propose_elements"))

    def _going_on(self) -> None:
        self._tell(self.share, self.doing)

    def _tell(self, share: float, doing: Said) -> None:
        self.share, self.doing = min(max(share, self.share), 0.99), doing
        self.progress(self.share, doing)


def _with_sizes(conflict: Conflict, layout: Layout, offer: Offer) -> Conflict:
    """A conflict whose way out by both sizes is told as the opening that is offered: a way keeps the shape, an offer is
    stretched where there is room, so that of two numbers the larger stands in both places."""
    sizes_in = (offer.width_in, offer.height_in)

    def told(way: tuple[Relaxation, ...]) -> tuple[Relaxation, ...]:
        if [one.key for one in way] != [SIZE, SIZE]:
            return way
        if any(one.to.value > size_in for one, size_in in zip(way, sizes_in, strict=True)):
            return way
        return tuple(_of_size(one, layout, size_in) for one, size_in in zip(way, sizes_in, strict=True))

    return replace(conflict, ways=tuple(map(told, conflict.ways)))


def _of_size(one: Relaxation, layout: Layout, size_in: float) -> Relaxation:
    entered = one.may_be_entered
    if isinstance(entered, EntryChange):
        entered = replace(entered, new=typed(layout, size_in))
    return replace(one, to=room(size_in), may_be_entered=entered)


def _refuse(layout: Layout) -> None:
    """Refuse what a ring can't be laid anew in.

    Raises:
        JobError: something was made and measured, or a sheet of the wish is of no gauge.
        GeometryError: the job is about no opening with a ring.
    """
    job = layout.job
    if job.as_made is not None:
        raise JobError.about("as_made", "error.proposal_made", "")
    if job.mount is not None or job.patch is not None or job.plain_hole is not None:
        raise GeometryError.saying("error.proposal_kind", where="opening")
    refuse_no_gauge(layout)


def _sorted(found: Iterable[Offer]) -> tuple[Offer, ...]:
    """Each layout once, with every aim that it is the best of; what departs from nothing first."""
    merged: list[Offer] = []
    for offer in found:
        same = next(
            (
                at
                for at, one in enumerate(merged)
                if one.parts == offer.parts and one.entries == offer.entries
            ),
            None,
        )
        if same is None:
            merged.append(offer)
        else:
            merged[same] = replace(merged[same], aims=(*merged[same].aims, *offer.aims))
    return tuple(sorted(merged, key=lambda one: bool(one.departs)))


def _margin(layout: Layout, problem: Problem) -> Said:
    """What is kept for errors of drilling and filing."""
    kept_in = max((one.kind.limits.kept_in for one in problem.asked), default=0.0)
    if layout.job.scatter is None:
        return said("proposal.nothing_kept")
    return said("proposal.kept", kept=inch(kept_in, fine=True), accepted=layout.job.wish.short_holes.text)
