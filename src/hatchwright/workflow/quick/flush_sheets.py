"""How each sheet of a stack takes a flush rivet, judged as a job's row is: thickness, metal left, dimpled hole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from hatchwright.errors import TableError
from hatchwright.finding import Finding, held, stated
from hatchwright.job.fasteners import Preparation
from hatchwright.judged import Judgement, Status
from hatchwright.recipe.sheet_work import LayerWork
from hatchwright.remedy import ASK
from hatchwright.rules.countersunk import metal_left, rivet_countersink, under_dimple_held
from hatchwright.rules.dimples import dimple_held, dimpled_hole_held
from hatchwright.said import Said, inch, said
from hatchwright.tables.countersink import dimple_spread, under_dimple
from hatchwright.tables.instructions import instruction
from hatchwright.tables.rivet_part import RivetPart
from hatchwright.tables.rivets import head_size, hole_range
from hatchwright.workflow.quick.answer import Bench


class FlushSheets(Struct, frozen=True):
    """A flush rivet and the work on each sheet, from outside.

    Args:
        preparation: as entered, None when it was not.
    """

    part: RivetPart
    layers: Sequence[LayerWork]
    preparation: Preparation | None
    bench: Bench

    def findings(self) -> Iterator[Finding]:
        """Every judgement, sheet by sheet; that the preparation is not entered first."""
        if self.preparation is None:
            asked = instruction("dimple_all_sheets_or_csk_under")
            subject, do = said("quick.drills.by_thickness"), said("quick.drills.enter_preparation")
            yield stated("R412", Status.UNKNOWN, subject, asked, do, enter=("preparation",))
        for at, layer in enumerate(self.layers):
            if layer.preparation == "dimple":
                yield from self._dimpled(at)
            elif layer.preparation == "countersink":
                yield from self._countersunk(at)

    def _sheet(self, id: str, at: int) -> Said:
        return said(f"quick.drills.{id}", number=at + 1, thickness=inch(self.layers[at].thickness_in))

    def _dimpled(self, at: int) -> Iterator[Finding]:
        layer, subject = self.layers[at], self._sheet("dimpled_sheet", at)
        judged = dimple_held(layer.thickness_in, self.bench.limit)
        yield held("R409", judged, subject, said("dimple.too_thick"), ASK)
        hole, judged_hole = self._sheet("dimpled_hole", at), self._hole(layer)
        if judged_hole is None:
            do = said("dimple.try_on_scrap")
            yield stated("R410", Status.UNKNOWN, hole, instruction("dimple_cracks"), do)
        else:
            yield held("R410", judged_hole, hole, ASK)

    def _hole(self, layer: LayerWork) -> Judgement | None:
        """The hole as dimpling leaves it; None where nobody knows its drill, its spread or its range."""
        drill, shop = layer.before_dimple, self.bench.shop
        if drill is None:
            return None
        try:
            after, allowed = dimple_spread(drill.name, shop), hole_range(self.part.diameter_in, shop)
        except TableError:
            return None
        return dimpled_hole_held(after, drill, allowed)

    def _countersunk(self, at: int) -> Iterator[Finding]:
        layer, shop = self.layers[at], self.bench.shop
        subject = self._sheet("sheet_under_head", at)
        try:
            judged = rivet_countersink(self.part, layer.thickness_in, shop=shop)
        except TableError:
            yield stated("R408", Status.UNKNOWN, subject, instruction("rule_head_vs_sheet"), ASK)
            return
        do = (
            (said("countersink.knife_edge"), ASK) if judged.shortfall else (said("countersink.measure_head"),)
        )
        yield held("R408", judged, subject, *do)
        top_in = sum(one.thickness_in for one in self.layers[:at] if one.preparation == "dimple")
        try:
            head = head_size(self.part, shop)
        except TableError:
            return  # as a job: R408 says of it what is listed
        if top_in:
            beneath = under_dimple_held(head, layer.thickness_in, top_in=top_in, limit=self.bench.limit)
            yield held("R412", beneath, self._sheet("under_dimple", at), said("flush.too_thin_under"), ASK)
        if at and self.layers[at - 1].preparation == "countersink" and self.preparation == "countersink":
            return  # the head sits in the top sheet
        depth_in = head.height_in + (under_dimple(top_in, shop)[0].value if top_in else 0.0)
        left, _ = metal_left(head, depth_in, layer.thickness_in, self.bench.limit)
        thin = (said("countersink.leaves_little"), ASK) if left.shortfall > 0.0 else ()
        yield held("R429", left, self._sheet("metal_left", at), *thin, said("countersink.measure_head"))
