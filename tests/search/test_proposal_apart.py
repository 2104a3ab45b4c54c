"""A proposal searched in parts, here, in processes and on a cluster, is the one of the whole."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pytest

from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.search.proposal.apart import propose_apart
from hatchwright.search.proposal.propose import propose
from hatchwright.search.proposal.values import Proposal
from hatchwright.search.task_workers import in_processes, on_cluster
from tests.patience import PATIENCE_S
from tests.search.test_sweep import cluster_of

ALDER = (Path(__file__).parents[2] / "examples" / "alder.toml").read_text(encoding="utf-8")
WISH = '\n[wish]\nrivets = ["MS20470AD4", "MS20470AD5"]\n'


@pytest.fixture(scope="module")
def layout() -> Layout:
    """Alder as drawn, with two rivets on the shelf."""
    return lay_out(read_job(f"{ALDER[: ALDER.index('# What was really made')]}{WISH}"))


@pytest.fixture(scope="module")
def whole(layout: Layout) -> Proposal:
    return propose(layout)


def here(work: Callable, tasks: Sequence) -> Iterator:
    """The tasks in this process, the last first."""
    return map(work, reversed(tasks))


def same(one: Proposal, other: Proposal) -> None:
    told = [
        [(o.aims, o.rivet, o.gauge_in, o.ring_in, o.rows, o.parts) for o in p.offers] for p in (one, other)
    ]
    assert told[0] == told[1]
    assert one.space.options == other.space.options


def test_parts_in_any_order_give_the_whole(layout: Layout, whole: Proposal) -> None:
    heard: list[float] = []
    found = propose_apart(layout, here, progress=lambda share, _: heard.append(share))
    same(found, whole)
    assert heard == sorted(heard)
    assert heard[-1] == 1.0
    assert len({one.rivet for one in whole.offers}) > 1  # so that one part alone would not do


def test_where_no_part_has_a_layout_the_whole_says_why() -> None:
    birch = (Path(__file__).parents[2] / "examples" / "birch.toml").read_text(encoding="utf-8")
    layout = lay_out(read_job(f'{birch}\n[wish]\nsheets = [".032", ".040"]\n'))
    found = propose_apart(layout, here)
    assert [one.between.id for one in found.conflicts][:2] == ["conflict.between.axis"] * 2


def test_two_processes(layout: Layout, whole: Proposal) -> None:
    same(propose_apart(layout, in_processes(2, of="propose")), whole)


@pytest.mark.outside
def test_a_cluster_of_two_workers(layout: Layout, whole: Proposal) -> None:
    with cluster_of(2) as address:
        same(propose_apart(layout, on_cluster(address, patience_s=PATIENCE_S)), whole)


def test_a_space_of_one_part_is_searched_by_whom_it_is_given_to() -> None:
    """Or a cluster that does not answer would go unnoticed, and its work be done here."""
    alone = lay_out(read_job(ALDER[: ALDER.index("# What was really made")]))
    asked: list[int] = []

    def do(work: Callable, tasks: Sequence) -> Iterator:
        asked.append(len(tasks))
        return here(work, tasks)

    same(propose_apart(alone, do), propose(alone))
    assert asked == [1]
