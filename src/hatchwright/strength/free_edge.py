"""The free edges of a reinforced opening, each with its greatest stress: of the skin, and of the doubler on it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Literal, TypeAlias

from msgspec import Struct

from hatchwright.fem.bound import TwiceSolved
from hatchwright.fem.curve import Array
from hatchwright.fem.solution import EdgeStress, Peak, Response
from hatchwright.said import Said, said

EdgeName: TypeAlias = Literal["opening_edge", "doubler_inner_edge", "doubler_outer_edge"]


class FreeEdge(Struct, frozen=True):
    """Greatest stress along one free edge, with the doubler on.

    Args:
        part: whose edge it is.
        peak: with its sign, and its place.
        grid_ratio: error of the grid over it [-].
    """

    name: EdgeName
    part: Literal["skin", "doubler"]
    peak: Peak
    grid_ratio: float

    @property
    def named(self) -> Said:
        """In the trade's words."""
        return said(f"edge.{self.name}")


def free_edges(solved: TwiceSolved, response: Response, opening_ratio: float) -> Iterator[FreeEdge]:
    """The edge of the opening, then those of the doubler.

    Args:
        response: of the finer grid to one load.
        opening_ratio: error of the grid along the edge of the opening [-].
    """
    yield FreeEdge("opening_edge", "skin", response.edge().peak, opening_ratio)
    doubler = response.unit.sheet("doubler")
    if doubler.inner is not None:
        yield _of_doubler("doubler_inner_edge", solved, response, lambda one: one.edge("doubler"))
    yield _of_doubler("doubler_outer_edge", solved, response, lambda one: one.edge("doubler", outline=True))


def _of_doubler(
    name: EdgeName, solved: TwiceSolved, response: Response, stress: Callable[[Response], EdgeStress]
) -> FreeEdge:
    load_lbf_in: Array = response.load_lbf_in
    return FreeEdge(name, "doubler", stress(response).peak, solved.edge_error(load_lbf_in, stress))
