"""Changes of opening, doubler, cover and bracket as they are drawn."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hatchwright.job.job import Job
from hatchwright.job.outline import Circle, DShape, Obround, Outline, RoundedRectangle
from hatchwright.job.parts import Doubler
from hatchwright.remedy import EntryChange
from hatchwright.said import Said, inch, said
from hatchwright.search.candidate import (
    Candidate,
    Concern,
    changed_length,
    either_way,
    entry_change,
    one_entry,
    steps,
)
from hatchwright.search.variation import gauge_text
from hatchwright.tables.materials import sheet_stock
from hatchwright.units import Length, parse_length


def _sizes(outline: Outline) -> dict[str, Length]:
    """What gives an outline its size, by its key."""
    match outline:
        case RoundedRectangle() | DShape():
            return {"width": outline.width, "height": outline.height}
        case Circle():
            return {"diameter": outline.diameter}
        case Obround():
            return {"length": outline.length, "width": outline.width}
        case _:
            return {}


def _size_said(sizes: Iterable[Length]) -> Said:
    one, *other = (inch(size.inch) for size in sizes)
    return said("remedy.size", one=one, other=other[0]) if other else said("remedy.diameter", one=one)


def _resized(concern: Concern, field: str, outline: Outline, id: str) -> Iterator[Candidate]:
    """An outline along one of its sizes, then along all, larger and smaller by twice what is missing on one side."""
    old = _sizes(outline)
    some = [(key,) for key in old] + ([tuple(old)] if len(old) > 1 else [])
    for by in steps(concern):
        for keys in some:
            for signed in (by, -by):
                found = {key: changed_length(old[key], 2 * signed, concern.unit) for key in keys}
                new = {key: size for key, size in found.items() if size}
                if len(new) == len(keys):
                    entries = tuple(entry_change(f"{field}.{key}", old[key], new[key]) for key in keys)
                    was, will_be = (_size_said(sizes.values()) for sizes in (old, old | new))
                    yield Candidate(entries, said(id, old=was, new=will_be))


def _unmade_doubler(job: Job) -> Doubler | None:
    """The doubler, None where there is none or where it is cut already."""
    return None if job.as_made and job.as_made.doubler_outer else job.doubler


def doubler_size(concern: Concern) -> Iterator[Candidate]:
    """The outer size of a doubler that is not cut yet."""
    if doubler := _unmade_doubler(concern.job):
        yield from _resized(concern, "doubler.outer", doubler.outer, "remedy.doubler_size")


def land_size(concern: Concern) -> Iterator[Candidate]:
    """The size of the hole in the doubler."""
    doubler = concern.job.doubler
    if doubler and doubler.inner:
        yield from _resized(concern, "doubler.inner", doubler.inner, "remedy.land_size")


def opening_size(concern: Concern) -> Iterator[Candidate]:
    """The size of an opening that nobody mandates and that is not cut yet."""
    if not concern.is_mandated and not _is_cut(concern.job):
        yield from _resized(concern, "opening", concern.job.opening, "remedy.opening_size")


def _is_cut(job: Job) -> bool:
    return bool(job.as_made and job.as_made.opening)


def corner_radius(concern: Concern) -> Iterator[Candidate]:
    """The corner radius of the edges that a cause names."""
    job = concern.job
    cornered: dict[str, tuple[str, Outline | None]] = {
        "doubler inner edge": ("doubler.inner", job.doubler.inner if job.doubler else None),
        "cover edge": ("cover.outline", job.cover.outline if job.cover else None),
    }
    if doubler := _unmade_doubler(job):
        cornered["doubler outer edge"] = ("doubler.outer", doubler.outer)
    if not concern.is_mandated and not _is_cut(job):
        cornered["opening edge"] = ("opening", job.opening)
    for edge in sorted(concern.edges & cornered.keys()):
        field, outline = cornered[edge]
        if isinstance(outline, RoundedRectangle | DShape):
            old, named = outline.radius, said(f"edge.{edge.replace(' ', '_')}")
            yield from either_way(concern, f"{field}.radius", old, "remedy.corner_radius", edge=named)


def cover_size(concern: Concern) -> Iterator[Candidate]:
    """The lap, the gap or the outline of the cover, whichever gives its size."""
    cover = concern.job.cover
    if cover and cover.lap is not None:
        yield from either_way(concern, "cover.lap", cover.lap, "remedy.cover_lap")
    elif cover and cover.gap is not None:
        yield from either_way(concern, "cover.gap", cover.gap, "remedy.cover_gap")
    elif cover and cover.outline is not None:
        yield from _resized(concern, "cover.outline", cover.outline, "remedy.cover_size")


def doubler_gauge(concern: Concern) -> Iterator[Candidate]:
    """Stock gauges of the doubler, the nearest first."""
    doubler = _unmade_doubler(concern.job)
    if doubler is None:
        return
    old, stock = doubler.thickness, (one.value for one in sheet_stock(concern.layout.shop))
    for value in sorted(stock, key=lambda gauge_in: abs(gauge_in - old.inch)):
        new = parse_length(gauge_text(value, concern.unit), unit=concern.unit)
        yield one_entry("doubler.thickness", old, new, "remedy.doubler_gauge")


def doubler_sheet(concern: Concern) -> Iterator[Candidate]:
    """The doubler of the skin's material."""
    doubler, skin = _unmade_doubler(concern.job), concern.job.skin
    if doubler is None:
        return
    pairs = (("alloy", doubler.alloy, skin.alloy), ("temper", doubler.temper, skin.temper))
    entries = tuple(EntryChange(f"doubler.{key}", old, new) for key, old, new in pairs if old != new)
    kind = "sheet.clad" if doubler.clad else "sheet.bare"  # its cladding is not what is changed
    was, will_be = (said(kind, alloy=sheet.alloy, temper=sheet.temper) for sheet in (doubler, skin))
    yield Candidate(entries, said("remedy.doubler_sheet", old=was, new=will_be))


def bend_radius(concern: Concern) -> Iterator[Candidate]:
    """The bend radius of a mount's bracket."""
    mount = concern.job.mount
    if mount and mount.bracket:
        yield from either_way(concern, "mount.bracket.radius", mount.bracket.radius, "remedy.bend_radius")
