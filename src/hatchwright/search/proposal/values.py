"""What a proposal is made of: the space that was searched, what was found in it, and what forbids all of it."""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.job.departures import Subject
from hatchwright.job.job import Job
from hatchwright.remedy import EntryChange, PartChange
from hatchwright.said import Amount, Said
from hatchwright.search.candidate import Candidate


class Aim(StrEnum):
    """What an offer is the best of."""

    LIGHTEST = "lightest"
    """The least mass of doubler ring and rivets."""
    FEWEST = "fewest"
    """The fewest rivets, so the fewest holes."""
    LARGEST = "largest"
    """The largest clear opening; where its size is given, the narrowest ring."""


class Binding(Struct, frozen=True):
    """A limit that an offer lies on: nothing of it can be smaller, or larger, without breaking it.

    Args:
        limit: a noun phrase of what is measured and against what.
        measured: what the offer has there.
        bound: the limit itself, in the same unit.
        room: what is left over, rounded down.
        code: of the rule, or of the making; "" where the wish or the shop asks it.
    """

    limit: Said
    measured: Amount
    bound: Amount
    room: Amount
    code: str = ""


class OfferedRow(Struct, frozen=True):
    """One row all round, as it is entered: bays from corner middle to corner middle.

    Args:
        name: as it is entered.
        distance_in: of its centers from the opening's edge [in].
        per_side: bays of each side, first the side toward X, then on toward Y; one number on a circle.
        is_staggered: whether it starts half a bay past the corner's middle.
        pitches_in: shortest distance between neighbors on the sides toward X and toward Y [in].
    """

    name: str
    distance_in: float
    per_side: tuple[int, ...]
    is_staggered: bool
    pitches_in: tuple[float, float]

    @property
    def count(self) -> int:
        """Its rivets [-]."""
        return sum(self.per_side)


class Offer(Struct, frozen=True):
    """One layout that passes every rule, the recipe and, with loads, strength, when it is entered.

    Args:
        aims: what it is the best of; several where one layout is.
        shape: of the opening.
        width_in, height_in: of the opening; the diameter twice for a circle [in].
        radius_in: its corner radius; half the diameter for a circle [in].
        center_in: of opening and ring, in the job's frame [in].
        shift_in: from the center that the job had (x, y) [in].
        ring_in: from the opening's edge to the doubler's outer edge, even all round [in].
        gauge_in: of the doubler [in].
        rivet: part number, with or without its length dash.
        rows: the nearest to the opening first.
        fasteners: rivets of the rows and screws of the cover [-].
        mass_lb: of the doubler, cut out, with the rivets of its rows [lb].
        clear_in: what is left open inside the doubler, along X and Y [in].
        binds: the limits that it lies on.
        entries: what is typed anew to make it the job.
        parts: what is put in or taken away whole after that.
        departs: in what it departs from what was mandated or given: there it needs an alternative method first.
        findings: what is open on the job after it, the gravest first; none of it stops, or is not shown, that the job
            had no other reason for.
        told: one line that names it.
    """

    aims: tuple[Aim, ...]
    shape: Literal["rounded rectangle", "circle"]
    width_in: float
    height_in: float
    radius_in: float
    center_in: tuple[float, float]
    shift_in: tuple[float, float]
    ring_in: float
    gauge_in: float
    rivet: str
    rows: tuple[OfferedRow, ...]
    fasteners: int
    mass_lb: float
    clear_in: tuple[float, float]
    binds: tuple[Binding, ...]
    entries: tuple[EntryChange, ...]
    parts: tuple[PartChange, ...]
    departs: tuple[Subject, ...]
    findings: tuple[Finding, ...]
    told: Said

    @property
    def outer_in(self) -> tuple[float, float, float]:
        """Outer width, height and corner radius of the ring [in]."""
        more = 2.0 * self.ring_in
        return self.width_in + more, self.height_in + more, self.radius_in + self.ring_in

    @property
    def rivets(self) -> int:
        """Of its rows [-]."""
        return sum(row.count for row in self.rows)

    def on(self, job: Job) -> Job:
        """The job with the offer entered.

        Raises:
            JobError: the job is not the one that the offer was made for.
        """
        return Candidate(self.entries, self.told, self.parts).on(job)


Whose = Literal["shop", "drawing", "mandate", "published"]
"""Who may move a limit: the shop its margin and its shelf, whoever draws the size, the mandate its size, nobody a
flange, and nobody a published figure without an engineer."""


class Relaxation(Struct, frozen=True):
    """One limit moved as far as it must be, and what that gives.

    Args:
        key: of the limit, for programs.
        limit: a noun phrase of it.
        from_, to: where it stands and where it must stand.
        whose: see `Whose`.
        may_be_entered: what is typed to move it; None where nothing that can be typed does.
        gives: one sentence on the layout that is possible then.
    """

    key: str
    limit: Said
    from_: Amount
    to: Amount
    whose: Whose
    may_be_entered: EntryChange | PartChange | None
    gives: Said


class Conflict(Struct, frozen=True):
    """Limits that cannot be kept together: drop any one of them and the others can.

    Args:
        between: the axis, or the pair of flanges, that it is between.
        limits: an irreducible set, what nobody can move first.
        ways: smallest sets of limits to relax together, each of which gives a layout.
        told: one line why, with what is needed and what is there.
        requests: what may be asked of who can decide: none of it is entered by anybody here.
    """

    between: Said
    limits: tuple[Said, ...]
    ways: tuple[tuple[Relaxation, ...], ...]
    told: Said
    requests: tuple[Said, ...] = ()


class Space(Struct, frozen=True):
    """What was searched: nothing is said of what lies outside it.

    Args:
        told: one sentence each, discrete first.
        options: rows that were asked, of all gauges and rivets together [-].
        step_in: lengths are rounded up to this [in].
        left_out: one sentence on what is not in it.
    """

    told: tuple[Said, ...]
    options: int
    step_in: float
    left_out: Said


class Proposal(Struct, frozen=True):
    """The answer to a wish: at most three offers, or the conflicts that leave none.

    Args:
        offers: those that do not depart from a mandate first.
        conflicts: why there is none; empty with an offer.
        candidates: layouts that were compared, all aims together [-].
        checked: of these, laid out hole by hole [-].
        judged: of these, judged by every rule [-].
        bound: one sentence on what the best-first order proves.
        unproved: one sentence each on what it does not prove.
        margin: one sentence on what is kept for drilling and filing errors.
        asks: what must be entered before anything can be proposed.
        first: what the job stops for already that comes before any layout, as a bay that may not be the right one.
    """

    space: Space
    offers: tuple[Offer, ...]
    conflicts: tuple[Conflict, ...]
    candidates: int
    checked: int
    judged: int
    bound: Said
    margin: Said
    asks: tuple[Said, ...] = ()
    unproved: tuple[Said, ...] = ()
    first: tuple[Finding, ...] = ()
