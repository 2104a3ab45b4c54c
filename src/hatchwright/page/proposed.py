"""Layouts proposed for a job as the page shows them: drawn small beside each other, or why there is none."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec
from msgspec import Struct

from hatchwright.drawings.bay_view import bay_ink
from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Ink, Text
from hatchwright.drawings.overlap_view import overlaps
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
from hatchwright.search.proposal.values import Conflict, Relaxation
from hatchwright.units import Unit
from hatchwright.words.tell import ended, tell
from hatchwright.workflow.propose import (
    aims_said,
    binding_said,
    conflict_said,
    departs_said,
    first_said,
    headline_said,
    offer_rows,
    searched_said,
    ways_said,
)

STEP = "proposal"
"""What the step of undo is called that enters one."""

_BESIDE_IN = 0.6
_LETTER_RATIO = 0.05

_MAY_ENTER = frozenset(("shop", "drawing"))
"""Whose limits the page offers to move; all others are told only."""


class ShownOffer(Struct, frozen=True):
    """One layout: its head, its drawing, what it departs in and is limited by, and what is sent to enter it.

    Args:
        cells: what each row of the table says of it, line by line.
    """

    aims: str
    told: str
    picture: str
    departs: tuple[str, ...]
    cells: tuple[tuple[str, ...], ...]
    binds: tuple[str, ...]
    changes: str


class ShownWay(Struct, frozen=True):
    """Limits to be moved together; what is sent to enter them, "" where that is not offered."""

    told: tuple[str, ...]
    changes: str


class ShownConflict(Struct, frozen=True):
    """Why there is none: the line that says it, the limits, the ways out, and what may be had or asked instead."""

    told: str
    limits: str
    ways: tuple[ShownWay, ...]
    more: tuple[str, ...]


class ProposedView(Struct, frozen=True):
    """The answer to one search.

    Args:
        heads: what each row of the table is of.
        picture: of the job as it stands, "" where it has no conflict.
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
    drawn = [lay_out(one.on(layout.job), layout.shop) for one in proposal.offers]
    window = _window((layout, *drawn))
    offers = (
        ShownOffer(
            tell(aims_said(one), unit),
            tell(one.told, unit),
            _picture(with_it, one.findings, window),
            tuple(tell(told, unit) for told in departs_said(one)),
            tuple(tuple(tell(line, unit) for line in cells[number]) for _, cells in rows),
            tuple(tell(binding_said(bind), unit) for bind in one.binds),
            msgspec.json.encode(Changes(one.entries, one.parts)).decode(),
        )
        for number, (one, with_it) in enumerate(zip(proposal.offers, drawn, strict=True))
    )
    return ProposedView(
        tell(headline_said(proposal), unit),
        tuple(tell(head, unit) for head, _ in rows),
        tuple(offers),
        tuple(tell(one, unit) for one in (*first_said(proposal), *proposal.asks)),
        tuple(
            _conflict(one, told, unit)
            for one, told in zip(proposal.conflicts, ways_said(proposal.conflicts), strict=True)
        ),
        _picture(layout, (), window, with_overlaps=True) if proposal.conflicts else "",
        tuple(ended(tell(one, unit)) for one in searched_said(proposal)),
    )


def _window(layouts: Iterable[Layout]) -> Box:
    """What all drawings show, so that they can be compared: the largest of the rings, and a little of the bay."""
    boxes = []
    for layout in layouts:
        part = layout.part("doubler")
        loop = part.edges[0].loop if part else layout.wanted
        boxes.append(PageFrame(layout.frame).box(loop.bounds))
    return Box(
        min(box.left for box in boxes),
        min(box.bottom for box in boxes),
        max(box.right for box in boxes),
        max(box.top for box in boxes),
    )


def _picture(
    layout: Layout, findings: tuple[Finding, ...], window: Box, *, with_overlaps: bool = False
) -> str:
    """The job's own drawing of bay and parts without its lettering, small enough to stand beside others."""
    page = PageFrame(layout.frame)
    bay = bay_ink(layout, short_holes(findings, layout.job.unit))
    ink: list[Ink] = [part for part in bay if not isinstance(part, Text)]
    if with_overlaps:
        ink += overlaps(layout, page, letter_in=_LETTER_RATIO * window.height_in)
    sheet = page.sheet(layout.job, said("layout.title"), ink)
    return picture_svg_of(sheet, margin_in=_BESIDE_IN, window=window).decode()


def _conflict(one: Conflict, told_ways: tuple[tuple[Said, ...], ...], unit: Unit) -> ShownConflict:
    ways = (
        ShownWay(tuple(tell(each, unit) for each in told), _changes(way))
        for told, way in zip(told_ways, one.ways, strict=True)
    )
    limits = conflict_said(one)
    more = (tell(told, unit) for told in one.requests)
    return ShownConflict(tell(one.told, unit), tell(limits, unit) if limits else "", tuple(ways), tuple(more))


def _changes(way: tuple[Relaxation, ...]) -> str:
    """What enters all that is moved, "" where something of it is not for the page to enter."""
    moved = [one.may_be_entered for one in way if one.whose in _MAY_ENTER]
    entries = [one for one in moved if isinstance(one, EntryChange)]
    parts = [one for one in moved if isinstance(one, PartChange)]
    if len(entries) + len(parts) < len(way):
        return ""
    return msgspec.json.encode(Changes(tuple(entries), tuple(parts))).decode()
