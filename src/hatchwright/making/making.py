"""The making of a job as one value: its layout, the cutter in hand, and all that follows from the two.

It is built once and handed down. What takes time to work out, such as the plan of pins, is kept with it the first time
that it is asked for.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar, cast

from msgspec import Struct

from hatchwright.job.cutter import Cutter, Template
from hatchwright.layout.layout import Layout
from hatchwright.making.template.guide_template import GuideChain, job_chain
from hatchwright.shapes.profile import Profile
from hatchwright.units import Unit


class Cutting(Struct, frozen=True, eq=False, dict=True):
    """What follows from a layout and a cutter; `chain` is the template that guides it, None without one."""

    layout: Layout
    cutter: Cutter
    rough: Profile
    chain: GuideChain | None

    @property
    def unit(self) -> Unit:
        """That of the job."""
        return self.layout.job.unit


class Making(Cutting, frozen=True, eq=False):
    """The same with the template that guides the cutter."""

    chain: GuideChain
    template: Template

    @property
    def is_window(self) -> bool:
        """Whether the cutter is guided inside a window; round a plug otherwise."""
        return self.chain.guide.is_window


def cutting_of(layout: Layout) -> Cutting | None:
    """What follows from a layout and its cutter alone; None without a cutter."""
    cutter, rough = layout.job.cutter, layout.rough_cut
    return Cutting(layout, cutter, rough, None) if cutter and rough else None


def making_of(layout: Layout) -> Making | None:
    """The making of a job; None when it has no cutter or no template, errors as of `job_chain`."""
    cutter, rough, template = layout.job.cutter, layout.rough_cut, layout.job.template
    chain = job_chain(layout)
    return Making(layout, cutter, rough, chain, template) if chain and cutter and rough and template else None


_C = TypeVar("_C", bound=Cutting)
_T = TypeVar("_T")


def once(work: Callable[[_C], _T]) -> Callable[[_C], _T]:
    """Let a function of a making keep what it worked out with the making, so that it is worked out once."""
    key = f"{work.__module__}.{work.__qualname__}"

    def asked(making: _C) -> _T:
        kept = making.__dict__  # not a field: a copy begins without it
        if key not in kept:
            kept[key] = work(making)
        return cast("_T", kept[key])

    asked.__doc__, asked.__name__, asked.__module__ = work.__doc__, work.__name__, work.__module__
    return asked
