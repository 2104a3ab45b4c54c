"""Combinations that cannot be: faults that only show when the sections of a job are seen together."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache, partial
from typing import Any

import numpy as np
from msgspec.structs import replace

from hatchwright.errors import Fault, GeometryError, HatchwrightError
from hatchwright.job.as_made import AsMade
from hatchwright.job.as_typed import standing_at
from hatchwright.job.bay import Bay
from hatchwright.job.cutter import Cutter, HandTool, Template
from hatchwright.job.frame import OPPOSITE, FrameEntry, make_frame
from hatchwright.job.gate import Gate
from hatchwright.job.loads import Loads
from hatchwright.job.looks import crack_histories
from hatchwright.job.made_outline import MadeOutline
from hatchwright.job.mount import Mount
from hatchwright.job.outline import Outline, lacks_center, loop_about, own_center
from hatchwright.job.parts import Cover, Doubler
from hatchwright.job.skin import Skin
from hatchwright.job.sound_patch import patch_faults, place_faults
from hatchwright.job.sound_plain_hole import plain_hole_faults
from hatchwright.job.sound_wish import wish_faults
from hatchwright.said import inch, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Loop, profile_of
from hatchwright.tables.bends import setback

Sections = dict[str, Any]

_MOST_NAMES = 60
"""No section has as many keys; further ones are none that it knows [-]."""


def impossible(sections: Sections, entered: Mapping[str, object] | None = None) -> Iterator[Fault]:
    """Look for combinations that cannot be, among the sections that could be read.

    Args:
        sections: section name to its entered value; sections with faults of their own are left away.
        entered: every section as it stands in the file, sound or not; None where a sound job was only retyped.
    """
    if entered is not None:
        if lacks_center(entered.get("opening")):
            yield Fault.saying("opening.center", "job.no_center")
        yield from _samples(sections, entered)
    for check in (
        _frame,
        _outlines,
        _rows,
        _first_holes,
        _at_odds,
        _mount,
        patch_faults,
        plain_hole_faults,
        wish_faults,
        _as_made,
        _looks,
    ):
        yield from check(sections)


def _try(field: str, make: Callable[[], Any]) -> tuple[Any, Fault | None]:
    try:
        return make(), None
    except GeometryError as error:
        where = error.where if isinstance(error.where, str) else ""
        part = f".{where.removesuffix('_in')}" if where else ""
        return None, replace(error.as_fault(field), field=field + part)
    except HatchwrightError as error:
        return None, error.as_fault(field)


def _samples(sections: Sections, entered: Mapping[str, object]) -> Iterator[Fault]:
    """A misspelled name would leave its entry confirmed that nobody has looked at."""
    for index, name in enumerate(sections.get("samples") or ()):
        if standing_at(entered, name) is None:
            remedy = said("job.no_sample.do", name=_nearest(entered, name))
            yield Fault(f"samples.{index}", said("job.no_sample"), given=name, remedy=remedy)


def _nearest(node: Any, name: str) -> str:
    """The place that a misspelled name is nearest to, looked for step by step."""
    way: list[str] = []
    for part in name.split("."):
        inner = standing_at(node, part)
        if inner is None:
            here = [str(at) for at in node] if isinstance(node, Mapping) else []
            from difflib import get_close_matches  # for who mistyped a name

            near = get_close_matches(part, here[:_MOST_NAMES], n=1, cutoff=0.0)
            return ".".join([*way, *near])
        way.append(part)
        node = inner
    return ".".join(way)


def _frame(sections: Sections) -> Iterator[Fault]:
    entry, aircraft = sections.get("frame"), sections.get("aircraft")
    if entry and aircraft:
        _, fault = _try("frame", lambda: make_frame(entry, side=aircraft.side, surface=aircraft.surface))
        if fault:
            yield fault
    if aircraft and aircraft.both_sides and aircraft.side == "center":
        yield Fault("aircraft.both_sides", said("job.no_other_side"), remedy=said("job.write_false"))


def _outlines(sections: Sections) -> Iterator[Fault]:
    opening: Outline | None = sections.get("opening")
    if opening is None:
        return
    middle = own_center(opening)
    loop, fault = _try("opening", lambda: opening.loop(middle or (0.0, 0.0)))
    if fault:
        yield fault
    else:
        yield from _fits_bay(loop, sections.get("bay"))
        if "center" not in type(opening).model_fields:
            x_min, y_min, x_max, y_max = loop.bounds
            middle = ((x_min + x_max) / 2, (y_min + y_max) / 2)
    doubler: Doubler | None = sections.get("doubler")
    if doubler:
        yield from _doubler(doubler, loop, middle, sections)


def _doubler(
    doubler: Doubler, opening: Loop | None, middle: tuple[float, float] | None, sections: Sections
) -> Iterator[Fault]:
    """Faults of its outlines; where the opening lies is unknown while it has no middle."""

    def tried(field: str, outline: Outline) -> tuple[Any, Fault | None]:
        return _try(field, lambda: loop_about(outline, middle or (0.0, 0.0)))

    outer, outer_fault = tried("doubler.outer", doubler.outer)
    inner, inner_fault = tried("doubler.inner", doubler.inner) if doubler.inner else (None, None)
    yield from filter(None, (outer_fault, inner_fault))
    if outer is None or middle is None:
        return
    if opening and not _inside(opening, outer):
        yield Fault.saying("doubler.outer", "job.doubler_small")
    if inner and not _inside(inner, outer):
        yield Fault.saying("doubler.inner", "job.inner_outside")
    if patch := sections.get("patch"):
        yield from place_faults(patch, outer, sections.get("bay"))


@lru_cache(maxsize=16)  # most entries move neither
def _inside(inner: Loop, outer: Loop) -> bool:
    found = distances(profile_of(outer), inner.points(1e-3))
    return bool(np.all(found.inside | (found.distance_in < 1e-9)))


def _fits_bay(loop: Loop, bay: Bay | None) -> Iterator[Fault]:
    if bay is None:
        return
    x_min, y_min, x_max, y_max = loop.bounds
    for axis, low, high, at in (
        ("X", x_min, x_max, sorted(row.x.inch for row in bay.rows if row.x)),
        ("Y", y_min, y_max, sorted(row.y.inch for row in bay.rows if row.y)),
    ):
        if len(at) >= 2 and high - low > at[-1] - at[0]:
            yield Fault.saying(
                "opening",
                "job.opening_over_bay",
                said("job.opening_over_bay.given", size=inch(high - low), bay=inch(at[-1] - at[0])),
                axis=axis,
            )


def _rows(sections: Sections) -> Iterator[Fault]:
    rows, doubler = sections.get("rows") or (), sections.get("doubler")
    for index, row in enumerate(rows):
        if row.lay == "offset" and row.edge != "opening" and doubler is None and "doubler" in sections:
            yield Fault.saying(f"rows.{index}.edge", "job.no_doubler", row.edge)
        if row.lay == "line" and [at.exact_in for at in row.start] == [at.exact_in for at in row.end]:
            yield Fault.saying(
                f"rows.{index}.end", "job.row_no_length", ", ".join(coordinate.text for coordinate in row.end)
            )
    names = [row.name for row in rows]
    for index, name in enumerate(names):
        if name in names[:index]:
            yield Fault(f"rows.{index}.name", said("job.row_twice"), given=name, remedy=said("job.name_each"))


def _first_holes(sections: Sections) -> Iterator[Fault]:
    """Rows that begin in a direction along which no axis of the job runs."""
    frame: FrameEntry | None = sections.get("frame")
    if frame is None:
        return
    ways = (frame.x, frame.y, OPPOSITE[frame.x], OPPOSITE[frame.y])
    for index, row in enumerate(sections.get("rows") or ()):
        start_at = getattr(row, "start_at", None)
        if isinstance(start_at, str) and start_at not in ways:
            words = said("job.use_one_of", words=", ".join(ways))
            yield Fault(f"rows.{index}.start_at", said("job.start_at_off"), given=start_at, remedy=words)


def _at_odds(sections: Sections) -> Iterator[Fault]:
    """Two entries that contradict each other, or one that leans on a section that is not there."""
    cover: Cover | None = sections.get("cover")
    if cover and cover.fit == "flush" and cover.screws and sections.get("doubler", cover) is None:
        yield Fault.saying("cover.fit", "job.flush_alone")
    cutter: Cutter | None = sections.get("cutter")
    if cutter and cutter.guide.exact_in < cutter.cut_width.exact_in and cutter.template == "female":
        yield Fault.saying("cutter.guide", "job.guide_small", cutter.guide.text)
    hand_tool: HandTool | None = sections.get("hand_tool")
    if cutter and hand_tool:
        yield Fault.saying("hand_tool", "job.two_tools", hand_tool.kind)
    skin: Skin | None = sections.get("skin")
    template: Template | None = sections.get("template")
    if skin and template and template.flexed and skin.curvature is None:
        yield Fault.saying("template.flexed", "job.flexed_flat", "true")
    gate: Gate | None = sections.get("gate")
    if skin and gate and skin.pressurized and gate.pressure_skin is False:
        yield Fault.saying("gate.pressure_skin", "job.pressure_twice")
    loads: Loads | None = sections.get("loads")
    if loads and loads.cover.air_pressure is not None and sections.get("cover", loads) is None:
        yield Fault.saying("loads.cover.air_pressure", "job.no_cover")


def _mount(sections: Sections) -> Iterator[Fault]:
    mount: Mount | None = sections.get("mount")
    if mount is None:
        return
    if mount.offset:
        for axis, (off, base) in enumerate(zip(mount.offset, mount.base, strict=True)):
            if abs(off.inch) > base.inch:
                yield Fault.saying(f"mount.offset.{axis}", "job.offset_far", off.text)
    bracket = mount.bracket
    if bracket is None:
        return
    back_in = setback(
        bend_deg=bracket.angle, radius_in=bracket.radius.inch, thickness_in=bracket.thickness.inch
    ).value
    last = len(bracket.legs) - 1
    for index, leg in enumerate(bracket.legs):
        least_in = back_in if index in (0, last) else 2.0 * back_in
        if leg.inch < least_in:
            yield Fault.saying(f"mount.bracket.legs.{index}", "job.leg_short", leg.text, least=inch(least_in))


def _as_made(sections: Sections) -> Iterator[Fault]:
    made: AsMade | None = sections.get("as_made")
    if made is None:
        return
    places = Counter(hole.number for hole in made.placed_holes)
    sizes = Counter(hole.number for hole in made.sized_holes)
    further = {
        field: Counter(one.number for one in getattr(made, field))
        for field in ("heads", "countersinks", "cracked_dimples")
    }
    for field, times in {"holes": places, "sizes": sizes, **further}.items():
        for number in sorted(number for number, many in times.items() if many > 1):
            if field == "sizes" and places[number] > 1:
                continue
            yield Fault(
                f"as_made.{field}",
                said("job.hole_twice"),
                given=said("job.hole_twice.number", number=number),
                remedy=said("job.keep_one"),
            )
    for field in ("opening", "doubler_outer", "doubler_inner"):
        outline: MadeOutline | None = getattr(made, field)
        if outline is None:
            continue
        if own_center(outline) is None and "center" in type(outline).model_fields:
            yield Fault.saying(f"as_made.{field}.center", "job.made_center")
        _, fault = _try(f"as_made.{field}", partial(loop_about, outline, (0.0, 0.0)))
        if fault:
            yield fault


def _looks(sections: Sections) -> Iterator[Fault]:
    days = [look.date for look in sections.get("looks") or ()]
    for index, (before, day) in enumerate(itertools.pairwise(days), start=1):
        if day <= before:
            yield Fault.saying(f"looks.{index}.date", "job.looks_order", day.isoformat())
    yield from _resolved(sections)


def _resolved(sections: Sections) -> Iterator[Fault]:
    """A mark that no crack has was typed wrongly, and the crack that was meant would stay open."""
    looks = sections.get("looks") or ()
    for index, look in enumerate(looks):
        known = crack_histories(looks[:index]) if look.resolved else {}
        for line, one in enumerate(look.resolved):
            if one.mark not in known or known[one.mark].resolved:
                yield Fault.saying(f"looks.{index}.resolved.{line}.mark", "job.resolved_unknown", one.mark)
