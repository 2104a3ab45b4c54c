"""What a job weighs: its sheets by area, its fasteners by the shop's own weights, else estimated by volume.

The shares and shapes are common practice without a source; each estimate states by how much it may be out.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial

from msgspec import Struct

from hatchwright.errors import HatchwrightError, TableError
from hatchwright.job.fasteners import Screws, Strap
from hatchwright.job.mount import Mount
from hatchwright.layout.layout import Hole, Layout, PartName
from hatchwright.layout.rivet_length import rivet_length
from hatchwright.said import Said, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.countersink import FLUSH_SLOPE
from hatchwright.tables.hardware_weights import hardware_weight
from hatchwright.tables.materials import density, sheet
from hatchwright.tables.rivet_part import RivetPart, parse_rivet, rivet_alloys
from hatchwright.tables.rivets import head_size
from hatchwright.tables.screws import screw_size
from hatchwright.tables.table import ShopTables
from hatchwright.words.tell import tell
from hatchwright.workings import Grade, Quantity, Source, Working

_SHEET_OUT = 0.05
"""Sheet comes a twentieth thicker or thinner than its gauge, and holes are left out [-]."""

_HEAD_SHARE, _HEAD_OUT = 0.75, 0.25
"""A protruding head fills three quarters of the cylinder round it, give or take one [-]."""

_SCREW_OUT, _NUT_OUT = 0.3, 0.5
"""By how much the estimate of a screw and of a nut may be out [-]."""

_STRAP_OUT = 0.25
"""By how much a strap may be out, which may end between the screws [-]."""

_THREAD_SHARE = 0.8
"""What a threaded shank fills of the cylinder round it [-]."""

NUT_PLATE_IN = 0.03
"""Thickness of a nutplate's plate and ears; common practice, no source [in]."""

_PRACTICE = Source("PRACTICE", "weight of fasteners by volume")


Place = tuple[float, float]
"""A point of the job's frame, x and y [in]."""


class Mass(Struct, frozen=True):
    """One item of the mass of a job.

    Args:
        mass_lb: negative for what is taken away [lb].
        uncertainty_lb: by how much it may be out [lb].
        place: where it balances, in the job's frame; None where that was not asked for [in].
    """

    name: str
    mass_lb: float
    uncertainty_lb: float
    working: Working
    place: Place | None = None


_Part = tuple[str, Callable[[], tuple[Mass, ...]]]


class WeightChange(Struct, frozen=True):
    """What the job adds to one side and takes away from it.

    Args:
        not_weighed: what is left out, each with the reason.
    """

    masses: tuple[Mass, ...]
    not_weighed: tuple[Said, ...]

    @property
    def total_lb(self) -> float:
        """All together [lb]."""
        return sum(mass.mass_lb for mass in self.masses)

    @property
    def uncertainty_lb(self) -> float:
        """By how much the total may be out, every part being out the same way [lb]."""
        return sum(mass.uncertainty_lb for mass in self.masses)


def weight_change(layout: Layout) -> WeightChange:
    """The weight of the whole change.

    Returns:
        WeightChange: sheets by area; fasteners by the shop's weights or by volume; the mounted part as entered.
    Method: docs/theory/weight.md.
    """
    masses: list[Mass] = []
    not_weighed: list[Said] = []
    parts: list[_Part] = [("sheets", partial(sheet_masses, layout)), *_fasteners(layout)]
    for name, weigh in parts:
        try:
            masses += weigh()
        except HatchwrightError as error:
            not_weighed.append(said("weight.unknown", part=name, why=error.what))
    mount = layout.job.mount
    if mount and mount.weight is not None:
        source = Source("PRACTICE", "weight of the mounted part, as entered")
        given = Cited(mount.weight, "lb", source, Grade.SHOP)
        masses.append(_weighed(f"mounted {mount.kind}", 1, given, _mount_place(layout, mount)))
    elif mount:
        not_weighed.append(said("weight.mount", kind=mount.kind))
    if mount and mount.bracket:
        not_weighed.append(said("weight.bracket"))
    return WeightChange(tuple(masses), tuple(not_weighed))


def _mount_place(layout: Layout, mount: Mount) -> Place:
    """Its own center, as far from the middle of the opening as was entered [in]."""
    x_in, y_in = layout.center_in
    off_x, off_y = (one.inch for one in mount.offset) if mount.offset else (0.0, 0.0)
    return x_in + off_x, y_in + off_y


