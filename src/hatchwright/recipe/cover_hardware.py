"""What holds the cover: screws, nutplates with their rivets or clip nuts, washers; how many, how long, how drilled."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.job.fasteners import cover_nuts
from hatchwright.layout.layout import Layout
from hatchwright.layout.named import nut_named
from hatchwright.recipe.fastener_choice import RivetChoice, rivet_choice
from hatchwright.recipe.nutplate_seat import NutplateSeat, nutplate_seat
from hatchwright.recipe.sheet_work import LayerWork, hole_work, lacks_of
from hatchwright.recipe.spares import Ordered, spares_for
from hatchwright.said import Said, said
from hatchwright.tables.instructions import instruction
from hatchwright.tables.screws import screw_size
from hatchwright.workings import Grade, Source

RIVETS_EACH = 2
"""Rivets of one nutplate; see the instruction `nutplate_rivets`."""


class Counted(Ordered, frozen=True):
    """Parts to be ordered.

    Args:
        only: on which condition, None without one.
        source: where the condition stands, None without one.
    """

    name: Said
    only: Said | None = None
    source: Source | None = None
    grade: Grade | None = None


class NutplateRivets(Ordered, frozen=True):
    """The nutplates and their rivets.

    Args:
        seat: how the nutplates sit, and how the holes of the rivets are made.
        choice: what the documents say of them; None when it is not entered which they are, or no table lists them.
    """

    seat: NutplateSeat
    choice: RivetChoice | None


class Strap(Struct, frozen=True):
    """The strap between the innermost sheet and the nutplates."""

    alloy: str
    temper: str
    thickness_in: float


class CoverHardware(Struct, frozen=True):
    """What holds the cover.

    Args:
        washers: where the heads may take them, else None.
        rivets: of the nutplates; None with clip nuts, and with nuts whose shape is not known.
        layers: the work on each sheet of a screw hole, from outside, and on the strap behind them.
        strap: between the innermost sheet and the nutplates, None without one.
        unlisted: that the shape of the nuts is not known, so that nothing is said of how they are fitted; else None.
        thread_in: what shall stand out of the nut; None where no table lists the screw [in].
    """

    screws: Counted
    nuts: Counted
    washers: Counted | None
    rivets: NutplateRivets | None
    holes: tuple[int, ...]
    layers: tuple[LayerWork, ...]
    strap: Strap | None
    unlisted: Said | None
    grip_in: float
    length_in: float | None
    nut_in: float | None
    thread_in: float | None

    @property
    def least_length_in(self) -> float | None:
        """Grip, nut as far as it is known, and what stands out of it; None where that is not known [in]."""
        if self.thread_in is None:
            return None
        return self.grip_in + (self.nut_in or 0.0) + self.thread_in

    @property
    def lacks(self) -> tuple[Said, ...]:
        """What cannot be said of the screw holes and the nuts."""
        return (*lacks_of(self.layers), *((self.unlisted,) if self.unlisted else ()))


def cover_hardware(layout: Layout) -> CoverHardware | None:
    """What holds the cover of a job; None without screws."""
    holes, cover = layout.holes_of("screw"), layout.job.cover
    if not holes or cover is None or cover.screws is None:
        return None
    screws, strap, count = cover.screws, cover.screws.strap, len(holes)
    spares = spares_for(count, layout.shop)
    layers = hole_work(holes[0], layout)
    thread_in = None
    if holes[0].nominal_in is not None:
        one_thread_in = screw_size(screws.size, layout.shop).one_thread_in
        thread_in = layout.limit("thread_protrusion").value * one_thread_in
    washers = None
    if screws.head == "pan":  # a flush head can't lie on a washer, and a washer head has its own
        washer, where = said("hardware.washer", size=screws.size), said("hardware.washer_where")
        asked = instruction("plain_washers")
        washers = Counted(count, spares, washer, where, asked.source, asked.grade)
    name = said("hardware.screw", size=screws.size)
    if screws.length:
        name = said("hardware.screw_of_length", size=screws.size, length=screws.length.text)
    return CoverHardware(
        screws=Counted(count, spares, name),
        nuts=Counted(count, spares, nut_named(screws)),
        washers=washers,
        rivets=_nutplate_rivets(layout, count),
        holes=tuple(hole.number for hole in holes),
        layers=layers,
        strap=Strap(strap.alloy, strap.temper, strap.thickness.inch) if strap else None,
        unlisted=None if screws.nut in cover_nuts() else said("unlisted.nut", name=screws.nut),
        grip_in=sum(layer.thickness_in for layer in layers),
        length_in=screws.length.inch if screws.length else None,
        nut_in=screws.nut_height.inch if screws.nut_height else None,
        thread_in=thread_in,
    )


def _nutplate_rivets(layout: Layout, count: int) -> NutplateRivets | None:
    """Two for each nutplate, through the innermost sheet of the screws, the strap and an ear."""
    seat = nutplate_seat(layout)
    if seat is None:
        return None
    choice = None
    if seat.rivet:
        numbers = tuple(hole.number for hole in layout.holes_of("screw"))
        layers, grip_in = seat.ear_layers, seat.ear_grip_in
        choice = rivet_choice(seat.rivet, layers, holes=numbers, grip_in=grip_in, layout=layout)
    rivets = RIVETS_EACH * count
    return NutplateRivets(rivets, spares_for(rivets, layout.shop), seat, choice)
