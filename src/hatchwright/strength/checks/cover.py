"""S6xx: the cover under air load, and its screws."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

from hatchwright.errors import HatchwrightError
from hatchwright.job.loads import CoverLoads
from hatchwright.layout.layout import Hole
from hatchwright.strength.bearing import bearing_strength
from hatchwright.strength.checks.sheets import at_level, doubler_section
from hatchwright.strength.cover_plate import plate_edge_reaction, plate_moment, plate_stress
from hatchwright.strength.cover_screws import SCREW_MODULUS_PSI, CoverPath, drawn_load
from hatchwright.strength.factors import Factors
from hatchwright.strength.load_case import Case
from hatchwright.strength.load_sharing import Strip, flexibility
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.rivet_joint import lowest
from hatchwright.strength.site import SheetPart, Site, finished_hole_in, section_width_in
from hatchwright.strength.worked import Worked, work_out
from hatchwright.workings import Grade, Quantity, Source

_OF_JOB = Source("JOB-FILE", "loads.cover")


def cover_margins(site: Site, cases: tuple[Case, ...], factors: Factors) -> Iterator[Margin]:
    """Margins of the cover and of its screws.

    Args:
        site: with a cover, or without one.
    Yields:
        Margin: S601 plate under air load, S602 screws in tension, S603 and S604 screws
            under the load that the cover draws, without clearance and centered in their holes.
    Method: docs/theory/cover.md.
    """
    cover = site.cover
    screws = site.layout.holes_of("screw")
    if cover is None or len(screws) < 3:
        return
    given = site.layout.job.loads.cover
    if given.air_pressure is not None:
        yield from _air_load(site, cover, screws, given, factors)
    if site.doubler:
        for case in cases:
            for axis in (0, 1):
                if case.along(axis).value > 0 and not case.is_restored:
                    yield from _drawn(site, cover, screws, case, axis, factors)


def _air_load(
    site: Site, cover: SheetPart, screws: tuple[Hole, ...], given: CoverLoads, factors: Factors
) -> Iterator[Margin]:
    name = "air load on the cover"
    pressure = abs(float(given.air_pressure or 0.0))
    sides_in = _span(screws)
    nu = cover.allowed.poisson_ratio
    moment = plate_moment(sides_in=sides_in, pressure_psi=pressure, poisson_ratio=nu)
    stress = plate_stress(moment, thickness_in=cover.thickness_in)
    for level, symbol, allowed_psi in (
        (Level.ULTIMATE, "Ftu", cover.allowed.ftu_psi),
        (Level.LIMIT, "Fty", cover.allowed.fty_psi),
    ):
        allowed = work_out(
            allowed_psi,
            "psi",
            symbol,
            "lower of L and LT",
            source=cover.allowed.source,
            grade=cover.allowed.grade,
        )
        yield Margin("S601", "cover in bending", name, level, at_level(stress, level, factors), allowed)
    reaction = plate_edge_reaction(sides_in=sides_in, pressure_psi=pressure)
    pitch_in = _greatest_gap(screws)
    pull = work_out(
        reaction.value * pitch_in * factors.screws.value, "lbf", "T each", "V x greatest spacing x FF", reaction,
        Quantity("spacing", pitch_in, "in"), factors.screws,
    )  # fmt: skip
    strength = _of_screw("T screw", given.screw_tension, "ultimate tension of screw and nut, given")
    advice = "" if strength else "Give loads.cover.screw_tension from the standard of screw and nut."
    yield Margin("S602", "cover screws in tension", name, Level.ULTIMATE, pull, strength, advice)


def _of_screw(symbol: str, value: float | None, text: str) -> Worked | None:
    if value is None:
        return None
    return work_out(float(value), "lbf", symbol, text, source=_OF_JOB, grade=Grade.SHOP)


def _span(screws: tuple[Hole, ...]) -> tuple[float, float]:
    x, y = [hole.x_in for hole in screws], [hole.y_in for hole in screws]
    return max(x) - min(x), max(y) - min(y)


def _greatest_gap(screws: tuple[Hole, ...]) -> float:
    ring = (*screws, screws[0])
    return max(math.hypot(a.x_in - b.x_in, a.y_in - b.y_in) for a, b in itertools.pairwise(ring))


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
    width_in, holes_in = doubler_section(site, axis)
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
    load = work_out(
        direct.value * site.opening_in[1 - axis], "lbf", "P", "N x cut", direct,
        Quantity("cut", site.opening_in[1 - axis], "in"),
    )  # fmt: skip
    allowed, advice = screw_strength(site, on_side)
    hole_in = max(finished_hole_in(site, hole) for hole in on_side)
    clearance_in = max(0.0, (hole_in - on_side[0].diameter_in) / 2)
    for code, slack_in, how in (
        ("S603", 0.0, "without clearance"),
        ("S604", clearance_in, f"centred in holes of {hole_in:.4f} in"),
    ):
        drawn = drawn_load(path, load_lbf=load.value, clearance_in=slack_in)
        each = work_out(
            drawn.value / len(on_side) * factors.screws.value, "lbf", "P screw", "P cover / n x FF", load, drawn,
            Quantity("n", float(len(on_side)), ""), factors.screws,
        )  # fmt: skip
        subject = f"cover screws {how}, drawn load along {letter}"
        yield Margin(code, subject, case.name, Level.ULTIMATE, each, allowed, advice)


def screw_strength(site: Site, screws: Sequence[Hole]) -> tuple[Worked | None, str]:
    """What each of some cover screws may carry at ultimate load.

    Args:
        site: with the job, which gives the shear of one screw.
    Returns:
        tuple: the lowest of shear and of bearing in each sheet [lbf], None when it cannot be had; and then why.
    """
    given = site.layout.job.loads.cover
    shear = _of_screw("P screw shear", given.screw_shear, "ultimate shear of one screw, given")
    if shear is None:
        return (
            None,
            "Give loads.cover.screw_shear from the standard of the screw, or leave clearance in the cover.",
        )
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
        return None, f"Screw {hole.number}: {error}."
    return lowest("P one", *found), ""