def sheet_masses(layout: Layout) -> tuple[Mass, ...]:
    """The sheet parts of a job: doubler and cover added, the skin of the opening taken away.

    Returns:
        tuple: one for each sheet, holes left out of account.
    Raises:
        TableError: the density of a sheet is not in the tables.
    """
    found = []
    for part in layout.parts:
        name, outlines = tell(said("weight.skin_taken_away")), [(-1.0, layout.opening)]
        if part.name != "skin":
            name = part.name
            outlines = [(1.0 if edge.metal_inside else -1.0, edge.loop) for edge in part.edges]
        areas = [(sign * abs(loop.area_sq_in), loop.center_of_area) for sign, loop in outlines]
        area_sq_in = sum(area for area, _ in areas)
        place = _middle(areas)
        per_in3 = sheet(part.alloy, part.temper, part.clad, layout.shop).density
        found.append(sheet_mass(name, area_sq_in, part.thickness_in, per_in3, place))
    return tuple(found)


def _middle(weighted: Sequence[tuple[float, Place]]) -> Place:
    """Where several things balance together, each by its share and its place [in]."""
    total = sum(share for share, _ in weighted)
    x_in, y_in = (sum(share * place[axis] for share, place in weighted) / total for axis in (0, 1))
    return x_in, y_in


def _middle_of(holes: Iterable[Hole]) -> Place:
    return _middle([(1.0, hole.place) for hole in holes])


def sheet_mass(
    name: str,
    area_sq_in: float,
    thickness_in: float,
    density: Cited,
    place: Place | None = None,
) -> Mass:
    """The mass of a sheet by its area, negative for one that is taken away.

    Args:
        area_sq_in: with its windows left out [in^2].
        thickness_in: of the sheet [in].
        density: of its alloy [lb/in^3].
        place: where it balances, None where that was not asked for [in].
    """
    mass_lb = area_sq_in * thickness_in * density.value
    working = Working.resting_on(
        density,
        "m = area x t x density",
        Quantity("m", mass_lb, "lb"),
        Quantity("area", area_sq_in, "in^2"),
        Quantity("t", thickness_in, "in"),
        Quantity("density", density.value, "lb/in^3"),
    )
    return Mass(name, mass_lb, _SHEET_OUT * abs(mass_lb), working, place)


def _fasteners(layout: Layout) -> Iterator[_Part]:
    """Each kind of fastener with what weighs it."""
    shop = layout.shop
    thickness = {part.name: part.thickness_in for part in layout.parts}
    rivets: dict[tuple[str, tuple[PartName, ...]], list[Hole]] = {}
    for hole in layout.holes_of("rivet"):
        rivets.setdefault((hole.fastener, hole.stack), []).append(hole)
    for (fastener, stack), alike in rivets.items():
        grip_in = sum(thickness[name] for name in stack)
        yield fastener, partial(rivet_masses, fastener, len(alike), grip_in, layout, _middle_of(alike))
    screws, holes = layout.job.cover.screws if layout.job.cover else None, layout.holes_of("screw")
    if screws is None or not holes:
        return
    middle = _middle_of(holes)
    yield f"{screws.size} screws", partial(_screws, screws, len(holes), shop, middle)
    yield screws.nut, partial(_nuts, screws, len(holes), shop, middle)
    if screws.strap:
        yield "strap", partial(_strap, screws.strap, holes, shop)
    if screws.nut_rivet:
        strap_in = screws.strap.thickness.inch if screws.strap else 0.0
        grip_in = thickness[holes[0].stack[-1]] + strap_in + NUT_PLATE_IN
        rivets_in = 2 * len(holes)
        yield (
            screws.nut_rivet,
            partial(rivet_masses, screws.nut_rivet, rivets_in, grip_in, layout, middle),
        )


def rivet_masses(
    fastener: str, count: int, grip_in: float, layout: Layout, place: Place | None = None
) -> tuple[Mass, ...]:
    """Shank and head of the nearest length; out by a step of its length and a quarter of the head.

    Args:
        grip_in: thickness of the sheets that it joins [in].
        place: where all of them balance, None where that was not asked for [in].
    Raises:
        HatchwrightError: no table lists it, or its alloy.
    """
    part, shop = parse_rivet(fastener), layout.shop
    d_in = part.diameter_in
    allowance = layout.limit("upset_allowance").value
    length = rivet_length(part, grip_in=grip_in, hole_in=d_in, allowance_ratio=allowance).nearest
    name = str(length.rivet)
    if known := hardware_weight(name, shop):
        return (_weighed(name, count, known, place),)
    head, per_in3 = head_size(part, shop), _rivet_density(part, shop)
    section_in2 = math.pi / 4.0 * d_in**2
    if part.is_flush:
        # the length is over all: only what the cone has beyond the shank comes on top
        cone_in3 = math.pi / 12.0 * head.height_in * (head.head_in**2 + head.head_in * d_in + d_in**2)
        head_in3 = cone_in3 - section_in2 * head.height_in
        head_out_in3 = _HEAD_OUT * head_in3
    else:
        cylinder_in3 = math.pi / 4.0 * head.head_in**2 * head.height_in
        head_in3, head_out_in3 = _HEAD_SHARE * cylinder_in3, _HEAD_OUT * cylinder_in3
    volume_in3 = section_in2 * length.length_in + head_in3
    out_in3 = section_in2 * part.series.length_step_in + head_out_in3
    # Named without the length: which one is begun with, and which is driven, the recipe and the scrap say.
    return (_estimated(fastener, count, volume_in3, out_in3 / volume_in3, per_in3, place),)


