"""R601, R602: number of rivets on each side of the cut, by the circular's tables, and which of them count."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
from msgspec import Struct

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.ground import Ground
from hatchwright.job.job import Job
from hatchwright.judged import FLOAT_NOISE, Bound, Judgement, Measure, Numbers, Status, lengths
from hatchwright.layout.cut_side import COUNT_RULE, CountReading, CutSide
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, held_as, stated
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import is_flush
from hatchwright.said import Said, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivets_per_inch import (
    AC43_TABLE_4_9,
    AC43_TABLE_4_10,
    AC43_TABLE_4_11,
    AC43_TABLE_NOTES,
    TABLE_READINGS,
    rivets_per_inch,
    table_note,
    tables_for,
)
from hatchwright.words.readings import reading_called
from hatchwright.words.tell import ended
from hatchwright.workings import Grade, Quantity, Source, Working

_TABLES = Ground(Source("AC43.13-1B", "tables 4-9 to 4-11"), Grade.PUBLISHED)


class JudgedSide(Struct, frozen=True):
    """One side of the cut with the number of rivets that each reading asks for."""

    side: CutSide
    judged: Judgement

    @property
    def needed(self) -> int:
        """Rivets asked for by the reading that is gone by [-]."""
        assert self.judged.limit is not None  # one side has one limit
        return int(self.judged.limit)


def judged_sides(survey: Survey) -> tuple[JudgedSide, ...]:
    """How many rivets each side asks for, by every reading, and whether it has them.

    Returns:
        tuple: X+, X-, Y+ and Y-; empty without rivets, or where the circular has no table for the skin.
    Raises:
        TableError: the circular's table gives no number for the skin's thickness or the rivet.
    """
    rivets = survey.layout.holes_of("rivet")
    asked = asked_per_inch(survey.layout, min(hole.diameter_in for hole in rivets)) if rivets else ()
    if not asked:
        return ()
    return tuple(JudgedSide(side, _of_side(survey, side, asked)) for side in survey.sides)


def rivets_needed(cut_in: Numbers, per_inch: Cited, note: Cited | None = None) -> Numbers:
    """Whole rivets that a cut takes by the table, rounded up, of the shape of the cut [-].

    Args:
        cut_in: width of the metal cut away, one number or an array of any shape [in].
        per_inch: of the circular's table [1/in].
        note: of that table, None for no reduction [-].
    """
    share = note.value if note else 1.0
    needed: Numbers = np.ceil(cut_in * per_inch.value * share - FLOAT_NOISE)
    return needed


def _of_side(survey: Survey, side: CutSide, asked: tuple[AskedPerInch, ...]) -> Judgement:
    """The judgement of one side by each reading, with how their numbers come about."""
    bounds, workings = [], []
    for name, per_inch, note in asked:
        needed = float(rivets_needed(side.cut_in, per_inch, note))
        bounds.append(Bound(needed, per_inch.source, per_inch.grade, f"{needed:g}", name))
        reduced = (Quantity("note c", note.value, ""),) if note else ()
        working = Working.resting_on(
            per_inch,
            f"needed by {name} = cut x n{' x note c' if note else ''}, rounded up",
            Quantity("needed", needed, "rivets"),
            Quantity("cut", side.cut_in, "in"),
            Quantity("n", per_inch.value, "per in"),
            *reduced,
        )
        workings.append(working)
    return Judgement(
        Measure("n", float(len(side.rivets)), unit="rivets", with_=lengths(cut=side.cut_in)),
        tuple(bounds),
        chosen=survey.chosen("R601"),
        differ=Status.UNKNOWN,
        more=(*workings, *count_workings(side)),
    )


class AskedPerInch(NamedTuple):
    """What one reading of the circular asks for an inch of cut."""

    name: str
    per_inch: Cited
    note: Cited | None


def asked_per_inch(layout: Layout, diameter_in: float) -> tuple[AskedPerInch, ...]:
    """Every reading of the circular for the skin, the default first; none where it has no table for it.

    Args:
        diameter_in: of the rivets [in].
    Raises:
        TableError: the circular's table gives no number for the skin's thickness or the rivet.
    """
    skin = layout.job.skin
    found = []
    for table in tables_for(skin.alloy, skin.temper, skin.clad):
        per_inch = rivets_per_inch(
            table, thickness_in=skin.thickness.inch, diameter_in=diameter_in, shop=layout.shop
        )
        for name, (own, letter) in TABLE_READINGS.items():
            if own == table:
                found.append(AskedPerInch(name, per_inch, table_note(table, letter) if letter else None))
    return tuple(found)


@rule("R601", Shelf.HOLDS, reads=("holes", "parts", "sides", "skin"), marks_holes=True, needs_every_hole=True)
@judged_by(AC43_TABLE_4_9, AC43_TABLE_4_10, AC43_TABLE_4_11, AC43_TABLE_NOTES, readings=tuple(TABLE_READINGS))
@mended_by(Change.ROW_PITCH, Change.DOUBLER_SIZE, Change.ADDED_RIVET)
def rivets_each_side(survey: Survey) -> Iterator[Finding]:
    """R601: rivets on each side of the cut."""
    layout = survey.layout
    if layout.part("doubler") is None:
        return
    skin = layout.job.skin
    sides: tuple[JudgedSide, ...] = ()
    why: Said | str = said("rivet_count.no_table", alloy=skin.alloy, temper=skin.temper)
    try:
        sides = judged_sides(survey)
    except TableError as error:
        why = error.what
    if not sides:
        if layout.holes_of("rivet"):
            yield stated(Status.UNKNOWN, why, _TABLES, said("rivet_count.ask"), unit="rivets")
        yield from (_bare(side) for side in survey.sides if not side.rivets)
    flush = any(is_flush(hole) for hole in layout.holes_of("rivet"))
    yield from (_counted(found, flush=flush) for found in sides)


def _counted(found: JudgedSide, *, flush: bool) -> Finding:
    """The tables are for protruding heads: of flush ones their number is a least, by which nothing passes."""
    side, judged = found.side, found.judged
    subject = said(
        "rivet_count.side",
        side=side.name,
        cut=inch(side.cut_in),
        n=len(side.rivets),
        needed=found.needed,
        reading=reading_called(judged.by.reading),
    )
    if flush and judged.status is Status.PASS:
        numbers = tuple(hole.number for hole in side.rivets)
        return held_as(
            judged, Status.UNKNOWN, subject, said("rivet_count.flush"), holes=numbers, cause="flush"
        )
    short = len(side.rivets) < found.needed
    advice = (
        *((said("rivet_count.flush"),) if flush else ()),
        *_other_count(found),
        *((ASK,) if short or judged.status is Status.STOP else ()),
    )
    numbers = () if judged.status is Status.PASS else tuple(hole.number for hole in side.rivets)
    return held(judged, subject, *advice, holes=numbers)


def _other_count(found: JudgedSide) -> tuple[Said, ...]:
    """Where only the stricter count falls short, what the other would give."""
    side = found.side
    if side.reading is CountReading.HALF or not len(side.rivets) < found.needed <= len(
        side.counted(CountReading.HALF)
    ):
        return ()
    return (said("rivet_count.half_has", half=len(side.counted(CountReading.HALF))),)


def _bare(side: CutSide) -> Finding:
    """A side on which nothing holds the doubler, where no table gives a number."""
    subject = said("rivet_count.bare_side", side=side.name, cut=inch(side.cut_in))
    return stated(Status.STOP, subject, _TABLES, said("rivet_count.enter_rows"), value=0.0, unit="rivets")


def count_workings(side: CutSide) -> tuple[Working, ...]:
    """The number of rivets on a side by each reading, the default first."""
    return tuple(
        Working.resting_on(
            one.basis,
            f"{one}: rivets beyond its line, load along {side.name[0]}",
            Quantity("rivets", float(len(side.counted(one))), ""),
            Quantity("cut", side.cut_in, "in"),
        )
        for one in side.readings
    )


@rule("R602", Shelf.HOLDS, reads=("holes", "opening", "parts", "sides", "wanted"))
@judged_by(*tuple(one.key for one in CountReading), readings=tuple(map(str, CountReading)))
def counted_rivets(survey: Survey) -> Iterator[Finding]:
    """R602: rivets that count on each side of the cut."""
    if survey.layout.part("doubler") is None:
        return
    for side in survey.sides:
        if side.half:
            yield _those_that_count(survey.layout.job, side)


def _those_that_count(job: Job, side: CutSide) -> Finding:
    basis, id = side.reading.basis, "R602.half" if side.reading is CountReading.HALF else "R602.ahead"
    half, ahead = (len(side.counted(reading)) for reading in CountReading)
    return stated(
        Status.CAUTION if side.is_relaxed else Status.PASS,
        said(id, side=side.name, half=half, ahead=ahead),
        basis,
        _why(side),
        *_chosen(job, side),
        value=float(len(side.rivets)),
        unit="rivets",
        working=count_workings(side),
        readings=tuple(map(str, side.readings)),
    )


def _why(side: CutSide) -> Said:
    if side.is_relaxed:
        return said("R602.relaxed")
    return said("R602.straight" if side.has_straight_edge else "R602.no_straight")


def _chosen(job: Job, side: CutSide) -> tuple[Said, ...]:
    choice = job.choice(COUNT_RULE)
    if choice is None or choice.reading != side.reading:
        return ()
    return (said("reading.chosen", reading=reading_called(side.reading), reason=ended(choice.reason)),)
