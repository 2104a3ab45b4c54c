"""A proposal searched in parts that ask nothing of each other, one rivet in one gauge each, in processes or on a
cluster."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.job.job import Job
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.progress import Progress, unheard
from hatchwright.said import said
from hatchwright.search.proposal.problem import gauges_of, rivets_of
from hatchwright.search.proposal.propose import Shelf, propose
from hatchwright.search.proposal.values import Aim, Offer, Proposal
from hatchwright.search.task_workers import Doer
from hatchwright.tables.table import ShopTables


class SearchTask(Struct, frozen=True):
    """One part of the space, for a worker; a job travels, a layout is made there.

    Args:
        number: of the part, so that answers can be put in order.
    """

    number: int
    job: Job
    shop: ShopTables | None
    only: Shelf


def search_part(task: SearchTask) -> tuple[int, Proposal]:
    """Search one part of a space."""
    return task.number, propose(lay_out(task.job, task.shop), only=task.only)


def propose_apart(layout: Layout, do: Doer, *, progress: Progress = unheard) -> Proposal:
    """The same as `propose`, in parts; where no part has a layout the whole is asked why.

    Args:
        do: who searches the parts.
        progress: told the share that is done.
    Raises:
        As `propose`, and as the doer.
    """
    shelves = tuple(product(rivets_of(layout), gauges_of(layout)))
    tasks = tuple(SearchTask(number, layout.job, layout.shop, only) for number, only in enumerate(shelves))
    if not tasks:
        return propose(layout, progress=progress)
    found: dict[int, Proposal] = {}
    progress(0.0, said("progress.proposing", done=0, all=len(tasks)))
    for number, part in do(search_part, tasks):
        found[number] = part
        progress(len(found) / len(tasks), said("progress.proposing", done=len(found), all=len(tasks)))
    parts = tuple(found[number] for number in sorted(found))
    if not any(part.offers for part in parts):
        return propose(layout, progress=progress)
    return joined(parts)


def joined(parts: Sequence[Proposal]) -> Proposal:
    """The parts of a search as one proposal: of each aim the best, of those that move the opening no more than another.

    Args:
        parts: in the order of the space, at least one with an offer.
    """
    offers = [offer for part in parts for offer in part.offers]
    least = min(map(_is_moved, offers))
    best: list[Offer] = []
    for aim in Aim:
        mine = [one for one in offers if aim in one.aims and _is_moved(one) == least]
        if not mine:
            continue
        first = min(mine, key=_KEYS[aim])
        at = next(
            (at for at, one in enumerate(best) if (one.entries, one.parts) == (first.entries, first.parts)),
            None,
        )
        if at is None:
            best.append(replace(first, aims=(aim,)))
        else:
            best[at] = replace(best[at], aims=(*best[at].aims, aim))
    tally = {name: sum(getattr(part, name) for part in parts) for name in ("candidates", "checked", "judged")}
    return replace(
        parts[0],
        space=replace(parts[0].space, options=sum(part.space.options for part in parts)),
        offers=tuple(sorted(best, key=lambda one: bool(one.departs))),
        conflicts=(),
        bound=said("proposal.bound", **tally),
        unproved=tuple(dict.fromkeys(one for part in parts for one in part.unproved)),
        **tally,
    )


def _is_moved(offer: Offer) -> bool:
    """Whether opening and ring are moved."""
    return max(map(abs, offer.shift_in)) > FLOAT_NOISE


def _lightest(one: Offer) -> tuple[float, ...]:
    return one.mass_lb, one.rivets, one.ring_in


def _fewest(one: Offer) -> tuple[float, ...]:
    return one.rivets, one.mass_lb, one.ring_in


def _largest(one: Offer) -> tuple[float, ...]:
    return -one.width_in * one.height_in, one.ring_in, one.mass_lb, one.rivets


_KEYS: dict[Aim, Callable[[Offer], tuple[float, ...]]] = {
    Aim.LIGHTEST: _lightest,
    Aim.FEWEST: _fewest,
    Aim.LARGEST: _largest,
}
"""What an aim compares first, then where that is the same."""