def _screws(screws: Screws, count: int, shop: ShopTables | None, place: Place) -> tuple[Mass, ...]:
    if screws.length is None:
        raise TableError.saying("error.screw_length", where="cover.screws.length")
    name = f"{screws.size} x {screws.length.text}"
    if known := hardware_weight(name, shop):
        return (_weighed(name, count, known, place),)
    d_in = screw_size(screws.size, shop).major_diameter_in
    shank_in3 = _THREAD_SHARE * math.pi / 4.0 * d_in**2 * screws.length.inch
    # a flush head is a cone of twice the diameter at 100 degrees; the others are about that wide and half as high
    is_flush = screws.known_head == "100 degree flush"
    height_in = d_in / 2.0 / FLUSH_SLOPE if is_flush else d_in / 2.0
    head_in3 = math.pi / 12.0 * height_in * 4.0 * d_in**2
    if not is_flush:
        head_in3 *= 3.0
    return (_estimated(name, count, shank_in3 + head_in3, _SCREW_OUT, density("steel", shop), place),)


def _nuts(screws: Screws, count: int, shop: ShopTables | None, place: Place) -> tuple[Mass, ...]:
    name = f"{screws.nut} {screws.size}"
    if known := hardware_weight(name, shop):
        return (_weighed(name, count, known, place),)
    assert screws.known_nut  # the others' shape is not known
    d_in = screw_size(screws.size, shop).major_diameter_in
    barrel_in3 = math.pi / 4.0 * ((1.6 * d_in) ** 2 - d_in**2) * d_in
    plate_in3 = 6.0 * d_in * 2.0 * d_in * NUT_PLATE_IN
    return (_estimated(name, count, barrel_in3 + plate_in3, _NUT_OUT, density("steel", shop), place),)


def _strap(strap: Strap, holes: tuple[Hole, ...], shop: ShopTables | None) -> tuple[Mass, ...]:
    """As long as the way round all screws, so that it weighs less where it lies under some of them only."""
    if strap.width is None:
        raise TableError.saying("error.strap_width", where="cover.screws.strap.width")
    around_in = sum(
        math.dist(one.place, other.place) for one, other in zip(holes, (*holes[1:], holes[0]), strict=True)
    )
    volume_in3 = around_in * strap.width.inch * strap.thickness.inch
    per_in3 = sheet(strap.alloy, strap.temper, strap.clad, shop).density
    return (_estimated("strap", 1, volume_in3, _STRAP_OUT, per_in3, _middle_of(holes)),)


def _rivet_density(part: RivetPart, shop: ShopTables | None) -> Cited:
    """That of its alloy; aluminium that is not listed is taken for 2024, from which it differs by a few percent."""
    alloy = rivet_alloys()[part.letters].alloy.partition("-")[0]
    try:
        return density(alloy, shop)
    except TableError:
        if not alloy.isdigit():
            raise
        return density("2024", shop)


def _weighed(name: str, count: int, one: Cited, place: Place | None) -> Mass:
    mass, weight = Quantity("m", count * one.value, "lb"), Quantity("weight", one.value, "lb")
    pieces = Quantity("count", count, "")
    working = Working.resting_on(one, "m = count x weight of one", mass, pieces, weight)
    return Mass(f"{count} x {name}" if count > 1 else name, count * one.value, 0.0, working, place)


def _estimated(
    name: str, count: int, volume_in3: float, out_ratio: float, per_in3: Cited, place: Place | None
) -> Mass:
    mass_lb = count * volume_in3 * per_in3.value
    pieces, volume = Quantity("count", count, ""), Quantity("volume", volume_in3, "in^3")
    working = Working(
        f"m = count x volume x density [{per_in3.source}; {per_in3.grade}], within {100.0 * out_ratio:.0f} percent",
        (pieces, volume, Quantity("density", per_in3.value, "lb/in^3")),
        Quantity("m", mass_lb, "lb"),
        _PRACTICE,
        Grade.PRACTICE,
    )
    called = f"{count} x {name}" if count > 1 else name
    return Mass(called, mass_lb, out_ratio * mass_lb, working, place)
