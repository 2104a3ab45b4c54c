"""One thing that a job says otherwise than its site survey, and how it would be typed."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from msgspec import Struct

from hatchwright.job.as_typed import typed_length
from hatchwright.judged import FLOAT_NOISE
from hatchwright.metrology.propagated import Propagated
from hatchwright.said import Said, said
from hatchwright.units import MM_PER_IN, Length, Unit

AS_TYPED_IN = 0.5e-4 + FLOAT_NOISE
"""A length that was worked out is typed to the nearest step: what is less off would be typed as it stands [in]."""


class Difference(Struct, frozen=True):
    """One entry of the job beside what the survey says of it.

    Args:
        name: of the landmark or thing, as it was entered; of the job's own entries, such as its center, what they are.
        what: which of its sizes or places.
        field: the entry of the job, such as ``bay.rows.1.x``; where the job has nothing of it, where it goes.
        new: what is to stand there, as it is typed; a section or a line where the job has nothing of it; None of what
            can't be entered so, as the place of an outline that carries its own.
        old: what stands there, "" for nothing.
        job_in: what the job says, None where it says nothing [in].
        site_in: what the survey says, None of what is more than a length [in].
        u_in: expanded uncertainty of that [in].
    """

    name: Said | str
    what: Said
    field: str
    new: Any
    old: str = ""
    job_in: float | None = None
    site_in: float | None = None
    u_in: float = 0.0

    @property
    def off_in(self) -> float | None:
        """By how much they differ, None where one of the two is no length [in]."""
        return None if self.job_in is None or self.site_in is None else abs(self.job_in - self.site_in)

    @property
    def is_beyond(self) -> bool:
        """Whether they differ by more than the uncertainty of the survey, or the job has nothing of it."""
        off_in = math.inf if self.off_in is None else self.off_in
        return off_in > self.u_in + FLOAT_NOISE

    @property
    def is_missing(self) -> bool:
        """Whether the job has nothing of it."""
        return not self.old


def length_differs(
    name: Said | str, what: str, field: str, old: Length | None, new: Propagated, text: str
) -> Iterator[Difference]:
    """A length of the job that is another in the survey, or is not there."""
    if old is None or abs(old.inch - new.value) > AS_TYPED_IN:
        old_in, old_text = (None, "") if old is None else (old.inch, old.text)
        yield Difference(name, said(f"site.what.{what}"), field, text, old_text, old_in, new.value, new.u)


def up_text(value_in: float, unit: Unit) -> str:
    """A length as it would be typed, rounded up.

    >>> up_text(0.00051, "in"), up_text(0.0005, "in")
    ('0.0006', '0.0005')
    """
    step_in = _step_in(unit)
    return typed_length(math.ceil(value_in / step_in - 1e-6) * step_in, unit)


def down_text(value_in: float, unit: Unit) -> str:
    """A length as it would be typed, rounded down.

    >>> down_text(0.27875, "in"), down_text(-0.00051, "in")
    ('0.2787', '-0.0006')
    """
    step_in = _step_in(unit)
    return typed_length(math.floor(value_in / step_in + 1e-6) * step_in, unit)


def _step_in(unit: Unit) -> float:
    return 1e-3 / MM_PER_IN if unit == "mm" else 1e-4
