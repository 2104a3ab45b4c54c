"""Whether the strength of a job holds with a change as it does without: hand methods first, then finite elements."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from hatchwright.job.other_side import MirroredJob, other_side
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.search.no_worse import Counted, at_most, counted
from hatchwright.search.remedy import Strength


@dataclass
class StrengthHeld:
    """The strength of a job as it is, worked out when it is first asked for.

    Args:
        hand_only: whether finite elements, which take seconds, are left out.
        solving: told before they are run.
    """

    layout: Layout
    hand_only: bool
    solving: Callable[[], object]
    _before: dict[bool, tuple[Counted, ...]] = field(default_factory=dict)

    @property
    def tried(self) -> Strength:
        """How far the strength of a change is tried."""
        if self.layout.job.loads.basis == "none":
            return "not tried"
        return "by hand" if self.hand_only else "whole"

    def holds(self, changed: Layout) -> bool:
        """Whether nothing of it is short more often, more gravely or by more with a change, on either side.

        Raises:
            HatchwrightError: the other side cannot be laid out.
        """
        if self.tried == "not tried":
            return True
        return self._is_no_worse(changed, whole=False) and (
            self.hand_only or self._is_no_worse(changed, whole=True)
        )

    def _is_no_worse(self, changed: Layout, *, whole: bool) -> bool:
        if whole:
            self.solving()
        if whole not in self._before:
            self._before[whole] = tuple(_short(side, whole) for side in _sides(self.layout))
        after = (_short(side, whole) for side in _sides(changed))
        return all(at_most(now, then) for now, then in zip(after, self._before[whole], strict=True))


def _sides(layout: Layout) -> Iterator[Layout]:
    """This side and, where it gets the opening too, the other one."""
    yield layout
    craft = layout.job.aircraft
    if craft.both_sides and craft.side != "center" and not isinstance(layout.job, MirroredJob):
        yield lay_out(other_side(layout.job), layout.shop)


def _short(layout: Layout, whole: bool) -> Counted:
    """What does not pass of the strength of one side, with finite elements or by hand methods alone."""
    from hatchwright.search.strength_answer import answer_of  # many modules, for jobs with loads alone
    from hatchwright.strength.report import WHOLE, strength_findings

    report = answer_of(layout, WHOLE if whole else None).report
    return counted(one for one in strength_findings(report) if one.status is not Status.PASS)
