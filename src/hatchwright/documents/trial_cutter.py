"""The cutter on the trial sheet: the slot that it cuts, and the cut with the template."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.trial_row import TrialRow, TrialSection
from hatchwright.drawings.parts_table import sheet_said
from hatchwright.layout.layout import Layout
from hatchwright.layout.named import kind_named
from hatchwright.making.cutter.scrap_cut import ScrapCut, scrap_cut
from hatchwright.making.making import Making
from hatchwright.said import Said, inch, missing, room, said


def cutter_section(layout: Layout, making: Making | None) -> TrialSection | None:
    """What the cutter and its template must do; None without a cutter that a template guides."""
    cutter = layout.job.cutter
    if cutter is None:
        return None
    width = inch(cutter.cut_width.inch)
    slots = (
        TrialRow(said("trial_sheet.slot", axis=axis), said("trial_sheet.slot.must", cut=width))
        for axis in "XY"
    )
    how = [said("trial_sheet.cutter.how", tool=kind_named(cutter.kind), sheet=sheet_said(layout.parts[0]))]
    cuts = tuple(_cuts(scrap_cut(making))) if making else ()
    how += [said("trial_sheet.cutter.fails")] if cuts else []
    return TrialSection(said("trial_sheet.cutter"), tuple(how), (*slots, *cuts))


def _cuts(cut: ScrapCut) -> Iterator[TrialRow]:
    for axis, name in enumerate("XY"):
        yield TrialRow(said("trial_sheet.cut", axis=name), _must(cut, axis))
    if cut.has_room:
        yield TrialRow(said("trial_sheet.line"), said("trial_sheet.line.must"), is_measured=False)


def _must(cut: ScrapCut, axis: int) -> Said:
    """The size with its limits, which are never rounded in the passing direction."""
    size, most = inch(cut.size_in[axis]), room(cut.most_in(axis))
    if not cut.has_room:
        return said("trial_sheet.cut.no_more", size=size, most=most)
    return said("trial_sheet.cut.must", size=size, least=missing(cut.least_in(axis)), most=most)
