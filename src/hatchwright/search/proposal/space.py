"""The space of a proposal, as it is told with every answer."""

from __future__ import annotations

from hatchwright.layout.layout import Layout
from hatchwright.said import Listed, Said, inch, said
from hatchwright.search.proposal.problem import Problem, gauges_of, rivets_of
from hatchwright.search.proposal.values import Space


def space_of(layout: Layout, problem: Problem) -> Space:
    """What is searched for a job, a sentence each."""
    options = sum(family.options for family in problem.families)
    told = (
        _opening(layout, problem),
        _shelf(layout),
        said("proposal.space.rows", n=problem.most_rows),
        said("proposal.space.bays"),
        said("proposal.space.step", step=inch(problem.step_in)),
        _place(layout),
    )
    return Space(told, options, problem.step_in, said("proposal.space.left_out"))


def _opening(layout: Layout, problem: Problem) -> Said:
    wish, shape = layout.job.wish, problem.shape
    if shape.is_round:
        return said("proposal.space.circle", diameter=inch(shape.width_in))
    if any((wish.width_from, wish.width_to, wish.height_from, wish.height_to)):
        ends = (
            (wish.width_from, shape.width_in), (wish.width_to, shape.width_in),
            (wish.height_from, shape.height_in), (wish.height_to, shape.height_in),
        )  # fmt: skip
        from_x, to_x, from_y, to_y = (inch(end.inch if end else own_in) for end, own_in in ends)
        return said("proposal.space.range", from_x=from_x, to_x=to_x, from_y=from_y, to_y=to_y)
    sizes = {"width": inch(shape.width_in), "height": inch(shape.height_in), "radius": inch(shape.radius_in)}
    return said("proposal.space.rectangle", **sizes)


def _shelf(layout: Layout) -> Said:
    gauges = tuple(inch(one) for one in gauges_of(layout))
    return said("proposal.space.shelf", rivets=Listed(rivets_of(layout), ","), gauges=Listed(gauges, ","))


def _place(layout: Layout) -> Said:
    shift = layout.job.wish.shift
    return said("proposal.space.shift", most=inch(shift.inch)) if shift else said("proposal.space.place")
