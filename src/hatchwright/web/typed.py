"""What stands in the boxes that a page has sent."""

from __future__ import annotations

from django.http import QueryDict

BOX = "job."
"""What the name of every box begins with, so that no box can be taken for anything else."""


def typed_in(posted: QueryDict) -> dict[str, str]:
    """What stands in each box, by its dotted path."""
    return {name.removeprefix(BOX): str(value) for name, value in posted.items() if name.startswith(BOX)}
