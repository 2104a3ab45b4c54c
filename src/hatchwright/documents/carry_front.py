"""Side 1 of the carry card: what is open and who accepted it, what lies behind, and the gate before the cut."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from hatchwright.documents.job_summary import mandate_said, right_side
from hatchwright.documents.verdict_on_paper import entries_named
from hatchwright.drawings.bay_structure import region_said, row_said
from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.register import Shelf
from hatchwright.said import Listed, Said, Value, said
from hatchwright.units import Unit
from hatchwright.verdict import Line, Verdict
from hatchwright.words.tell import tell
from hatchwright.words.verdict import line_said

MOST_OPEN, MOST_TO_SETTLE = 6, 4
"""Lines that hold work back, with blanks for who accepts them, and lines in all with those that only wait for a step;
more leave no room for the gate on one side. Own choice, no source."""

MOST_NAMED, MOST_ENTRIES = 4, 2
"""Things behind the skin or rows of the bay, and missing entries, that are named; the annex has the others. Own choice,
no source."""


def open_points(verdict: Verdict, unit: Unit, tongue: str) -> dict[str, Any]:
    """What must be accepted before anything is cut, hole by hole, the gravest first; the rest is counted."""
    holding = [line for line in verdict.open_lines if line.status.holds_back]
    settle = [line for line in verdict.open_lines if line.shelf is Shelf.SETTLE and line not in holding]
    shown = [*holding[:MOST_OPEN], *settle[: max(0, MOST_TO_SETTLE - len(holding))]]
    more = len(holding) + len(settle) - len(shown)
    rows = [_open(line, unit, tongue) for line in shown]
    if lacking := [one for one in verdict.to_enter if one.status.holds_back]:
        few = Listed(tuple(entries_named(lacking[:MOST_ENTRIES])), ";")
        to_enter = said("carry.to_enter", entries=_and_more(few, len(lacking) - MOST_ENTRIES))
        rows.append({"answer": tell(Status.UNKNOWN, tongue=tongue), "what": tell(to_enter, unit, tongue)})
    folded = len(verdict.acknowledged_lines)
    counted = [said("carry.more_open", n=more)] if more else []
    counted += [said("carry.let_stand", n=folded)] if folded else []
    return {"rows": rows, "more": [tell(one, unit, tongue) for one in counted]}


def _open(line: Line, unit: Unit, tongue: str) -> dict[str, str]:
    return {"answer": tell(line.status, unit, tongue), "what": tell(line_said(line), unit, tongue, how="l")}


def _named_few(names: Sequence[Value]) -> Value:
    """The first of some names, and how many there are besides."""
    return _and_more(Listed(tuple(names[:MOST_NAMED]), ";"), len(names) - MOST_NAMED)


def _and_more(few: Listed, rest: int) -> Value:
    return said("carry.and_more", names=few, n=rest) if rest > 0 else few


def behind(job: Job) -> Iterator[Said]:
    """What lies behind the skin, and what the skin itself asks for: one caution each, never none. Stressed or not, the
    gate has the structure supported and unloaded."""
    keep_outs = job.bay.keep_outs
    for one in keep_outs[:MOST_NAMED]:
        yield said("carry.caution.behind", region=region_said(one))
    if (rest := len(keep_outs) - MOST_NAMED) > 0:
        yield said("carry.caution.behind_more", n=rest)
    if not keep_outs:
        yield said("carry.caution.nothing_near" if job.bay.nothing_near else "card.caution.nothing_behind")
    if job.skin.pressurized:
        yield said("card.caution.pressure")
    if job.skin.curvature:
        yield said("carry.caution.curved")


def gate(job: Job, findings: Iterable[Finding], *, has_template: bool) -> Iterator[Said]:
    """What must be initialed before the first cut."""
    bay = job.bay
    yield said("carry.gate.data", mandate=mandate_said(job.mandate))
    yield said("carry.gate.right_side", **right_side(job))
    if bay.rows:
        yield said("carry.gate.right_bay", rows=_named_few([row_said(row) for row in bay.rows]))
    else:
        yield said("carry.gate.right_bay_by_landmarks")
    if any(finding.code == "R304" and finding.status is not Status.PASS for finding in findings):
        yield said("carry.gate.way_in")
    yield said("carry.gate.fuel")
    yield said("carry.gate.supported")
    names: list[Value] = [one.name for one in bay.keep_outs[:MOST_NAMED]]
    names += [said("carry.gate.more", n=rest)] if (rest := len(bay.keep_outs) - MOST_NAMED) > 0 else []
    names += [said("carry.gate.flanges", n=len(bay.flanges))] if bay.flanges else []
    yield (
        said("carry.gate.behind", names=Listed(tuple(names), ","))
        if names
        else said("carry.gate.behind_nothing")
    )
    if has_template:
        yield said("carry.gate.template")
    yield said("carry.gate.open")
