"""What the bay of a job says otherwise than its site survey: rows, flanges, what lies behind, fasteners and corners."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

from hatchwright.job.as_typed import typed_length
from hatchwright.job.bay import KeepOut, LandmarkRow
from hatchwright.job.job import Job
from hatchwright.job.site import SiteHazard, SiteRow
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.site.center import Center
from hatchwright.layout.site.difference import AS_TYPED_IN, Difference, length_differs
from hatchwright.layout.site.hazards import kept_clear_in, kept_clear_text
from hatchwright.layout.site.landmarks import Landmark, called
from hatchwright.layout.site.thickness import skin_in
from hatchwright.metrology.propagated import Propagated
from hatchwright.said import said
from hatchwright.units import Length, Unit


def bay_differences(job: Job, center: Center) -> Iterator[Difference]:
    """Everything of the survey that the job's bay says otherwise or not at all."""
    yield from _rows(job, center)
    yield from _flanges(job, center)
    yield from _hazards(job, center)
    yield from _existing(job, center)
    yield from _corners(job, center)


def _rows(job: Job, center: Center) -> Iterator[Difference]:
    held, more = job.bay.rows, len(job.bay.rows)
    along = center.best.at_in if center.best else None
    for line in center.lines:
        if line.bound:
            continue
        entered = line.readings[0].entered
        assert isinstance(entered, SiteRow)
        axis = "xy"[line.axis]
        at = line.at(None if along is None else along[1 - line.axis])
        text = _text_of(line, at, job.unit)
        index = _same(held, line)
        if index is None:
            new: dict[str, Any] = {"name": line.name, "member": entered.member, axis: text}
            sizes = {"diameter": entered.diameter, "pitch": entered.pitch}
            new |= {size: one.text for size, one in sizes.items() if one}
            yield Difference(
                line.name, said("site.what.row"), f"bay.rows.{more}", new, site_in=at.value, u_in=at.u
            )
            more += 1
            continue
        row, field = held[index], f"bay.rows.{index}"
        yield from length_differs(line.name, axis, f"{field}.{axis}", row.x or row.y, at, text)
        for size, reading in (("diameter", entered.diameter), ("pitch", entered.pitch)):
            if reading:
                u_in = 0.0 if size == "diameter" else center.site.u_in(entered.u)
                old = getattr(row, size)
                off_in = math.inf if old is None else abs(old.inch - reading.inch)
                if off_in > max(u_in, FLOAT_NOISE):
                    sized = Difference(
                        line.name,
                        said(f"site.what.{size}"),
                        f"{field}.{size}",
                        reading.text,
                        old.text if old else "",
                        old.inch if old else None,
                        reading.inch,
                        u_in,
                    )
                    yield sized


def _flanges(job: Job, center: Center) -> Iterator[Difference]:
    held, more = job.bay.flanges, len(job.bay.flanges)
    edges = [line for line in center.lines if line.bound]
    for strip in _strips(edges):
        index = next((k for k, one in enumerate(held) if called(one.name) == called(strip[0].name)), None)
        texts = {line.bound: _text_of(line, line.into_bay, job.unit) for line in strip}
        if index is None:
            at = strip[0].into_bay
            new = {"name": strip[0].name, **texts}
            what, field = said("site.what.flange"), f"bay.flanges.{more}"
            yield Difference(strip[0].name, what, field, new, site_in=at.value, u_in=at.u)
            more += 1
            continue
        for line in strip:
            old, field = getattr(held[index], line.bound), f"bay.flanges.{index}.{line.bound}"
            yield from length_differs(line.name, line.bound[0], field, old, line.into_bay, texts[line.bound])


def _strips(edges: Sequence[Landmark]) -> list[list[Landmark]]:
    """Edges that belong together: both free edges of one flange across one axis, as of a stringer inside the bay."""
    found: list[list[Landmark]] = []
    for edge in edges:
        for strip in found:
            one = strip[0]
            low, high = (one, edge) if one.bound.endswith("from") else (edge, one)
            is_other = (called(one.name), one.axis) == (
                called(edge.name),
                edge.axis,
            ) and one.bound != edge.bound
            if is_other and low.into_bay.value < high.into_bay.value:
                strip.append(edge)
                break
        else:
            found.append([edge])
    return found


