"""Layouts proposed for a job as the page shows them: drawn small beside each other, or why there is none."""

from __future__ import annotations

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.bay_view import bay_ink
from hatchwright.drawings.ink import Text
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.short_holes import short_holes
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.finding import Finding
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.page.screen import Asked
from hatchwright.page.ways_out import Changes
from hatchwright.progress import Progress, unheard
from hatchwright.remedy import EntryChange, PartChange
from hatchwright.said import Said, said
from hatchwright.search.proposal.propose import propose
from hatchwright.search.proposal.values import Conflict, Offer, Relaxation
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.propose import (
    aims_said,
    conflict_said,
    headline_said,
    notes_said,
    offer_rows,
    relaxed_said,
    searched_said,
)

STEP = "proposal"
"""What the step of undo is called that enters one."""

_MAY_ENTER = frozenset(("shop", "drawing"))
"""Whose limits the page offers to move; all others are told only."""


class ShownOffer(Struct, frozen=True):
    """One layout: its head, its drawing, what it is limited by and departs in, and what is sent to enter it.

    Args:
        cells: what each row of the table says of it, line by line.
    """

    aims: str
    told: str
    picture: str
    notes: tuple[str, ...]
    departs: bool
    cells: tuple[tuple[str, ...], ...]
    changes: str


class ShownWay(Struct, frozen=True):
    """Limits to be moved together; what is sent to enter them, "" where that is not offered."""

    told: tuple[str, ...]
    changes: str


class ShownConflict(Struct, frozen=True):
    """Why there is none: the line that says it, the limits, and the ways out of it."""

    told: str
    limits: str
    ways: tuple[ShownWay, ...]


class ProposedView(Struct, frozen=True):
    """The answer to one search.

    Args:
        heads: what each row of the table is of.
        picture: of the job as it stands, "" where there are offers.
        searched: the space, the margin and the bound, a sentence each.
    """

    headline: str
    heads: tuple[str, ...]
    offers: tuple[ShownOffer, ...]
    asks: tuple[str, ...]
    conflicts: tuple[ShownConflict, ...]
    picture: str
    searched: tuple[str, ...]


def proposed_view(asked: Asked, progress: Progress = unheard) -> ProposedView:
    """Propose layouts for a job as it was entered, and draw them.

    Raises:
        JobError: the job is not sound; errors as of `propose` besides.
    """
    layout = lay_out(asked.entered(), asked.shop)
    proposal, unit = propose(layout, progress=progress), layout.job.unit
    rows = tuple(offer_rows(proposal.offers))
    offers = (_shown(one, number, rows, layout) for number, one in enumerate(proposal.offers))
    return ProposedView(
        tell(headline_said(proposal), unit),
        tuple(tell(head, unit) for head, _ in rows),
        tuple(offers),
        tuple(tell(one, unit) for one in proposal.asks),
        tuple(_conflict(one, unit) for one in proposal.conflicts),
        "" if proposal.offers else _picture(layout, ()),
        tuple(tell(one, unit) for one in searched_said(proposal)),
    )


def _shown(offer: Offer, number: int, rows: tuple[tuple[Said, tuple], ...], layout: Layout) -> ShownOffer:  # type: ignore[type-arg]
    unit = layout.job.unit
    drawn = lay_out(offer.on(layout.job), layout.shop)
    changes = msgspec.json.encode(Changes(offer.entries, offer.parts)).decode()
    return ShownOffer(
        tell(aims_said(offer), unit),
        tell(offer.told, unit),
        _picture(drawn, offer.findings),
        tuple(tell(one, unit) for one in notes_said(offer)),
        bool(offer.departs),
        tuple(tuple(tell(line, unit) for line in cells[number]) for _, cells in rows),
        changes,
    )


def _picture(layout: Layout, findings: tuple[Finding, ...]) -> str:
    """The job's own drawing of bay and parts without its lettering, small enough to stand beside others."""
    page = PageFrame(layout.frame)
    ink = (
        part for part in bay_ink(layout, short_holes(findings, layout.job.unit)) if not isinstance(part, Text)
    )
    sheet = page.sheet(layout.job, said("layout.title"), ink)
    return picture_svg_of(replace(sheet), margin_in=0.1).decode()


def _conflict(one: Conflict, unit: Unit) -> ShownConflict:
    ways = (
        ShownWay(tuple(tell(relaxed_said(each), unit) for each in way), _changes(way)) for way in one.ways
    )
    return ShownConflict(tell(one.told, unit), tell(conflict_said(one), unit), tuple(ways))


def _changes(way: tuple[Relaxation, ...]) -> str:
    """What enters all that is moved, "" where something of it is not for the page to enter."""
    moved = [one.may_be_entered for one in way if one.whose in _MAY_ENTER]
    entries = [one for one in moved if isinstance(one, EntryChange)]
    parts = [one for one in moved if isinstance(one, PartChange)]
    if len(entries) + len(parts) < len(way):
        return ""
    return msgspec.json.encode(Changes(tuple(entries), tuple(parts))).decode()
