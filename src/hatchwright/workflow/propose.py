"""Layouts proposed for a job: found on its file, told in words beside each other, and entered into the job's text."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from msgspec import Struct, to_builtins

from hatchwright.errors import JobError
from hatchwright.job.changed_text import changed_text
from hatchwright.job.file import load_job_text, read_job
from hatchwright.job.text_file import save_text
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.progress import Progress, unheard
from hatchwright.rules.departures import DEPARTURES
from hatchwright.rules.right_bay import MANDATED_SIZE
from hatchwright.said import Amount, Listed, Said, Value, inch, room, said
from hatchwright.search.proposal.apart import propose_apart
from hatchwright.search.proposal.propose import propose
from hatchwright.search.proposal.values import Binding, Conflict, Offer, OfferedRow, Proposal, Relaxation
from hatchwright.search.task_workers import Doer
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.open_job import open_job, own_tables
from hatchwright.workflow.report import finding_values, job_values

SCHEMA = 1
"""Number of the form of `proposal_values`."""

_LEAST_SHIFT_IN = 5e-4


class Proposed(Struct, frozen=True):
    """A job and what is proposed for it."""

    layout: Layout
    proposal: Proposal


def propose_file(
    path: Path, *, shop: Path | None = None, do: Doer | None = None, progress: Progress = unheard
) -> Proposed:
    """Read a job file and propose layouts for its opening.

    Args:
        do: who searches the parts of the space; None for this process, one after the other.
    Raises:
        JobError: the file is refused; errors as of `propose` and `open_job` besides.
    """
    layout = open_job(path, shop=shop)
    if do is None:
        return Proposed(layout, propose(layout, progress=progress))
    return Proposed(layout, propose_apart(layout, do, progress=progress))


def write_offer(
    source: Path, proposed: Proposed, number: int, target: Path, *, shop: Path | None = None, overwrite: bool
) -> None:
    """Write the job with one of its offers as a job of its own; the first is 1.

    Raises:
        JobError: there is no such offer, the target exists and may not be replaced, or the job with it is not sound.
    """
    offers = proposed.proposal.offers
    if not 1 <= number <= len(offers):
        raise JobError.about("--write", "propose.no_such", str(number), n=len(offers))
    if os.path.lexists(target) and not (overwrite and target.is_file()):
        raise JobError.about("file", "error.file_there", str(target))
    text = with_offer(load_job_text(source), offers[number - 1], target.parent, target.name, own_tables(shop))
    save_text(target, text)


def with_offer(text: str, offer: Offer, folder: Path, name: str, shop: ShopTables | None) -> str:
    """A job's text with an offer entered.

    Raises:
        JobError: a place is not there, or the job with it is not sound; GeometryError: it can't be laid out.
    """
    new = changed_text(text, offer.entries, offer.parts)
    lay_out(read_job(new, folder=folder, name=name), shop)
    return new


def headline_said(proposal: Proposal) -> Said:
    """What came of it, in one sentence."""
    if proposal.asks:
        return said("propose.asks")
    if proposal.offers and proposal.conflicts:
        return said("propose.none_but", n=len(proposal.offers))
    if proposal.offers:
        n = len(proposal.offers)
        is_open = any(map(_holds_back, proposal.offers))
        if all(one.departs for one in proposal.offers):
            return said("propose.offers_departing_open" if is_open else "propose.offers_departing", n=n)
        return said("propose.offers_open" if is_open else "propose.offers", n=n)
    return said("propose.none")


def _holds_back(offer: Offer) -> bool:
    """Whether the job with it stops, or is not shown, for more than that it departs."""
    of_departures = (DEPARTURES, MANDATED_SIZE) if offer.departs else ()
    return any(one.status.holds_back and one.code not in of_departures for one in offer.findings)


def first_said(proposal: Proposal) -> Iterator[Said]:
    """What is to be resolved before any layout is entered."""
    for one in proposal.first:
        yield said("propose.first", what=one.subject, advice=Listed(one.advice[:1], ";"))


def aims_said(offer: Offer) -> Said:
    """What an offer is the best of."""
    aims = tuple(said(f"propose.aim.{aim}") for aim in offer.aims)
    return said("propose.best_of", aims=Listed(aims, ","))


def offer_rows(offers: tuple[Offer, ...]) -> Iterator[tuple[Said, tuple[tuple[Value, ...], ...]]]:
    """Offers beside each other: what a row is of, and what it says of each offer, line by line.

    A row that says nothing of any is left out.
    """
    rows: tuple[tuple[str, Any], ...] = (
        ("propose.row.opening", lambda one: (_opening(one),)),
        ("propose.row.moved", _moved),
        ("propose.row.ring", lambda one: (_ring(one),)),
        ("propose.row.doubler", lambda one: (inch(one.gauge_in),)),
        ("propose.row.rivet", lambda one: (one.rivet,)),
        ("propose.row.rows", lambda one: tuple(map(_row, one.rows))),
        ("propose.row.fasteners", _fasteners),
        ("propose.row.mass", lambda one: (Amount(one.mass_lb, "lb"),)),
        ("propose.row.clear", lambda one: (_clear(one),)),
        ("propose.row.open", _open),
    )
    for id, of in rows:
        cells = tuple(tuple(of(one)) for one in offers)
        if any(cells):
            yield said(id), cells


def _opening(offer: Offer) -> Said:
    if offer.shape == "circle":
        return said("size.diameter", across=inch(offer.width_in))
    sizes = {"x": inch(offer.width_in), "y": inch(offer.height_in), "radius": inch(offer.radius_in)}
    return said("propose.rectangle", **sizes)


def _moved(offer: Offer) -> Iterator[Said]:
    x_in, y_in = offer.shift_in
    if max(abs(x_in), abs(y_in)) > _LEAST_SHIFT_IN:
        yield said("propose.moved", x=inch(x_in), y=inch(y_in))


def _ring(offer: Offer) -> Said:
    x_in, y_in, radius_in = offer.outer_in
    if offer.shape == "circle":
        return said("propose.round_ring", width=inch(offer.ring_in), across=inch(x_in))
    sizes = {"x": inch(x_in), "y": inch(y_in), "radius": inch(radius_in)}
    return said("propose.ring", width=inch(offer.ring_in), **sizes)


def _row(row: OfferedRow) -> Said:
    distance, pitch = inch(row.distance_in), room(min(row.pitches_in))
    if len(row.per_side) == 1:
        id = "propose.lay_round_staggered" if row.is_staggered else "propose.lay_round"
        return said(id, distance=distance, n=row.count, pitch=pitch)
    x, y, *_ = row.per_side  # the sides across are alike
    id = "propose.lay_staggered" if row.is_staggered else "propose.lay"
    return said(id, distance=distance, x=x, y=y, pitch=pitch)


def _fasteners(offer: Offer) -> Iterator[Said]:
    yield said("propose.rivets", n=offer.rivets)
    if screws := offer.fasteners - offer.rivets:
        yield said("propose.screws", n=screws)


def _clear(offer: Offer) -> Said:
    return said("size.x_by_y", x=room(offer.clear_in[0]), y=room(offer.clear_in[1]))


def binding_said(one: Binding) -> Said:
    """A limit that an offer lies on, with the code of its rule where it is one."""
    id = "propose.bind_of" if one.code else "propose.bind"
    return said(id, limit=one.limit, measured=one.measured, bound=one.bound, code=one.code)


def limited_said(offer: Offer) -> Said:
    """Everything that an offer is limited by."""
    return said("propose.limited", by=Listed(tuple(map(binding_said, offer.binds)), ";"))


def departs_said(offer: Offer) -> Iterator[Said]:
    """In what an offer departs from the data, and what that asks for."""
    if offer.departs:
        yield said("propose.departs", what=Listed(tuple(said(f"departure.{one}") for one in offer.departs)))


def _open(offer: Offer) -> Iterator[Said]:
    """What the job would have open after it, counted by answer."""
    for status in (Status.STOP, Status.UNKNOWN, Status.CAUTION):
        found = [one for one in offer.findings if one.status is status]
        if found:
            codes = Listed(tuple(dict.fromkeys(one.code for one in found)), ",")
            yield said("propose.open", status=status, n=len(found), codes=codes)


def searched_said(proposal: Proposal) -> Iterator[Said]:
    """What was searched, how, and what the answer proves and does not; nothing where nothing could be."""
    if proposal.asks:
        return
    yield from proposal.space.told
    yield proposal.space.left_out
    yield proposal.margin
    yield proposal.bound
    yield from proposal.unproved


def relaxed_said(one: Relaxation) -> Said:
    """One limit moved: from where to where, whose it is, and what that gives."""
    id = f"propose.relax.{one.whose}"
    return said(id, limit=one.limit, old=one.from_, new=one.to, gives=one.gives)


def ways_said(conflicts: tuple[Conflict, ...]) -> Iterator[tuple[tuple[Said, ...], ...]]:
    """The ways out of each conflict, limit by limit: one that was told before is only named again."""
    told: set[tuple[tuple[str, float], ...]] = set()
    for conflict in conflicts:
        ways = [(tuple((one.key, one.to.value) for one in way), way) for way in conflict.ways]
        yield tuple(
            tuple((_as_above if key in told else relaxed_said)(one) for one in way) for key, way in ways
        )
        told |= {key for key, _ in ways}


def _as_above(one: Relaxation) -> Said:
    return said("propose.relax.as_above", limit=one.limit, old=one.from_, new=one.to)


def conflict_said(one: Conflict) -> Said | None:
    """Which limits can't be kept together, where moving none of them is a way out that names it."""
    if one.ways:
        return None
    return said("propose.conflict", between=one.between, limits=Listed(one.limits, ";"))


