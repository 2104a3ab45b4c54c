"""What a repair leaves to be seen, what is hidden, and what the ICA asks; it sets no category and no interval."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.said import Amount, Said, said
from hatchwright.strength.first_row import asked_nothing
from hatchwright.strength.site import Site


def inspection_note(site: Site) -> Iterator[Said]:
    """The note of a reinforced opening; nothing without a doubler.

    Method: docs/theory/first_row.md.
    """
    doubler = site.layout.job.doubler
    if doubler is None:
        return
    yield said("inspection.category")
    is_inside = doubler.face == "inside"
    yield said("inspection.first_row_inside" if is_inside else "inspection.first_row_outside")
    if site.layout.job.cover:
        yield said("inspection.cover")
    screen = asked_nothing(site, load_ratio=0.0)
    if screen is None:
        yield said("inspection.no_screen")
    else:
        yield said("inspection.screen", stress=Amount(screen.value, "psi", toward="down"))
    yield said("inspection.ica")
