"""The space of a proposal, as it is told with every answer."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.layout.layout import Layout
from hatchwright.said import Listed, Said, inch, said
from hatchwright.search.proposal.problem import Problem, gauges_of, rivets_of
from hatchwright.search.proposal.values import Space


def space_of(layout: Layout, problem: Problem, *, is_sized: bool) -> Space:
    """What is searched for a job, a sentence each.

    Args:
        is_sized: whether other sizes of opening than the job's own were tried.
    """
    options = sum(family.options for family in problem.families)
    told = (
        *_opening(layout, problem, is_sized=is_sized),
        _shelf(layout),
        said("proposal.space.rows", n=problem.most_rows),
        said("proposal.space.bays"),
        said("proposal.space.step", step=inch(problem.step_in)),
        _place(layout),
    )
    return Space(told, options, problem.step_in, said("proposal.space.left_out"))


def _opening(layout: Layout, problem: Problem, *, is_sized: bool) -> Iterator[Said]:
    wish, shape = layout.job.wish, problem.shape
    is_range = any((wish.width_from, wish.width_to, wish.height_from, wish.height_to))
    if shape.is_round:
        yield said("proposal.space.circle", diameter=inch(shape.width_in))
    elif is_range and is_sized:
        ends = (
            (wish.width_from, shape.width_in), (wish.width_to, shape.width_in),
            (wish.height_from, shape.height_in), (wish.height_to, shape.height_in),
        )  # fmt: skip
        from_x, to_x, from_y, to_y = (inch(end.inch if end else own_in) for end, own_in in ends)
        yield said("proposal.space.range", from_x=from_x, to_x=to_x, from_y=from_y, to_y=to_y)
    else:
        sizes = {
            "width": inch(shape.width_in),
            "height": inch(shape.height_in),
            "radius": inch(shape.radius_in),
        }
        yield said("proposal.space.rectangle", **sizes)
    if is_range and not is_sized:
        yield said("proposal.space.own_size")


def _shelf(layout: Layout) -> Said:
    gauges = tuple(inch(one) for one in gauges_of(layout))
    return said("proposal.space.shelf", rivets=Listed(rivets_of(layout), ","), gauges=Listed(gauges, ","))


def _place(layout: Layout) -> Said:
    shift = layout.job.wish.shift
    return said("proposal.space.shift", most=inch(shift.inch)) if shift else said("proposal.space.place")
