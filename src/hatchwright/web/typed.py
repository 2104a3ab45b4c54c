"""What stands in the boxes that a page has sent."""

from __future__ import annotations

from django.http import QueryDict

BOX = "job."
"""What the name of every box begins with, so that no box can be taken for anything else."""


WAS = "was:"
"""What the name of a hidden box begins with that says what stood in another as its page was loaded."""


def was_in(posted: QueryDict) -> dict[str, str]:
    """What stood in each box as its page was loaded, where that says so."""
    return {name.removeprefix(WAS): _lines(value) for name, value in posted.items() if name.startswith(WAS)}


def changed_in(posted: QueryDict) -> dict[str, str]:
    """The boxes that a person changed: another's change of any other is not taken back by sending a form again."""
    was = was_in(posted)
    sent = {name: _lines(posted.get(name, "")) for name in (*posted, *was) if not name.startswith(WAS)}
    return {name: value for name, value in sent.items() if value != was.get(name)}


def _lines(value: object) -> str:
    return str(value).replace("\r\n", "\n")


def typed_in(posted: QueryDict) -> dict[str, str]:
    """What stands in each box, by its dotted path."""
    return {name.removeprefix(BOX): str(value) for name, value in posted.items() if name.startswith(BOX)}
