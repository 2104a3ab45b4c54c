"""S6xx: the cover under air load, and its screws."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from functools import partial

import numpy as np
from msgspec import Struct

from hatchwright.errors import HatchwrightError
from hatchwright.ground import Ground
from hatchwright.job.loads import CoverLoads
from hatchwright.layout.layout import Hole, points_of
from hatchwright.said import Numbered, Said, inch, said
from hatchwright.strength.bearing import bearing_strength
from hatchwright.strength.checks.sheets import LEVELS, at_level
from hatchwright.strength.comparison import strength_code
from hatchwright.strength.cover_plate import (
    SCREW_MODULUS_PSI,
    CoverPath,
    drawn_load,
    plate_edge_reaction,
    plate_moment,
    plate_stress,
)
from hatchwright.strength.doubler_section import doubler_section
from hatchwright.strength.factors import Factors
from hatchwright.strength.family import Family, entries_of, told_of
from hatchwright.strength.load_case import Case
from hatchwright.strength.load_sharing import Strip, flexibility
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.rivet_joint import lowest
from hatchwright.strength.site import SheetPart, Site, finished_hole_in, section_width_in
from hatchwright.strength.worked import Worked, inputs, strength_of, work_out
from hatchwright.workings import Grade, Source

_OF_JOB = Ground(Source("JOB-FILE", "loads.cover"), Grade.SHOP)

S601 = strength_code("S601", "cover", theory="cover")
S602 = strength_code("S602", "cover", theory="cover")
S603 = strength_code("S603", "cover", "doubler", theory="cover")
S604 = strength_code("S604", "cover", "doubler", theory="cover")


class ScrewStrength(Struct, frozen=True):
    """What each of some cover screws may carry at ultimate load.

    Args:
        value: the lowest of shear and of bearing in each sheet, None where it could not be computed [lbf].
        enter: entries of the job that would mend it.
    """

    value: Worked | None
    why: tuple[Said | str, ...] = ()
    enter: tuple[str, ...] = ()


def cover_margins(site: Site, cases: tuple[Case, ...], factors: Factors) -> Iterator[Family[Margin]]:
    """Margins of the cover and of its screws.

    Yields:
        Family: S601 plate under air load, S602 screws in tension, S603 and S604 screws
            under the load that the cover draws, without clearance and centered in their holes.
    Method: docs/theory/cover.md.
    """
    cover = site.cover
    screws = site.layout.holes_of("screw")
    if cover is None or len(screws) < 3:
        return
    given = site.layout.job.loads.cover
    if given.air_pressure is not None:
        yield Family("cover", partial(_air_load, site, cover, screws, given, factors))
    if site.doubler:
        for case in cases:
            for axis in (0, 1):
                if case.along(axis).value > 0 and not case.is_restored:
                    yield Family("cover", partial(_drawn, site, cover, screws, case, axis, factors))


def _air_load(
    site: Site, cover: SheetPart, screws: tuple[Hole, ...], given: CoverLoads, factors: Factors
) -> Iterator[Margin]:
    name = said("case.air_load")
    pressure = abs(float(given.air_pressure or 0.0))
    width_in, height_in = np.ptp(points_of(screws), axis=0).tolist()
    sides_in = width_in, height_in
    nu = cover.allowed.poisson_ratio
    moment = plate_moment(sides_in=sides_in, pressure_psi=pressure, poisson_ratio=nu)
    stress = plate_stress(moment, thickness_in=cover.thickness_in)
    for level, symbol in LEVELS:
        allowed, applied = strength_of(cover.allowed, symbol), at_level(stress, level, factors)
        yield Margin(S601, said("S601.subject"), name, level, applied, allowed)
    reaction = plate_edge_reaction(sides_in=sides_in, pressure_psi=pressure)
    pitch_in = max(math.dist(a.place, b.place) for a, b in itertools.pairwise((*screws, screws[0])))
    pull_lbf = reaction.value * pitch_in * factors.screws.value
    spacing = inputs("in", spacing=pitch_in)
    pull = work_out(pull_lbf, "T each = V spacing FF [lbf]", reaction, *spacing, factors.screws)
    strength = _of_screw("T screw", given.screw_tension, said("working.screw_tension"))
    why = () if strength else (said("S602.enter_tension"),)
    enter = () if strength else ("loads.cover.screw_tension",)
    subject = said("S602.subject")
    yield Margin(S602, subject, name, Level.ULTIMATE, pull, strength, why, enter=enter)


def _of_screw(symbol: str, value: float | None, note: Said) -> Worked | None:
    if value is None:
        return None
    return work_out(float(value), f"{symbol} [lbf]", by=_OF_JOB, note=note)


def _drawn(
    site: Site, cover: SheetPart, screws: tuple[Hole, ...], case: Case, axis: int, factors: Factors
) -> Iterator[Margin]:
    doubler = site.doubler
    assert doubler is not None  # asked for only with a doubler
    letter = "XY"[axis]
    center_in = site.layout.center_in
    on_side = [hole for hole in screws if (hole.x_in, hole.y_in)[axis] > center_in[axis]]
    if not on_side:
        return
    section = doubler_section(site, axis)
    width_in, holes_in = section.width_in, section.holes_in
    across_in = section_width_in(cover.part.edges[0].loop, axis=axis, at_in=center_in[axis])
    path = CoverPath(
        length_in=site.opening_in[axis],
        doubler_lbf=doubler.allowed.e_psi * doubler.thickness_in * max(width_in - sum(holes_in), 1e-6),
        cover_lbf=cover.allowed.e_psi * cover.thickness_in * across_in,
        screws=len(on_side),
        flexibility=flexibility(
            "huth",
            Strip(cover.thickness_in, across_in, cover.allowed.e_psi),
            Strip(doubler.thickness_in, width_in, doubler.allowed.e_psi),
            diameter_in=on_side[0].diameter_in,
            fastener_modulus_psi=SCREW_MODULUS_PSI,
            kind="bolt",
        ),
    )
    direct = case.along(axis)
    cut_in = site.opening_in[1 - axis]
    load = work_out(direct.value * cut_in, "P = N cut [lbf]", direct, *inputs("in", cut=cut_in))
    strength = screw_strength(site, on_side)
    hole_in = max(finished_hole_in(site, hole) for hole in on_side)
    clearance_in = max(0.0, (hole_in - on_side[0].diameter_in) / 2)
    n, special = float(len(on_side)), factors.screws
    for code, slack_in, subject in (
        (S603, 0.0, said("S603.subject", axis=letter)),
        (S604, clearance_in, said("S604.subject", axis=letter, hole=inch(hole_in, fine=True))),
    ):
        drawn = drawn_load(path, load_lbf=load.value, clearance_in=slack_in)
        each_lbf = drawn.value / n * special.value
        each = work_out(each_lbf, "P screw = P cover / n FF [lbf]", load, drawn, *inputs("", n=n), special)
        yield Margin(
            code, subject, case.name, Level.ULTIMATE, each, strength.value, strength.why, enter=strength.enter
        )


def screw_strength(site: Site, screws: Sequence[Hole]) -> ScrewStrength:
    """What each of some cover screws may carry at ultimate load."""
    given = site.layout.job.loads.cover
    shear = _of_screw("P screw shear", given.screw_shear, said("working.screw_shear"))
    if shear is None:
        return ScrewStrength(None, (said("S603.enter_shear"),), ("loads.cover.screw_shear",))
    found = [shear]
    try:
        for hole in screws:
            for name in hole.stack:
                sheet = site.sheets[name]
                found.append(
                    bearing_strength(
                        sheet.allowed,
                        sheet=name,
                        thickness_in=sheet.thickness_in,
                        hole_in=hole.diameter_in,
                        diameter_in=hole.diameter_in,
                        edge_in=site.edge_in[name, hole.number],
                        shop=site.shop,
                    )
                )
    except HatchwrightError as error:
        screw = Numbered("screw", (hole.number,))
        return ScrewStrength(
            None, (said("S603.screw_at_fault", screw=screw), *told_of(error)), entries_of(error)
        )
    return ScrewStrength(lowest("P one", *found))
