"""What an error says, as sentences of a finding."""

from __future__ import annotations

from hatchwright.errors import HatchwrightError
from hatchwright.said import Said, said


def why(error: HatchwrightError) -> tuple[Said, ...]:
    """What is wrong and what to do next, a sentence each."""
    what, remedy = said("making.sentence", words=error.what), error.remedy
    if not remedy:
        return (what,)
    return (what, remedy if isinstance(remedy, Said) else said("making.sentence", words=remedy))
