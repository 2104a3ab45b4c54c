"""S203: rivets that the circular's tables call for on each side of the cut, beside what hand analysis calls for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import survey
from hatchwright.rules.rivets_per_inch import JudgedSide, judged_sides
from hatchwright.rules.wording import is_flush
from hatchwright.said import Amount, Value, said
from hatchwright.strength.checks.rivets import S201, S202
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.two_paths import (
    ORDER,
    RIVET_PATHS,
    Computed,
    Path,
    Reason,
    governing,
    named,
    put_in,
    two_paths,
)
from hatchwright.words.readings import reading_called


def table_paths(layout: Layout, margins: Sequence[Margin]) -> Iterator[Finding]:
    """Compare both counts beside S201 and S202, for S203 of each side; a side that one path has no number for
    has nothing to compare.

    Method: docs/theory/two_paths.md, eq. 2 and 3.
    """
    try:
        sides = judged_sides(survey(layout)) if layout.part("doubler") else ()
    except TableError:
        return  # R601 says so
    for_protruding = not any(is_flush(hole) for hole in layout.holes_of("rivet"))
    for side in sides:
        is_enough = len(side.side.rivets) >= side.needed
        # Of flush heads a table's number is a least: what has it is not shown to be enough by it.
        if (for_protruding or not is_enough) and (compared := _side(side, margins)):
            yield compared


def _side(table: JudgedSide, margins: Sequence[Margin]) -> Finding | None:
    name, has = table.side.name, len(table.side.rivets)
    own = [one for one in margins if named(one, "side") == name]
    counted = {len(one.holes) for one in own if one.code == S201}
    hand = governing([one for one in own if one.code in (S201, S202)])
    if not hand or counted != {has}:
        return None  # a rivet without a value counts for one path alone, and S201 says so
    by, needed = table.judged.by, ceil(has * hand.path.asks - FLOAT_NOISE)
    reading, asked = reading_called(by.reading), table.needed
    holes = tuple(hole.number for hole in table.side.rivets)
    by_table, by_hand = Path(table.needed / has, by.source, by.grade), replace(hand.path, asks=needed / has)
    # The order of these values is part of the finding's mark.
    told: dict[str, Value] = {"side": name, "has": has, "reading": reading, "table": asked, "hand": needed}
    reasons = _reasons(table, hand)
    return two_paths(RIVET_PATHS, by_table, by_hand, reasons, told, advice=ORDER, holes=holes)


def _reasons(table: JudgedSide, hand: Computed) -> tuple[Reason, ...]:
    """Every factor from the table's number to that of the margin which governs."""
    has, is_ultimate = len(table.side.rivets), hand.margin.level is Level.ULTIMATE
    judged, cut_in = table.judged, table.side.cut_in
    working = judged.more[judged.bounds.index(judged.by)]
    asked = {value.symbol: value.value for value in working.values}
    note = asked.get("note c", 1.0)
    if is_ultimate:
        joint_lbf = put_in(hand.allowable)["P joint"]
        load_lbf, one_lbf = hand.applied.value, joint_lbf / has
        last = Reason("rows", joint_lbf / hand.allowable.value, said("two_paths.rows"))
    else:
        limit = put_in(hand.applied)
        load_lbf, one_lbf = limit["P"] / limit["f"], hand.allowable.value
        share = limit["P limit"] * has / load_lbf
        last = Reason("sharing", share, said("two_paths.sharing", times=Amount(round(share, 2), "")))
    load_lbf_in, carried_lbf_in = load_lbf / cut_in, asked["n"] * one_lbf
    loads = {"load": Amount(load_lbf_in, "lbf/in"), "carried": Amount(carried_lbf_in, "lbf/in")}
    told = said("two_paths.load" if is_ultimate else "two_paths.limit_load", **loads)
    return (
        Reason("note c", 1.0 / note, said("two_paths.note", share=Amount(note, ""))),
        Reason("load", load_lbf_in / carried_lbf_in, told),
        last,
    )
