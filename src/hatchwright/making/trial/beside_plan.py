"""What a trial measured beside what was planned: told with its interval, judged by whether the two differ at all."""

from __future__ import annotations

import numpy as np

from hatchwright.finding import Finding, held_as
from hatchwright.ground import Ground
from hatchwright.judged import Bound, Judgement, Measure, Status, the_same
from hatchwright.metrology.real_offset import Effect
from hatchwright.said import Said
from hatchwright.workings import Working


def shows(*effects: Effect, on: Ground, unit: str = "in", fails_as: Status = Status.CAUTION) -> Judgement:
    """Hold effects of one kind, such as a shift along X and along Y, to the half widths of their intervals:
    what is larger is no scatter. It is judged on the one that shows most, and fails as told."""
    sizes, within = np.array([(abs(one.size_in), one.expanded_in) for one in effects]).T
    judged = on.at_most(Measure("|effect|", sizes, unit=unit), within, fails_as=fails_as)
    return judged.at(judged.worst())


def beside_plan(
    code: str,
    measure: Measure,
    planned: float,
    judged: Judgement,
    subject: Said,
    *advice: Said,
    status: Status | None = None,
    working: Working | None = None,
) -> Finding:
    """Make a finding that tells a measured value beside what was planned.

    Args:
        measure: with the half width of its interval.
        planned: what it should be [unit of the measure].
        judged: what decides, such as `shows`; its source is that of the finding.
        status: the answer where nothing can be decided.
    """
    more = (working, *judged.working) if working else judged.working
    told = the_same(measure, Bound(planned, judged.source, judged.grade, "planned"), more=more)
    answer = status or judged.status
    return held_as(code, told, answer, subject, *(() if answer is Status.PASS else advice))
