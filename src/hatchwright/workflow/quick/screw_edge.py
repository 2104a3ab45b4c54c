"""A cover screw's hole near an edge, judged as a job's is: its edge distance, its spacing and its size."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from hatchwright.finding import Finding, held
from hatchwright.judged import Measure, Status
from hatchwright.remedy import ASK
from hatchwright.rules.edge_distance import edge_held
from hatchwright.rules.hole_size import CLOSE, LOOSE, first_missed, screw_size_held
from hatchwright.rules.spacing import spacing_held
from hatchwright.said import Amount, inch, said
from hatchwright.tables.screws import ScrewSize, clearance_drills
from hatchwright.workflow.quick.answer import Answer, Bench, Told, listed, told
from hatchwright.workings import Quantity, Working


class ScrewEdge(Struct, frozen=True):
    """A screw near an edge.

    Args:
        thread: as it was entered.
        u_in: of its place and of its size; None where it was not entered [in].
        hole_in, spacing_in: None where they were not entered [in].
    """

    thread: str
    screw: ScrewSize
    distance_in: float
    u_in: float | None
    hole_in: float | None
    spacing_in: float | None
    bench: Bench

    def answer(self) -> Answer:
        """Its judgements, with what they are held to."""
        findings = (self._edge(), *self._spacing(), *self._size())
        open_ = [said("quick.edge.open.nearest")]
        if self.spacing_in is not None:
            open_.append(said("quick.edge.open.larger_rivet", size=self.thread))
        if self.u_in is None:
            open_.append(said("quick.edge.open.u"))
        if self.hole_in is None:
            open_.append(said("quick.edge.open.screw_hole"))
        return Answer(findings, tuple(self._told()), tuple(open_))

    @property
    def _diameter_in(self) -> float:
        return self.screw.major_diameter_in

    def _edge(self) -> Finding:
        e = Measure("e", self.distance_in, self.u_in or 0.0, per=("D", self._diameter_in, "in"))
        least = {"": self.bench.limit("cover_screw_edge_distance")}
        asked, whole = edge_held(e, self._diameter_in, least, short=Status.CAUTION)
        judged = whole if whole.status.rank > asked.status.rank else asked
        advice = said("quick.edge.breaks_out") if self.distance_in < self._diameter_in / 2.0 else ASK
        return held("R103", judged, said("quick.edge.subject", rivet=self.thread), advice)

    def _spacing(self) -> Iterator[Finding]:
        if self.spacing_in is None:
            return
        least = {"": self.bench.limit("new_to_existing_spacing")}
        p = Measure("p", self.spacing_in, self.u_in or 0.0, per=("D", self._diameter_in, "in"))
        judged = spacing_held(p, self._diameter_in, least, fails_as=Status.CAUTION)
        yield held("R212", judged, said("quick.edge.spacing", rivet=self.thread), ASK)

    def _size(self) -> Iterator[Finding]:
        drills = clearance_drills(self.thread, self.bench.shop)
        if self.hole_in is None or CLOSE not in drills or LOOSE not in drills:
            return
        d = Measure("d", self.hole_in, self.u_in or 0.0)
        every = screw_size_held(d, self.screw, drills[CLOSE], drills[LOOSE])
        judged, advice = first_missed(every, self.thread)
        yield held("R815", judged, said("quick.edge.screw_hole", size=self.thread), *advice)

    def _told(self) -> Iterator[Told]:
        least, diameter = (
            self.bench.limit("cover_screw_edge_distance"),
            Quantity("D", self._diameter_in, "in"),
        )
        ratio, e = Quantity("e/D", self.distance_in / self._diameter_in, ""), least.value * self._diameter_in
        put_in = (Quantity("e", self.distance_in, "in"), diameter)
        amount = Amount(ratio.value, "D", beside=least.value)
        yield told("edge.ratio", amount, Working.resting_on(least, "e / D", ratio, *put_in))
        asked = Working.resting_on(least, f"e = {least.value:g} D", Quantity("e", e, "in"), diameter)
        yield told("edge.least", inch(e, fine=True), asked)
        yield told(
            "edge.screw_diameter", inch(self._diameter_in, fine=True), listed(self.screw, "D", diameter.value)
        )
