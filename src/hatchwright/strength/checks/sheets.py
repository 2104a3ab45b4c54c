"""S3xx: net sections of skin and doubler, tear-out, and the metal put back."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Literal

from msgspec.structs import replace

from hatchwright.errors import HatchwrightError
from hatchwright.finding import Finding, held
from hatchwright.ground import Ground
from hatchwright.judged import Bound, Judgement, Measure, Status
from hatchwright.layout.cut_side import CutSide
from hatchwright.layout.layout import Hole
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.said import Amount, Value, inch, said
from hatchwright.strength.comparison import strength_code, told
from hatchwright.strength.doubler_section import DoublerSection, doubler_section, least_section
from hatchwright.strength.drawn_load import NOT_RUN, Load, PickUps, drawn_load, leg_share
from hatchwright.strength.factors import Factors
from hatchwright.strength.family import Family, told_of
from hatchwright.strength.load_case import Case
from hatchwright.strength.lost_width import first_row_lost_in
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.net_section import (
    ALL_OF_IT,
    row_efficiency,
    row_running_strength,
    strap_strength,
    together,
)
from hatchwright.strength.site import SheetPart, Site
from hatchwright.strength.worked import Worked, inputs, work_out
from hatchwright.workings import Grade, Source

S301 = strength_code("S301", "rows", "skin", theory="net_section")
S302 = strength_code("S302", "rows", "doubler", "opening", theory="net_section", cause="doubler_section")
S303 = strength_code("S303", "rows", "doubler", "opening", theory="net_section", cause="doubler_section")
S305 = strength_code("S305", "rows", "skin", theory="net_section", shelf=Shelf.KNOW)
S308 = strength_code("S308", "rows", "doubler", "opening", theory="net_section", cause="doubler_section")
S306 = strength_code("S306", "doubler", "opening", "skin", theory="net_section", cause="doubler_section")

_METAL = Ground(Source("AC43.13-1B", "par. 4-58k"), Grade.PUBLISHED)
LEVELS: tuple[tuple[Level, Literal["Ftu", "Fty"]], ...] = ((Level.ULTIMATE, "Ftu"), (Level.LIMIT, "Fty"))
"""What metal in tension is held to at each load."""
_COMPRESSED: tuple[tuple[Level, Literal["Fcy"]], ...] = ((Level.ULTIMATE, "Fcy"),)
"""In compression yield ends it, so that alone is asked, at ultimate load."""

_AT_THE_MIDDLE_IN = 1e-3
"""Nearer than a place is told to [in]."""


def sheet_margins(
    site: Site, cases: tuple[Case, ...], factors: Factors, picked_up: PickUps = NOT_RUN
) -> Iterator[Family[Margin]]:
    """Margins of skin and doubler.

    Args:
        picked_up: what the doubler carries by the finite elements.
    Yields:
        Family: S301 skin at its first row, S302 doubler across the opening, S303 doubler in shear, S308 both together.
    Method: docs/theory/net_section.md.
    """
    for case in cases:
        for side in site.sides:
            if not case.is_restored:
                yield Family("skin", partial(_first_row, site, side, case, factors))
        if site.doubler:
            yield Family("doubler", partial(_straps, site, site.doubler, case, factors, picked_up))


def _first_row(site: Site, side: CutSide, case: Case, factors: Factors) -> Iterator[Margin]:
    direct, skin, outer = case.along(side.axis), site.skin, side.rows[-1] if side.rows else None
    if direct.value <= 0 or outer is None or outer.pitch_in is None:
        return
    for level, symbol in LEVELS:
        allowed = row_running_strength(
            skin.allowed,
            thickness_in=skin.thickness_in,
            pitch_in=outer.pitch_in,
            hole_in=first_row_lost_in(site, outer),
            strength=symbol,
        )
        applied = at_level(direct, level, factors)
        yield Margin(S301, said("S301.subject", side=side.name), case.name, level, applied, allowed)


def at_level(load: Worked, level: Level, factors: Factors) -> Worked:
    """A load at ultimate as it is, at limit divided by the factor of safety."""
    if level is Level.ULTIMATE:
        return load
    equation = f"{load.symbol} limit = {load.symbol} / f [{load.unit}]"
    return work_out(load.value / factors.of_safety.value, equation, load, factors.of_safety)


def _straps(
    site: Site, doubler: SheetPart, case: Case, factors: Factors, picked_up: PickUps
) -> Iterator[Margin]:
    for axis in (0, 1):
        direct, shear = case.along(axis), case.q
        if not direct.value and not shear.value:
            continue
        cut_in = site.opening_in[1 - axis]
        shares = tuple(leg_share(site, axis, case, cut_in, leg) for leg in (0, 1))
        section = least_section(site, axis, (shares[0], shares[1]))
        for margin in _strap(site, doubler, section, axis, case, factors, picked_up):
            yield shown(margin, section.missing)


def _strap(
    site: Site,
    doubler: SheetPart,
    section: DoublerSection,
    axis: int,
    case: Case,
    factors: Factors,
    picked_up: PickUps,
) -> Iterator[Margin]:
    """The weakest section in tension or compression, in shear, and in both."""
    direct, shear, cut_in = case.along(axis), case.q, site.opening_in[1 - axis]
    load = partial(drawn_load, site, axis, case, cut_in=cut_in, picked_up=picked_up, leg=section.leg)
    carried = partial(
        strap_strength,
        doubler.allowed,
        thickness_in=doubler.thickness_in,
        width_in=section.width_in,
        holes_in=section.known_in,
    )
    holes = tuple(hole.number for hole in section.cut if isinstance(hole, Hole))
    where, told_with = _where(site, axis, section)
    levels = _COMPRESSED if direct.value < 0 else LEVELS
    if direct.value:
        subject = said(f"S302.{where}", **told_with)
        for level, symbol in levels:
            applied = at_level(load(Load.DIRECT), level, factors)
            yield Margin(S302, subject, case.name, level, applied, carried(strength=symbol), (), holes)
    if shear.value:
        subject, applied = said(f"S303.{where}", **told_with), load(Load.SHEAR)
        yield Margin(S303, subject, case.name, Level.ULTIMATE, applied, carried(strength="Fsu"), (), holes)
    if direct.value and shear.value:
        subject = said(f"S308.{where}", **told_with)
        for level, symbol in levels:
            used = together(
                at_level(load(Load.DIRECT), level, factors),
                at_level(load(Load.SHEAR), level, factors),
                strength=carried(strength=symbol),
                shear_strength=carried(strength="Fsu" if level is Level.ULTIMATE else "Fsy"),
            )
            yield Margin(S308, subject, case.name, level, used, ALL_OF_IT, (), holes)


def _where(site: Site, axis: int, section: DoublerSection) -> tuple[str, dict[str, Value]]:
    """Which section it is, across the middle of the opening or at a place along the load, and of both legs or one."""
    axis_told: dict[str, Value] = {"axis": "XY"[axis]}
    if section.leg is not None:
        side = f"{'YX'[axis]}{'+' if section.leg else '-'}"
        return "leg_subject", {**axis_told, "leg": side, "at": inch(section.at_in)}
    if abs(section.at_in - site.layout.center_in[axis]) < _AT_THE_MIDDLE_IN:
        return "subject", axis_told
    return "section_subject", {**axis_told, "at": inch(section.at_in)}


def shown(margin: Margin, missing: HatchwrightError | None) -> Margin:
    """A margin that leaves out a hole or sheet no table lists, which can only lower it: short without that it is short,
    all else is not shown.

    Args:
        missing: why that is left out, None where nothing is.
    """
    if missing is None:
        return margin
    if margin.status is Status.STOP:
        return replace(margin, advice=(said("strength.no_more_than_this"), ASK))
    return replace(margin, allowable=None, advice=told_of(missing))


def sheet_findings(site: Site) -> Iterator[Family[Finding]]:
    """What is compared but has no margin: net section on the restore basis, and metal put back.

    Yields:
        Family: S305 efficiency of the first row, S306 metal of the doubler against metal removed.
    """
    if site.layout.job.loads.basis == "restore":
        yield Family("skin", partial(_efficiencies, site))
    yield Family("doubler", partial(_put_back, site))


def _efficiencies(site: Site) -> Iterator[Finding]:
    for side in site.sides:
        outer = side.rows[-1] if side.rows else None
        if outer and outer.pitch_in:
            hole_in = first_row_lost_in(site, outer)
            left = row_efficiency(pitch_in=outer.pitch_in, hole_in=hole_in)
            share = Amount(100.0 * left.value, "%", toward="down")
            subject = said("S305.subject", side=side.name, share=share)
            yield told(S305, Status.CAUTION, subject, left, said("S305.compare"))


def _put_back(site: Site) -> Iterator[Finding]:
    if site.doubler is None:
        return
    is_restored = site.layout.job.loads.basis == "restore"
    short = Status.STOP if is_restored else Status.CAUTION
    skin_in, doubler_in = site.skin.thickness_in, site.doubler.thickness_in
    for axis, letter in enumerate("XY"):
        width_in = doubler_section(site, axis).width_in
        cut_in = site.opening_in[1 - axis]
        ratio = work_out(
            width_in * doubler_in / (cut_in * skin_in),
            "ratio = t doubler w doubler / (t skin cut)",
            *inputs("in", t_doubler=doubler_in, w_doubler=width_in, t_skin=skin_in, cut=cut_in),
            by=_METAL,
        )
        measured = Measure("put back / removed", ratio.value, unit="")
        judged = Judgement(
            measured, (Bound(1.0, _METAL.source, ratio.grade),), fails_as=short, more=ratio.working
        )
        yield held(S306, judged, said("S306.subject", axis=letter), ASK)
