"""One small job held to the brute force: what the suite asks of a few and `studies` of a hundred."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache

from hatchwright.job.file import read_job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.layout.mass import weight_change
from hatchwright.rules.check import check
from hatchwright.search.proposal.propose import propose
from hatchwright.search.proposal.values import Aim, Offer, Proposal
from tests.search.brute_force import BruteForce, Ring, entered
from tests.search.relaxed import relaxed
from tests.search.small_jobs import SmallJob, small_job

SAME_LB = 1e-6
WIDER_IN = 0.15


@dataclass
class Held:
    """What was found on one job.

    Attributes:
        has_ring: whether a ring can be laid as asked.
        faults: everything that is not as it must be, in words.
        excess: by how much the grid's lightest ring is heavier than the proposed one [-].
        ways: ways out of its conflict that were tried.
    """

    seed: int
    has_ring: bool
    faults: list[str] = field(default_factory=list)
    excess: float | None = None
    ways: int = 0


@cache
def hold(seed: int) -> Held:
    """Propose on one small job and hold what comes to everything that is asked of it."""
    job = small_job(seed)
    layout = lay_out(read_job(job.text))
    proposed = propose(layout)
    offers = as_asked(proposed, job)
    held = Held(seed, bool(offers))
    held.faults += list(_unsound(layout, offers))
    by_grid = BruteForce(job).best()
    if by_grid is not None:
        held.faults += list(_beaten(job, offers, by_grid))
        if lightest := _of(offers, Aim.LIGHTEST):
            held.excess = (
                _added_lb(lay_out(read_job(entered(job, by_grid["lightest"]))))
                / _added_lb(lay_out(lightest.on(layout.job)))
                - 1.0
            )
    held.faults += list(_worse_in_a_wider_bay(job, offers))
    if not offers:
        held.faults += list(_without_a_way(layout, proposed, held))
    return held


def as_asked(proposed: Proposal, job: SmallJob) -> tuple[Offer, ...]:
    """Its offers at the size that was asked for."""
    return tuple(
        one
        for one in proposed.offers
        if abs(one.width_in - job.width) < 1e-6 and abs(one.height_in - job.height) < 1e-6
    )


def _of(offers: tuple[Offer, ...], aim: Aim) -> Offer | None:
    return next((one for one in offers if aim in one.aims), None)


def _unsound(layout: Layout, offers: tuple[Offer, ...]) -> Iterator[str]:
    """Each proposal, entered, passes every rule that is about its ring, judged apart."""
    before = {one.code for one in check(layout) if one.status is not Status.PASS}
    for offer in offers:
        for one in check(lay_out(offer.on(layout.job), layout.shop)):
            # A ring in which a row is wide apart, or of another sheet, may be cautioned about as the job's own was.
            if one.status.holds_back or (
                one.status is Status.CAUTION and one.code not in {*before, *OF_RIVET}
            ):
                yield f"{offer.aims}: {one.code} {one.status}"


OF_RIVET = {"R303", "R304", "R401", "R403", "R105", "R214"}
"""Cautions of hand, of a ring that goes in askew, of rivet and sheet, and of the next rivet size in its holes, which no
narrowest ring has room for: none of them is asked for."""


def _beaten(job: SmallJob, offers: tuple[Offer, ...], by_grid: dict[str, Ring]) -> Iterator[str]:
    aims = {"lightest": Aim.LIGHTEST, "fewest": Aim.FEWEST, "narrowest": Aim.LARGEST}
    for name, aim in aims.items():
        ring, offer = by_grid[name], _of(offers, aim)
        if offer is None:
            yield f"brute force has a {name} ring and there is no proposal: {ring}"
            continue
        layout = lay_out(read_job(entered(job, ring)))
        proposed = lay_out(offer.on(read_job(job.text)))
        if name == "lightest" and _added_lb(layout) < _added_lb(proposed) - SAME_LB:
            yield f"brute force is lighter: {ring}"
        if name == "fewest" and ring.holes < offer.rivets:
            yield f"brute force has fewer rivets: {ring}"
        if name == "narrowest" and ring.width_in < offer.ring_in - 1e-9:
            yield f"brute force is narrower: {ring}"


def _added_lb(layout: Layout) -> float:
    """What is put on, by the program's own sums: doubler and rivets [lb]."""
    return sum(one.mass_lb for one in weight_change(layout).masses if one.mass_lb > 0.0)


def _worse_in_a_wider_bay(job: SmallJob, offers: tuple[Offer, ...]) -> Iterator[str]:
    if not offers:
        return
    wider = job.wider(WIDER_IN)
    there = as_asked(propose(lay_out(read_job(wider.text))), wider)
    for aim, value in (
        (Aim.LIGHTEST, lambda one: round(one.mass_lb, 9)),
        (Aim.FEWEST, lambda one: one.rivets),
        (Aim.LARGEST, lambda one: round(one.ring_in, 9)),
    ):
        here, wide = _of(offers, aim), _of(there, aim)
        if here is not None and (wide is None or value(wide) > value(here)):
            yield f"{aim} is worse in a wider bay: {value(here)}, {wide and value(wide)}"


def _without_a_way(layout: Layout, proposed: Proposal, held: Held) -> Iterator[str]:
    """Where there is none, moving the named limits by what is said gives one."""
    if not proposed.conflicts:
        yield "neither an offer nor a conflict"
        return
    last = proposed.conflicts[-1]
    if not last.ways:
        yield "a conflict without a way"
    for way in last.ways:
        held.ways += 1
        changed = relaxed(layout, way)
        x_min, y_min, x_max, y_max = changed.wanted.bounds
        sizes = [(one.width_in, one.height_in) for one in propose(changed).offers]
        if not any(abs(x - (x_max - x_min)) < 1e-6 and abs(y - (y_max - y_min)) < 1e-6 for x, y in sizes):
            yield f"no offer with {[(one.key, one.to.value) for one in way]}"
