"""What a strength report does not speak of, worked out from the answers that it really holds."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from msgspec import Struct

from hatchwright.layout.layout import Layout
from hatchwright.layout.stray_edges import parts_left
from hatchwright.said import Listed, Said, Value, said


class Topic(Struct, frozen=True):
    """One thing that may break an opened skin.

    Args:
        id: `left_out.<id>` names it where nothing speaks of it.
        codes: answers that judge it; none where no method of the program does.
        screens: answers that only look at it from afar: where they stand, `screened.<id>` says so.
    """

    id: str
    codes: tuple[str, ...] = ()
    screens: tuple[str, ...] = ()


TOPICS = (
    Topic("rivets", ("S201", "S202", "S806")),
    Topic("skin_at_rivets", ("S301", "S802"), ("S305",)),
    Topic("doubler", ("S302", "S303", "S308")),
    Topic("tear_out", ("S304",)),
    Topic("stray_holes"),
    Topic("buckling", ("S401", "S402", "S803"), ("S812",)),
    Topic("sheared_bay", ("S501", "S502", "S505")),
    Topic("edge_stress", ("S701", "S811")),
    Topic("fatigue", (), ("S701", "S702", "S703", "S811")),
    Topic("cover_air_load", ("S601",)),
    Topic("cover_drawn_load", ("S603", "S604", "S804")),
    Topic("cover_buckling"),
    Topic("flutter"),
    Topic("nutplate_rivets"),
    Topic("corrosion_heat_impact"),
    Topic("workmanship"),
    Topic("curvature"),
)
"""In the order to be read."""

_REAL_LOADS_ONLY = ("buckling", "sheared_bay", "cover_drawn_load", "edge_stress")
"""What the restore basis cannot judge: it names no load that really acts."""


def not_analyzed(layout: Layout, codes: Collection[str], why: Said | None = None) -> tuple[Said, ...]:
    """What the answers of a report leave out, with the reason where there is one.

    Args:
        codes: of the margins and findings that the report holds, the gate left out.
        why: why there are no finite elements, None where they stand in the report.
    """
    held = set(codes)
    manufacturer = (said("left_out.manufacturer"),)
    if layout.job.loads.basis == "none":
        return (said("left_out.strength"), *manufacturer)
    elements = (why,) if why else ()
    return (*_topics(layout, held), *elements, *manufacturer)


def _topics(layout: Layout, held: set[str]) -> Iterator[Said]:
    for topic in TOPICS:
        if not held.intersection(topic.codes) and _concerns(topic, layout):
            screens: tuple[Value, ...] = tuple(sorted(held.intersection(topic.screens)))
            if screens:
                yield said(f"screened.{topic.id}", codes=Listed(screens))
            else:
                yield said(f"left_out.{topic.id}", reason=_reason(topic, layout))


def _concerns(topic: Topic, layout: Layout) -> bool:
    """Whether the job has the thing at all, so that nothing is said of covers where there is none."""
    loads = layout.job.loads
    restored = loads.basis == "restore"
    is_pulled = restored or any(max(case.nx, case.ny) > 0 for case in loads.cases)
    is_pressed = restored or any(min(case.nx, case.ny) < 0 or case.q for case in loads.cases)
    has_cover = layout.part("cover") is not None
    concerns = {
        "skin_at_rivets": is_pulled,
        "stray_holes": any(stray.is_open and parts_left(layout, stray) for stray in layout.strays),
        "buckling": is_pressed,
        "sheared_bay": restored or any(case.q for case in loads.cases),
        "cover_air_load": has_cover,
        "cover_drawn_load": has_cover and is_pulled,
        "cover_buckling": has_cover and loads.cover.carries == "load",
        "nutplate_rivets": has_cover,
        "curvature": layout.job.skin.curvature is not None,
    }
    return concerns.get(topic.id, True)


def _reason(topic: Topic, layout: Layout) -> Said:
    """Why it was left out, as far as the job says."""
    loads, rows = layout.job.loads, layout.job.bay.rows
    if topic.id == "cover_air_load" and loads.cover.air_pressure is None:
        return said("left_out.no_air_pressure")
    if loads.basis == "restore" and topic.id in _REAL_LOADS_ONLY:
        return said("left_out.on_restore")
    if topic.id == "sheared_bay" and not (any(row.x for row in rows) and any(row.y for row in rows)):
        return said("left_out.no_rows")
    return said("left_out.no_answer")
