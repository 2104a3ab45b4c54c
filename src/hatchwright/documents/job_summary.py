"""What a job is, in a few lines, and what is special about it."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.gate import mandate_said
from hatchwright.drawings.bay_structure import region_said
from hatchwright.drawings.figures import size_of
from hatchwright.drawings.parts_table import edge_said, sheet_said
from hatchwright.layout.layout import Layout
from hatchwright.layout.mass import WeightChange, weight_change
from hatchwright.making.named import head_named, kind_named, nut_named
from hatchwright.said import Amount, Listed, Place, Said, Value, inch, said


def job_summary(layout: Layout) -> Iterator[tuple[Said, Value]]:
    """What the job is."""
    job, frame = layout.job, layout.frame
    side, surface = said(f"side.{job.aircraft.side}"), said(f"surface.{job.aircraft.surface}")
    yield said("card.job.mandate"), mandate_said(job.mandate)
    if job.mandate.purpose:
        yield said("card.job.purpose"), job.mandate.purpose
    yield said("card.job.lengths"), said(f"lengths.{job.unit}")
    yield said("card.job.where"), said("card.job.where_is", side=side, surface=surface)
    yield (said("card.job.origin"), said("card.job.origin_is", origin=frame.origin, x=frame.x, y=frame.y))
    yield said("card.job.skin"), _skin(layout)
    size, center = size_of(layout.wanted.bounds), Place(*layout.center_in)
    yield said("card.job.opening"), said("card.job.opening_is", size=size, center=center)
    for part in layout.parts[1:]:
        edges = tuple(
            said("card.job.edge", edge=edge_said(edge), size=size_of(edge.loop.bounds)) for edge in part.edges
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
    yield said("card.job.weight"), _weight(weight_change(layout))
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
    if layout.shop:
        yield said("card.job.shop"), layout.shop.words


def _skin(layout: Layout) -> Said:
    skin, sheet = layout.job.skin, sheet_said(layout.parts[0])
    id = f"card.job.skin.{'stressed' if skin.stressed else 'unstressed'}"
    if skin.measured is None:
        return said(id, sheet=sheet)
    return said(f"{id}_measured", sheet=sheet, measured=inch(skin.measured.inch, fine=True))


def _weight(change: WeightChange) -> Said:
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
        yield said("card.caution.nothing_behind")
