"""The head of a job in words: the verdict first, then one line a cause."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal

from hatchwright.judged import Status
from hatchwright.register import Shelf, entries
from hatchwright.said import Listed, Said, Value, said
from hatchwright.units import Unit
from hatchwright.verdict import Line, Verdict
from hatchwright.words.catalog import HOME
from hatchwright.words.findings import missed, ratio
from hatchwright.words.tell import tell

_HOLDING_BACK = (Status.STOP, Status.UNKNOWN)


def headline(verdict: Verdict) -> Said:
    """The verdict in one sentence: what holds back first, how often, and never a word of approval."""
    shown = _HOLDING_BACK if verdict.holds_back else (Status.CAUTION,)
    counts: tuple[Value, ...] = tuple(
        said("verdict.count", n=verdict.count(status), status=status)
        for status in shown
        if verdict.count(status)
    )
    if verdict.holds_back:
        return said("verdict.do_not_cut", counts=Listed(counts, ","))
    return (
        said("verdict.nothing_stops", counts=Listed(counts, ",")) if counts else said("verdict.nothing_open")
    )


def stop_text(
    verdict: Verdict,
    see: Literal["carry_card", "findings", "annex"] = "carry_card",
    tongue: str = HOME,
    box: Literal["verdict.stop_box", "verdict.scrap_box"] = "verdict.stop_box",
) -> str:
    """What every sheet of a side says while nothing may be cut, drilled or riveted there; "" when it may.

    Args:
        see: where the reader finds more.
        box: of a sheet that goes to the aircraft, or of one for scrap.
    """
    if not verdict.holds_back:
        return ""
    codes: dict[str, None] = {}
    for line in verdict.open_lines:
        codes |= dict.fromkeys(
            finding.told_by or finding.code for finding in line.findings if finding.status.holds_back
        )
    for one in verdict.to_enter:
        if one.status.holds_back:
            codes |= dict.fromkeys(one.codes)
    not_run: tuple[Value, ...] = (said("unchecked.strength_not_run"),) if verdict.awaits_strength else ()
    what = Listed((*codes, *not_run), ",")
    return tell(said(box, head=headline(verdict), codes=what, where=said(f"verdict.{see}")), tongue=tongue)


def other_side_said(verdict: Verdict) -> Said:
    """The verdict of the other side in one sentence, where both get the opening."""
    return said("verdict.other_side", side=said(f"side.{verdict.side}"), verdict=headline(verdict))


def line_said(line: Line) -> Said:
    """One cause in one line: the worst, by how much it misses, and how many more there are."""
    subject, by, of = line.worst.subject, missed(line.worst), ratio(line.worst)
    more: dict[str, Value] = {"n": line.more} if line.more else {}
    if by is None:
        return said("line.plain_more" if more else "line.plain", subject=subject, **more)
    told = said("missed.with_ratio", ratio=of, missed=by) if of else by
    return said("line.missed_more" if more else "line.missed", subject=subject, missed=told, **more)


def to_enter_said(names: Iterable[Value], most: int | None = None) -> Said:
    """What is to be entered, in one line.

    Args:
        names: of the entries, in their order.
        most: how many of them are told, None for all; the rest are counted.
    """
    every = tuple(names)
    shown = every[:most]
    more: dict[str, Value] = {"n": rest} if (rest := len(every) - len(shown)) else {}
    return said("line.enter_more" if more else "line.enter", entries=Listed(shown, ";"), **more)


def codes_text(line: Line, tongue: str = HOME) -> str:
    """The codes of a line, and the step of the work that waits for it where it is to be settled before one."""
    codes = ", ".join(line.codes)
    step = entries()[line.worst.code].step if line.shelf is Shelf.SETTLE else ""
    return tell(said("line.before", codes=codes, step=said(f"step.{step}")), tongue=tongue) if step else codes


def acknowledged_said(line: Line) -> Said | None:
    """One cause that somebody lets stand, with the reason and initials; None while it is open."""
    if line.acknowledged is None:
        return None
    by = line.acknowledged
    return said("acknowledged.line", line=line_said(line), reason=by.reason, initials=by.initials)


def numbers_said(line: Line) -> Said | None:
    """The numbers to write where a line is to stand; None where it holds work back, or stands already."""
    numbers = tuple(said("acknowledged.number", code=code, number=number) for code, number in line.numbers)
    return said("acknowledged.write", numbers=Listed(numbers, ";")) if numbers else None


def unheard_said(verdict: Verdict) -> Iterator[Said]:
    """Each acknowledgement that lets nothing stand, and why not."""
    open_codes = {finding.code for line in verdict.open_lines for finding in line.findings}
    open_codes |= {code for one in verdict.to_enter for code in one.codes}
    held_back = {line.worst.code: line for line in verdict.open_lines if line.status.holds_back}
    holding = {finding.code for line in held_back.values() for finding in line.findings}
    holding |= {code for one in verdict.to_enter if one.status.holds_back for code in one.codes}
    still = {key for line in verdict.open_lines for key in line.numbers}
    for one in verdict.unheard:
        same = (one.code, one.number) in still
        why = (
            "holds_back"
            if one.code in holding
            else "with_others"
            if same
            else "changed"
            if one.code in open_codes
            else "gone"
        )
        yield said(f"acknowledged.{why}", code=one.code, number=one.number, initials=one.initials)


def line_text(line: Line, unit: Unit, tongue: str = HOME) -> str:
    """The same as words."""
    return tell(line_said(line), unit, tongue)