def proposal_values(proposed: Proposed) -> dict[str, Any]:
    """Everything as plain values, documented in docs/propose-json.md."""
    job, proposal = proposed.layout.job, proposed.proposal
    unit = job.unit
    return {
        "schema": SCHEMA,
        "job": job_values(job),
        "words": tell(headline_said(proposal), unit),
        "offers": [_offer_values(one, unit) for one in proposal.offers],
        "conflicts": [_conflict_values(one, unit) for one in proposal.conflicts],
        "asks": [tell(one, unit) for one in proposal.asks],
        "space": {
            "words": []
            if proposal.asks
            else [tell(one, unit) for one in (*proposal.space.told, proposal.space.left_out)],
            "options": proposal.space.options,
            "step_in": proposal.space.step_in,
        },
        "margin": tell(proposal.margin, unit),
        "bound": tell(proposal.bound, unit),
        "unproved": [tell(one, unit) for one in proposal.unproved],
        "first": [finding_values(one, unit) for one in proposal.first],
        "candidates": proposal.candidates,
        "checked": proposal.checked,
        "judged": proposal.judged,
    }


def _offer_values(one: Offer, unit: Unit) -> dict[str, Any]:
    return {
        "words": tell(one.told, unit),
        "aims": [str(aim) for aim in one.aims],
        "opening": {
            "shape": one.shape,
            "width_in": one.width_in,
            "height_in": one.height_in,
            "radius_in": one.radius_in,
            "center_in": list(one.center_in),
            "shift_in": list(one.shift_in),
        },
        "ring_in": one.ring_in,
        "outer_in": list(one.outer_in),
        "gauge_in": one.gauge_in,
        "rivet": one.rivet,
        "rows": [to_builtins(row) for row in one.rows],
        "rivets": one.rivets,
        "fasteners": one.fasteners,
        "mass_lb": one.mass_lb,
        "clear_in": list(one.clear_in),
        "binds": [
            {
                "code": bind.code,
                "words": tell(bind.limit, unit),
                "measured": bind.measured.value,
                "bound": bind.bound.value,
                "unit": bind.bound.unit,
            }
            for bind in one.binds
        ],
        "departs": list(one.departs),
        "entries": [to_builtins(entry) for entry in one.entries],
        "parts": [to_builtins(part) for part in one.parts],
        "findings": [finding_values(finding, unit) for finding in one.findings],
    }


def _conflict_values(one: Conflict, unit: Unit) -> dict[str, Any]:
    return {
        "words": tell(one.told, unit),
        "between": tell(one.between, unit),
        "limits": [tell(limit, unit) for limit in one.limits],
        "ways": [[_relaxation_values(each, unit) for each in way] for way in one.ways],
        "requests": [tell(request, unit) for request in one.requests],
    }


def _relaxation_values(one: Relaxation, unit: Unit) -> dict[str, Any]:
    return {
        "key": one.key,
        "words": tell(relaxed_said(one), unit),
        "from": one.from_.value,
        "to": one.to.value,
        "unit": one.to.unit,
        "whose": one.whose,
        "entry": to_builtins(one.may_be_entered) if one.may_be_entered else None,
        "gives": tell(one.gives, unit),
    }
