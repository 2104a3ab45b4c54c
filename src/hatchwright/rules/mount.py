"""R917, R919 to R923: what a mounted antenna or other base needs of the skin."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from msgspec.structs import replace

from hatchwright.finding import Finding
from hatchwright.ground import Ground
from hatchwright.job.mount import Mount
from hatchwright.judged import Judgement, Measure, Status, bound
from hatchwright.layout.base_screws import base_screw_points
from hatchwright.layout.gaps import gap_to
from hatchwright.layout.layout import points_of
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, held_as, stated
from hatchwright.rules.edge_distance import WHOLE
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.scope import MEMBERS
from hatchwright.rules.wording import edge_named, part_named
from hatchwright.said import Listed, Said, inch, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import Instruction, instruction
from hatchwright.tables.screws import screw_size
from hatchwright.workings import Grade, Source

NEAR_MEMBER_IN = 0.5
"""A doubler that ends nearer to a frame or stringer than this makes a hard edge; common practice, no source [in]."""


_MANUALS = Cited(0.0, "in", Source("PRACTICE", "manuals of both antennas, as entered"), Grade.PRACTICE)
_HARD_EDGE = Cited(NEAR_MEMBER_IN, "in", Source("PRACTICE", "doubler edges"), Grade.PRACTICE)
_BONDING = Instruction("", "bonding", source=Source("AVIONICS-MANUAL", "bonding"), grade=Grade.RESTATED)
_TO_HOLE_WHOLE = Cited(1.0, "D", Source("GEOMETRY", "a hole within its sheet"), Grade.COMPUTED)


def _antenna(survey: Survey) -> Mount | None:
    mount = survey.layout.job.mount
    return mount if mount and mount.kind == "antenna" else None


@rule("R917", Shelf.KNOW, reads=("mount",), step="mount")
@judged_by(_BONDING)
def bonding(survey: Survey) -> Iterator[Finding]:
    """R917: antenna: bonding against paint."""
    mount = _antenna(survey)
    if mount is None:
        return
    status, subject, advice = {
        None: (Status.UNKNOWN, "bonding.not_entered", (said("bonding.look_up"),)),
        True: (Status.CAUTION, "bonding.bonded", (said("bonding.mask"),)),
        False: (Status.PASS, "bonding.not_bonded", ()),
    }[mount.bonded]
    enter = ("mount.bonded",) if mount.bonded is None else ()
    yield stated(status, said(subject), _BONDING, *advice, enter=enter)


@rule("R919", Shelf.KNOW, reads=("mount",), step="mount")
@judged_by("rivets_not_watertight")
def sealing(survey: Survey) -> Iterator[Finding]:
    """R919: antenna: sealing and drain."""
    mount = _antenna(survey)
    if mount is None:
        return
    status, subject, advice = {
        None: (Status.UNKNOWN, "sealing.not_entered", "sealing.seal"),
        False: (Status.CAUTION, "sealing.not_sealed", "sealing.seal"),
        True: (Status.PASS, "sealing.sealed", "sealing.drain"),
    }[mount.sealed]
    enter = ("mount.sealed",) if mount.sealed is None else ()
    yield stated(status, said(subject), instruction("rivets_not_watertight"), said(advice), enter=enter)


@rule("R920", Shelf.SETTLE, reads=("mount",), step="mount")
@judged_by(_MANUALS)
def next_antenna(survey: Survey) -> Iterator[Finding]:
    """R920: antenna: distance to the next."""
    mount = _antenna(survey)
    if mount is None:
        return
    given, least = mount.nearest_antenna, mount.least_distance
    if given and least:
        asked = replace(_MANUALS, value=least.inch, grade=Grade.SHOP)
        judged = Judgement(Measure("distance", given.inch), (bound(asked),))
        yield held(judged, said("antenna.next", distance=inch(given.inch)), ASK)
        return
    yield stated(
        Status.CAUTION if given else Status.UNKNOWN,
        said("antenna.next", distance=inch(given.inch)) if given else said("antenna.next_not_entered"),
        Ground(_MANUALS.source, Grade.SHOP if least else _MANUALS.grade),
        said("antenna.look_up" if given else "antenna.measure"),
        value=given.inch if given else None,
        limit=least.inch if least else None,
        unit="in",
        enter=(*(() if given else ("mount.nearest_antenna",)), *(() if least else ("mount.least_distance",))),
    )


@rule("R921", Shelf.HOLDS, reads=("bay", "mount", "parts"))
@judged_by("antenna_doubler")
def drag_load(survey: Survey) -> Iterator[Finding]:
    """R921: antenna: drag load."""
    if _antenna(survey) is None:
        return
    layout = survey.layout
    doubler = layout.part("doubler")
    reached = tuple(
        row.name
        for row in layout.job.bay.rows
        if doubler and row.member in MEMBERS and gap_to(doubler.edges[0].loop, row)[0] <= 0.0
    )
    subject = said("drag.reaches", members=Listed(reached)) if reached else said("drag.reaches_none")
    advice = () if reached else (said("drag.show"), ASK)
    yield stated(Status.PASS if reached else Status.CAUTION, subject, instruction("antenna_doubler"), *advice)


@rule("R922", Shelf.HOLDS, reads=("bay", "mount", "parts"))
@judged_by(_HARD_EDGE)
@mended_by(Change.DOUBLER_SIZE)
def hard_edge(survey: Survey) -> Iterator[Finding]:
    """R922: hard edge beside a member; a row that the doubler reaches is picked up by it."""
    doubler = survey.layout.part("doubler")
    if survey.layout.job.mount is None or doubler is None:
        return
    for row in survey.layout.job.bay.rows:
        gap_in, place = gap_to(doubler.edges[0].loop, row)
        judged = Judgement(Measure("gap", gap_in), (bound(_HARD_EDGE),), fails_as=Status.CAUTION)
        subject = said("hard_edge.gap", name=row.name)
        if gap_in > 0.0:
            yield held(judged, subject, ASK, place=place, cause=row.name)
        else:
            yield held_as(judged, Status.PASS, subject, place=place)


@rule("R923", Shelf.HOLDS, reads=("holes", "mount", "opening", "parts"))
@judged_by(WHOLE, _TO_HOLE_WHOLE, limits=("cover_screw_edge_distance", "new_to_existing_spacing"))
@mended_by(Change.ROW_PITCH, Change.ROW_DISTANCE, Change.OPENING_SIZE)
def base_screws(survey: Survey) -> Iterator[Finding]:
    """R923: screws of a mounted base."""
    layout, mount = survey.layout, survey.layout.job.mount
    if mount is None:
        return
    to_edge, to_rivet = survey.limit("cover_screw_edge_distance"), survey.limit("new_to_existing_spacing")
    points = base_screw_points(layout)
    if points is None or not mount.screw_size:
        subject = said("base_screws.not_entered")
        enter = ("mount.screw_size", "mount.screw_pattern")
        yield stated(Status.UNKNOWN, subject, to_edge, said("base_screws.measure"), unit="in", enter=enter)
        return
    diameter_in = screw_size(mount.screw_size, survey.shop).major_diameter_in
    for part in layout.parts:
        for edge in part.edges:
            if part.name == "cover" or (part.name == "doubler" and edge.loop == layout.opening):
                continue
            found = distances(Profile((edge.loop,)), points)
            signed = found.inward_in if edge.metal_inside else -found.inward_in
            # Off the skin there is no metal at all; clear of the doubler a screw goes through the skin alone.
            metal_in = signed if part.name == "skin" else found.distance_in
            yield _apart(
                said("base_screws.to_edge", edge=edge_named(edge), part=part_named(part)),
                float(signed.min()),
                float(metal_in.min()),
                diameter_in,
                (to_edge, WHOLE),
                cause=edge.name,
            )
    rivets = layout.holes_of("rivet")
    if rivets:
        off = points[:, None, :] - points_of(rivets)[None, :, :]
        apart_in = float(np.hypot(off[..., 0], off[..., 1]).min())
        larger_in = max(diameter_in, *(hole.diameter_in for hole in rivets))
        yield _apart(
            said("base_screws.to_rivet"),
            apart_in,
            apart_in,
            larger_in,
            (to_rivet, _TO_HOLE_WHOLE),
            cause="rivets",
        )


def _apart(
    subject: Said,
    distance_in: float,
    metal_in: float,
    diameter_in: float,
    asked: tuple[Cited, Cited],
    *,
    cause: str,
) -> Finding:
    """Judge the least distance of the base's screws; a hole without metal all around stops."""
    per = ("D", diameter_in, "in")
    measure = Measure("distance", distance_in, per=per)
    apart = Judgement(measure, (bound(asked[0], diameter_in, "D"),), fails_as=Status.CAUTION)
    whole = Judgement(Measure("distance", metal_in, per=per), (bound(asked[1], diameter_in, "D"),))
    broken = whole.status is not Status.PASS
    advice = (said("base_screws.breaks_out"),) if broken else ()
    return held(whole if broken else apart, subject, *advice, ASK, cause=cause)