def _hazards(job: Job, center: Center) -> Iterator[Difference]:
    site, held, more = center.site, job.bay.keep_outs, len(job.bay.keep_outs)
    skin = skin_in(job)
    for hazard in site.hazards:
        index = next((k for k, one in enumerate(held) if called(one.name) == called(hazard.name)), None)
        kept_in = kept_clear_in(hazard, site.u_in(hazard.u), skin)
        texts = {name: kept_clear_text(name, at_in, job.unit) for name, at_in in kept_in.items()}
        if index is None:
            moves = {} if hazard.moves is None else {"moves": hazard.moves}
            new = {"name": hazard.name, **texts, **moves}
            yield Difference(hazard.name, said("site.what.hazard"), f"bay.keep_outs.{more}", new)
            more += 1
        else:
            yield from _of_hazard(hazard, held[index], kept_in, f"bay.keep_outs.{index}", job, center)


def _of_hazard(
    hazard: SiteHazard, there: KeepOut, kept_in: dict[str, float], field: str, job: Job, center: Center
) -> Iterator[Difference]:
    u_in = center.site.u_in(hazard.u)
    for name, at_in in kept_in.items():
        entered: Length = getattr(hazard, name)
        is_inside = name == "depth" and hazard.found_from == "inside"
        read_in = entered.inch + (skin_in(job) if is_inside else 0.0)
        old: Length | None = getattr(there, name)
        if name == "depth" and there.start_depth is not None:
            continue  # it slopes in the job, which says more than one depth does
        text = kept_clear_text(name, at_in, job.unit)
        if old is None or (old.text != text and abs(old.inch - at_in) > AS_TYPED_IN):
            old_in, old_text = (None, "") if old is None else (old.inch, old.text)
            what = said(f"site.what.{'depth' if name == 'depth' else name[0]}")
            yield Difference(hazard.name, what, f"{field}.{name}", text, old_text, old_in, read_in, u_in)
    if hazard.moves and not there.is_moving:
        yield Difference(hazard.name, said("site.what.moves"), f"{field}.moves", "true")


def _existing(job: Job, center: Center) -> Iterator[Difference]:
    more = len(job.bay.existing)
    u_in = center.site.u_in(None)
    for one in center.site.existing:
        place = one.at[0].inch, one.at[1].inch
        near = (
            (k, there)
            for k, there in enumerate(job.bay.existing)
            if math.dist(place, (there.at[0].inch, there.at[1].inch)) <= u_in + FLOAT_NOISE
        )
        name = said("site.name.existing", diameter=one.diameter.text, x=one.at[0].text, y=one.at[1].text)
        index, there = next(near, (more, None))
        if there is None:
            new = {"at": [one.at[0].text, one.at[1].text], "diameter": one.diameter.text}
            yield Difference(name, said("site.what.existing"), f"bay.existing.{index}", new)
            more += 1
        elif there.diameter.exact_in != one.diameter.exact_in:
            yield Difference(
                name,
                said("site.what.diameter"),
                f"bay.existing.{index}.diameter",
                one.diameter.text,
                there.diameter.text,
                there.diameter.inch,
                one.diameter.inch,
            )


def _corners(job: Job, center: Center) -> Iterator[Difference]:
    """The four-corner survey of the job, where the survey has both diagonals and two sides across from each other."""
    taped = center.site.corners
    if taped is None or taped.ac is None or taped.bd is None:
        return
    pairs = [pair for pair in ((taped.da, taped.bc), (taped.ab, taped.cd)) if None not in pair]
    sides = [side.text for pair in pairs for side in pair if side]
    if not sides:
        return
    new = {"sides": sides, "diagonals": [taped.ac.text, taped.bd.text]}
    held = job.bay.corners
    u_in = center.site.u_in(taped.u)
    if held is None or not _alike([*held.sides, *held.diagonals], pairs, (taped.ac, taped.bd), u_in):
        old = held.model_dump_json() if held else ""
        yield Difference(said("site.name.corners"), said("site.what.corners"), "bay.corners", new, old)


def _alike(
    held: Sequence[Length], pairs: Sequence[Sequence[Length | None]], diagonals: Sequence[Length], u_in: float
) -> bool:
    """Whether a four-corner survey holds the same lengths within their u."""
    found = [*(side for pair in pairs for side in pair if side), *diagonals]
    return len(held) == len(found) and all(
        abs(one.inch - other.inch) <= u_in + FLOAT_NOISE for one, other in zip(held, found, strict=True)
    )


def _same(held: Sequence[LandmarkRow], line: Landmark) -> int | None:
    """Which row of the job bears the name of a landmark and crosses the same axis."""
    alike = (k for k, row in enumerate(held) if called(row.name) == called(line.name))
    return next((k for k in alike if held[k].axis == line.axis), None)


def _text_of(line: Landmark, at: Propagated, unit: Unit) -> str:
    """A place as it was typed, where it is that of one reading; else as it would be."""
    first = line.readings[0].entered.reading
    is_one = len(line.readings) == 1 and abs(first.inch - at.value) <= FLOAT_NOISE
    return first.text if is_one else typed_length(at.value, unit)
