"""What a job is, in a few lines, and what is special about it."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.gate import mandate_words
from hatchwright.drawings.bay_structure import region_words
from hatchwright.drawings.figures import figure, size_words, unit_of
from hatchwright.drawings.page_frame import side_word
from hatchwright.drawings.parts_table import sheet_words
from hatchwright.layout.hardware_mass import weight_change
from hatchwright.layout.layout import Layout


def job_summary(layout: Layout) -> Iterator[tuple[str, str]]:
    """What the job is.

    Yields:
        tuple[str, str]: a label and its words.
    """
    job, unit = layout.job, unit_of(layout.job)
    yield "What asks for it", mandate_words(job.mandate)
    if job.mandate.purpose:
        yield "Purpose", job.mandate.purpose
    yield "Lengths", "inches" if unit == "in" else "millimetres"
    yield "Where", f"{side_word(job)} side, {job.aircraft.surface} skin, seen from outside"
    yield "Origin", f"{layout.frame.origin}; X runs {layout.frame.x}, Y runs {layout.frame.y}"
    measured = f", measured {figure(job.skin.measured.inch, unit, fine=True)}" if job.skin.measured else ""
    carries = "stressed" if job.skin.stressed else "not stressed"
    yield "Skin", f"{sheet_words(layout.parts[0], unit)}{measured}, {carries}"
    x, y = (figure(value, unit) for value in layout.center_in)
    yield "Opening", f"{size_words(layout.wanted.bounds, unit)}, centre X {x}, Y {y}"
    for part in layout.parts[1:]:
        edges = "; ".join(
            f"{edge.name.removesuffix(' edge')} {size_words(edge.loop.bounds, unit)}" for edge in part.edges
        )
        yield part.name.capitalize(), f"{sheet_words(part, unit)}; {edges}"
    if job.cover and job.cover.screws:
        screws = job.cover.screws
        yield "Screws", f"{len(layout.holes_of('screw'))} x {screws.size}, {screws.head}, {screws.nut}"
    for part_number in dict.fromkeys(hole.fastener for hole in layout.holes_of("rivet")):
        count = sum(hole.fastener == part_number for hole in layout.holes)
        yield "Rivets", f"{count} x {part_number}"
    yield "Weight", weight_change(layout).words
    if job.cutter:
        cutter = job.cutter
        yield (
            "Cutter",
            (
                f"{cutter.kind}, cut {figure(cutter.cut_width.inch, unit)}, guide "
                f"{figure(cutter.guide.inch, unit)}, "
                f"{figure(cutter.filing_allowance.inch, unit)} left to file"
            ),
        )
    if layout.shop:
        yield "Shop's own tables", layout.shop.words


def job_cautions(layout: Layout) -> Iterator[str]:
    """What lies behind the skin, and what the skin itself asks for.

    Yields:
        str: one sentence each, never none.
    """
    job, unit = layout.job, unit_of(layout.job)
    for keep_out in job.bay.keep_outs:
        yield (
            f"Behind the skin: {region_words(keep_out, unit)}. Set a drill stop, shield it, keep the "
            "starter away."
        )
    if job.skin.pressurized:
        yield "The skin holds cabin pressure: nothing here covers that. Refer to an engineer."
    if job.skin.curvature:
        yield "The skin is curved: flat patterns and rigid templates do not lie on it."
    if job.skin.stressed:
        yield "The skin carries flight loads: unload and support the structure before it is cut."
    if not job.bay.keep_outs:
        yield "Nothing was entered that lies behind the skin. Look before drilling."
