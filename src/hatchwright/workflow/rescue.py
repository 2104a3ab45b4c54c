"""The ways out of what was made wrong: found on a job file, told in words, and entered into the job's text."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from msgspec import Struct, to_builtins

from hatchwright.errors import JobError
from hatchwright.finding import Finding
from hatchwright.layout.layout import Layout
from hatchwright.progress import Progress, stretches, unheard
from hatchwright.said import Amount, Numbered, Said, inch, said
from hatchwright.search.changed_findings import ChangedFinding
from hatchwright.search.rescue import LEAVE, Deviation, WayOut, rescue
from hatchwright.search.way_effects import Effects
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import Examination, examine_layout
from hatchwright.workflow.open_job import open_job
from hatchwright.workflow.report import finding_values, job_values

SCHEMA = 1
"""Number of the form of `rescue_values`."""

_MOST_ANSWERS = 6
"""Answers that change and are told one by one; the rest are counted [-]."""

_NO_WEIGHT_LB = 0.001
"""What no scale of a shop shows; own choice, no source [lb]."""

_MOST_HOLES = 8


class Rescued(Struct, frozen=True):
    """A job with the ways out of each of its deviations, the gravest first."""

    examination: Examination
    deviations: tuple[Deviation, ...]


def rescue_file(
    path: Path,
    hole: int | None = None,
    *,
    shop: Path | None = None,
    hand_only: bool = False,
    progress: Progress = unheard,
) -> Rescued:
    """Read a job file and find the ways out of what was made wrong, of one hole where that is asked.

    Args:
        hand_only: whether strength is tried by hand methods alone.
    Raises:
        JobError: the file is refused, or has no such hole; errors as of `open_job` besides.
    """
    layout = open_job(path, shop=shop)
    if hole is not None and hole not in {one.number for one in layout.holes}:
        raise JobError.about("hole", "rescue.no_hole", str(hole), holes=_known(layout))
    return rescue_layout(layout, hole, hand_only=hand_only, progress=progress)


def rescue_layout(
    layout: Layout, hole: int | None = None, *, hand_only: bool = False, progress: Progress = unheard
) -> Rescued:
    """The same of what is laid out already."""
    judging, trying = stretches(progress, 1.0, 9.0)
    found = examine_layout(layout, with_strength=False, progress=judging)
    lines = found.verdict.open_lines
    return Rescued(found, rescue(layout, found.judged, lines, hole, hand_only=hand_only, progress=trying))


def _known(layout: Layout) -> str:
    ends = ((holes[0].number, holes[-1].number) for holes in layout.rows().values())
    return "; ".join(f"{first}-{last}" if first != last else str(first) for first, last in ends)


def effects_said(effects: Effects) -> Iterator[Said]:
    """What a way out does to its neighbors, the metal and the weight, a sentence each."""
    for one in effects.answers[:_MOST_ANSWERS]:
        yield _answer_said(one)
    if (more := len(effects.answers) - _MOST_ANSWERS) > 0:
        yield said("rescue.more_answers", n=more)
    if not effects.answers:
        yield said("rescue.no_answers")
    yield from _holes_said(effects)
    for sheet in effects.sheets:
        id = "rescue.metal_added" if sheet.area_sq_in > 0 else "rescue.metal_taken"
        yield said(id, part=said(f"part.{sheet.part}"), area=Amount(abs(sheet.area_sq_in), "in^2"))
    if effects.weight_lb is None:
        yield said("rescue.not_weighed")
    elif abs(effects.weight_lb) + effects.weight_u_lb < _NO_WEIGHT_LB:
        yield said("rescue.weightless", most=Amount(_NO_WEIGHT_LB, "lb"))
    else:
        id = "rescue.heavier" if effects.weight_lb >= 0.0 else "rescue.lighter"
        u = Amount(effects.weight_u_lb, "lb", toward="up")
        yield said(id, weight=Amount(abs(effects.weight_lb), "lb"), u=u)


def _answer_said(one: ChangedFinding) -> Said:
    old, new = _figure(one.old), _figure(one.new)
    return said("rescue.answer", code=one.shown.code, subject=one.shown.subject, old=old, new=new)


def _figure(finding: Finding | None) -> Said:
    if finding is None or finding.value is None:
        return said("rescue.no_figure")
    value = Amount(finding.value, finding.unit, beside=finding.limit)
    return said("rescue.figure", status=finding.status, value=value)


def _holes_said(effects: Effects) -> Iterator[Said]:
    """Holes one by one where they are few."""
    if len(effects.holes) > _MOST_HOLES:
        yield said("rescue.many_holes", n=len(effects.holes))
        return
    for hole in effects.holes:
        named = Numbered("hole", (hole.number,))
        if hole.old is None or hole.new is None:
            yield said("rescue.hole_new" if hole.old is None else "rescue.hole_gone", hole=named)
            continue
        (was, *at, bored), (now, *to, new) = hole.old, hole.new
        if was != now:
            yield said("rescue.hole_rivet", hole=named, old=was, new=now)
        if bored is not None and new is not None and bored != new:
            yield said("rescue.hole_size", hole=named, old=inch(bored, fine=True), new=inch(new, fine=True))
        if at != to:
            yield said("rescue.hole_place", hole=named)


def beside_said(one: Deviation) -> Iterator[Said]:
    """What is told after the ways out of a deviation: why there is none, what to look up, that not all was tried."""
    if not one.ways:
        yield said("rescue.none_passes", n=one.tried) if one.tried else said("rescue.none_known")
    yield from one.asks
    if one.left_out:
        yield said("rescue.bounded", tried=one.tried)


def rescue_values(rescued: Rescued) -> dict[str, Any]:
    """Everything as plain values, documented in docs/rescue-json.md."""
    job = rescued.examination.job
    return {
        "schema": SCHEMA,
        "job": job_values(job),
        "deviations": [
            {
                "finding": finding_values(one.line.worst, job.unit),
                "holes": list(one.line.holes),
                "ways": [_way_values(way, job.unit) for way in one.ways],
                "asks": [tell(told, job.unit) for told in one.asks],
                "leave": tell(LEAVE, job.unit),
                "tried": one.tried,
                "left_out": one.left_out,
            }
            for one in rescued.deviations
        ],
    }


def _way_values(way: WayOut, unit: Unit) -> dict[str, Any]:
    effects = way.effects
    return {
        "kind": str(way.kind),
        "holes_of": list(dict.fromkeys(number for one in way.findings for number in one.holes)),
        "words": tell(way.remedy.told, unit),
        "entries": [to_builtins(entry) for entry in way.remedy.entries],
        "parts": [to_builtins(part) for part in way.remedy.parts],
        "strength": way.strength,
        "departs": list(way.departs),
        "answers": [
            {
                "before": finding_values(one.old, unit) if one.old else None,
                "after": finding_values(one.new, unit) if one.new else None,
            }
            for one in effects.answers
        ],
        "holes": [to_builtins(one) for one in effects.holes],
        "sheets": [to_builtins(one) for one in effects.sheets],
        "weight_lb": effects.weight_lb,
        "weight_uncertainty_lb": effects.weight_u_lb,
    }
