"""A strength that nothing published covers: why not, and what to do, as sentences of the catalogue."""

from __future__ import annotations

from hatchwright.errors import HatchwrightError, TableError
from hatchwright.said import Said, said
from hatchwright.words.tell import tell_all


class Refusal(TableError):
    """No value may be used; `told` says why, and then what to do."""

    def __init__(self, *told: Said, where: Said | str = "", enter: tuple[str, ...] = ()) -> None:
        self.told = told
        self.enter = enter
        super().__init__(tell_all(told), where=where)


def told_of(error: HatchwrightError) -> tuple[Said | str, ...]:
    """What an error says, to be told beside the margin that it kept from being computed."""
    if isinstance(error, Refusal):
        return error.told
    return (said("strength.refused", why=str(error).rstrip(".")),)


def entries_of(error: HatchwrightError) -> tuple[str, ...]:
    """Entries of the job that would mend it."""
    return error.enter if isinstance(error, Refusal) else ()
