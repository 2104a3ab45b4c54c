"""What stands before the steps at length: what the job is, its cautions, and the gate before the cut."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.bay_structure import region_said
from hatchwright.drawings.page_frame import aircraft_said
from hatchwright.drawings.parts_table import edge_said, sheet_said
from hatchwright.job.job import Job
from hatchwright.job.patch import DamagePoint
from hatchwright.job.skin import Mandate
from hatchwright.layout.layout import Layout
from hatchwright.layout.mass import WeightChange, weight_change
from hatchwright.layout.named import head_named, kind_named, nut_named, tool_named
from hatchwright.layout.sizes import size_of
from hatchwright.said import Amount, Listed, Place, Said, Value, inch, said
from hatchwright.words.of_job import in_words_of, said_of


def job_summary(layout: Layout) -> Iterator[tuple[Said, Value]]:
    """What the job is, in the words of its kind."""
    kind = layout.job.kind
    for label, words in _summary(layout):
        yield said_of(kind, label), in_words_of(kind, words)


def _summary(layout: Layout) -> Iterator[tuple[Said, Value]]:
    job, frame = layout.job, layout.frame
    side, surface = said(f"side.{job.aircraft.side}"), said(f"surface.{job.aircraft.surface}")
    yield said("card.job.mandate"), mandate_said(job.mandate)
    if job.mandate.purpose:
        yield said("card.job.purpose"), job.mandate.purpose
    yield said("card.job.lengths"), said(f"lengths.{job.unit}")
    yield said("card.job.where"), said("card.job.where_is", side=side, surface=surface)
    yield (said("card.job.origin"), said("card.job.origin_is", origin=frame.origin, x=frame.x, y=frame.y))
    yield said("card.job.skin"), _skin(layout)
    size, center = size_of(layout.wanted.bounds, layout.wanted_corner), Place(*layout.center_in)
    yield said("card.job.opening"), said("card.job.opening_is", size=size, center=center)
    if patch := job.patch:
        points = Listed(tuple(_damaged(point) for point in patch.extent), ";")
        yield said("card.job.damage"), said(f"card.job.damage.{patch.damage}", points=points)
        if patch.split:
            split = patch.split
            gap, at = inch(split.gap.inch), inch(split.at.inch)
            across = "XY"[split.axis]
            yield (
                said("card.job.split"),
                said("card.job.split_is", along=split.along.upper(), gap=gap, at=at, across=across),
            )
    for part in layout.parts[1:]:
        edges = tuple(
            said("card.job.edge", edge=edge_said(edge), size=size_of(edge.loop.bounds, edge.corner))
            for edge in part.edges
        )
        told = said("card.job.part_is", sheet=sheet_said(part), edges=Listed(edges, ";"))
        yield said("card.job.part", part=said(f"part.{part.name}")), told
    if job.cover and job.cover.screws:
        screws, count = job.cover.screws, len(layout.holes_of("screw"))
        names: dict[str, Value] = {"size": screws.size, "head": head_named(screws), "nut": nut_named(screws)}
        yield said("card.job.screws"), said("card.job.screws_are", count=count, **names)
    for part_number in dict.fromkeys(hole.fastener for hole in layout.holes_of("rivet")):
        count = sum(hole.fastener == part_number for hole in layout.holes)
        yield said("card.job.rivets"), said("card.job.rivets_are", count=count, rivet=part_number)
    yield said("card.job.weight"), weight_said(weight_change(layout))
    if job.cutter:
        cutter = job.cutter
        told = said(
            "card.job.cutter_is",
            tool=kind_named(cutter.kind),
            cut=inch(cutter.cut_width.inch),
            guide=inch(cutter.guide.inch),
            left=inch(cutter.filing_allowance.inch),
        )
        yield said("card.job.cutter"), told
    elif job.hand_tool:
        id = "card.job.hand_tool_makes" if job.hand_tool.what.round_holes else "card.job.hand_tool_is"
        yield said("card.job.cutter"), said(id, tool=tool_named(job.hand_tool))
    if layout.shop:
        yield said("card.job.shop"), layout.shop.words


def _damaged(point: DamagePoint) -> Said:
    x, y = point.at
    return said("card.job.damaged", at=Place(x.inch, y.inch), u=inch(point.uncertainty.inch))


def _skin(layout: Layout) -> Said:
    skin, sheet = layout.job.skin, sheet_said(layout.parts[0])
    id = f"card.job.skin.{'stressed' if skin.stressed else 'unstressed'}"
    if skin.measured is None:
        return said(id, sheet=sheet)
    return said(f"{id}_measured", sheet=sheet, measured=inch(skin.measured.inch, fine=True))


def weight_said(change: WeightChange) -> Said:
    """What a job adds or takes off, by how much that may be out, and what is left out of it."""
    out, total = Amount(change.uncertainty_lb, "lb", toward="up"), Amount(abs(change.total_lb), "lb")
    way = "adds" if change.total_lb >= 0.0 else "takes_off"
    without = "_without" if change.not_weighed else ""
    left_out = Listed(change.not_weighed, ";")
    return said(f"card.weight.{way}{without}", total=total, out=out, left_out=left_out)


def job_cautions(layout: Layout) -> Iterator[Said]:
    """What lies behind the skin, and what the skin itself asks for: one caution each, never none."""
    job = layout.job
    for keep_out in job.bay.keep_outs:
        yield said("card.caution.behind", region=region_said(keep_out))
    if job.skin.pressurized:
        yield said("card.caution.pressure")
    if job.skin.curvature:
        yield said("card.caution.curved")
    if job.skin.stressed:
        yield said("card.caution.stressed")
    if not job.bay.keep_outs:
        yield said("card.caution.nothing_near" if job.bay.nothing_near else "card.caution.nothing_behind")


def right_side(job: Job) -> dict[str, Value]:
    """Which aircraft, side and skin a second person reads out."""
    side, surface = said(f"side.{job.aircraft.side}"), said(f"surface.{job.aircraft.surface}")
    return {"aircraft": aircraft_said(job), "side": side, "surface": surface}


def mandate_said(mandate: Mandate) -> Said:
    """What asks for the work, such as directive M-101, bulletin B-7 revision C, kit K-7."""
    bulletin, revision = mandate.bulletin, mandate.revision
    of = "_of" if mandate.reference else ""
    parts = [said(f"card.mandate.{mandate.kind}{of}", reference=mandate.reference)]
    if bulletin or revision:
        of_bulletin = "card.mandate.named_revised" if revision else "card.mandate.named"
        id = of_bulletin if bulletin else "card.mandate.revision"
        parts.append(said(id, bulletin=bulletin, revision=revision))
    if mandate.kit:
        parts.append(said("card.mandate.kit", kit=mandate.kit))
    return said("card.mandate", parts=Listed(tuple(parts), ","))
