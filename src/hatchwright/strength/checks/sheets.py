"""S3xx: net sections of skin and doubler, tear-out, and the metal put back."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from hatchwright.finding import Finding, held, stated
from hatchwright.judged import Bound, Judgement, Measure, Status
from hatchwright.layout.cut_side import CutSide, RivetRow
from hatchwright.layout.layout import Hole
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Amount, Numbered, said
from hatchwright.strength.checks.rivets import side_load
from hatchwright.strength.factors import Factors
from hatchwright.strength.load_case import Case
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.net_section import (
    row_efficiency,
    row_running_strength,
    strap_shear_strength,
    strap_strength,
)
from hatchwright.strength.site import SheetPart, Site, finished_hole_in, section_width_in
from hatchwright.strength.tear_out import tear_out_strength
from hatchwright.strength.worked import Worked, work_out
from hatchwright.workings import Grade, Quantity, Source

_THEORY = "docs/theory/net_section.md"

S301 = enter(Entry("S301", Shelf.HOLDS, reads=("loads", "rows", "skin"), theory=_THEORY))
S302 = enter(Entry("S302", Shelf.HOLDS, reads=("loads", "rows", "doubler", "opening"), theory=_THEORY))
S303 = enter(Entry("S303", Shelf.HOLDS, reads=("loads", "rows", "doubler", "opening"), theory=_THEORY))
S304 = enter(Entry("S304", Shelf.HOLDS, reads=("loads", "edges"), theory="docs/theory/bearing.md"))
S305 = enter(Entry("S305", Shelf.KNOW, reads=("loads", "rows", "skin"), theory=_THEORY))
S306 = enter(Entry("S306", Shelf.HOLDS, reads=("loads", "doubler", "opening", "skin"), theory=_THEORY))

_LEVELS = ((Level.ULTIMATE, False), (Level.LIMIT, True))


def sheet_margins(site: Site, cases: tuple[Case, ...], factors: Factors) -> Iterator[Margin]:
    """Margins of skin and doubler.

    Args:
        site: with sheets and sides.
    Yields:
        Margin: S301 skin at its first row, S302 doubler across the opening, S303 doubler in shear, S304 tear-out.
    Method: docs/theory/net_section.md.
    """
    for case in cases:
        for side in site.sides:
            if not case.is_restored:
                yield from _first_row(site, side, case, factors)
            yield from _tear_out(site, side, case, factors)
        if site.doubler:
            yield from _straps(site, site.doubler, case, factors)


def _first_row(site: Site, side: CutSide, case: Case, factors: Factors) -> Iterator[Margin]:
    direct = case.along(side.axis)
    outer = _outermost(side)
    if direct.value <= 0 or outer is None or outer.pitch_in is None:
        return
    hole_in = max(finished_hole_in(site, hole) for hole in outer.holes)
    for level, at_yield in _LEVELS:
        allowed = row_running_strength(
            site.skin.allowed,
            thickness_in=site.skin.thickness_in,
            pitch_in=outer.pitch_in,
            hole_in=hole_in,
            at_yield=at_yield,
        )
        applied = at_level(direct, level, factors)
        yield Margin(S301.code, said("S301.subject", side=side.name), case.name, level, applied, allowed)


def _outermost(side: CutSide) -> RivetRow | None:
    return side.rows[-1] if side.rows else None


def at_level(load: Worked, level: Level, factors: Factors) -> Worked:
    """A load at ultimate as it is, at limit divided by the factor of safety.

    Args:
        load: ultimate.
    Returns:
        Worked: in the unit of the load.
    """
    if level is Level.ULTIMATE:
        return load
    safety = factors.of_safety
    return work_out(
        load.value / safety.value, load.unit, f"{load.symbol} limit", f"{load.symbol} / f", load, safety
    )


def _straps(site: Site, doubler: SheetPart, case: Case, factors: Factors) -> Iterator[Margin]:
    for axis, letter in ((0, "X"), (1, "Y")):
        direct = case.along(axis)
        if not direct.value and not case.q.value:
            continue
        width_in, holes_in = doubler_section(site, axis)
        cut_in = site.opening_in[1 - axis]
        cut = Quantity("cut", cut_in, "in")
        if direct.value:
            load = work_out(abs(direct.value) * cut_in, "lbf", "P", "|N| cut", direct, cut)
            for level, strength in _strap_levels(compressed=direct.value < 0):
                strap = strap_strength(
                    doubler.allowed,
                    thickness_in=doubler.thickness_in,
                    width_in=width_in,
                    holes_in=holes_in,
                    strength=strength,
                )
                yield Margin(
                    S302.code,
                    said("S302.subject", axis=letter),
                    case.name,
                    level,
                    at_level(load, level, factors),
                    strap,
                    (said("ask.disposition"),) if strap.value < load.value else (),
                )
        if case.q.value:
            load = work_out(abs(case.q.value) * cut_in, "lbf", "P", "|q| cut", case.q, cut)
            sheared = strap_shear_strength(
                doubler.allowed, thickness_in=doubler.thickness_in, width_in=width_in, holes_in=holes_in
            )
            yield Margin(
                S303.code,
                said("S303.subject", axis=letter),
                case.name,
                Level.ULTIMATE,
                load,
                sheared,
            )


def _strap_levels(*, compressed: bool) -> tuple[tuple[Level, Literal["Ftu", "Fty", "Fcy"]], ...]:
    """In compression yield ends it, so that alone is asked, at ultimate load."""
    return ((Level.ULTIMATE, "Fcy"),) if compressed else ((Level.ULTIMATE, "Ftu"), (Level.LIMIT, "Fty"))


def doubler_section(site: Site, axis: int) -> tuple[float, tuple[float, ...]]:
    """The doubler's section across the middle of the opening.

    Args:
        site: with a doubler.
        axis: the load runs along it, 0 for X, 1 for Y.
    Returns:
        tuple: width of metal on both sides together, and the holes that the section is taken to cut: one of every row
            that crosses it, whether a hole stands on the section or beside it [in].
    """
    doubler = site.doubler
    assert doubler is not None  # asked for only with a doubler
    at_in = site.layout.center_in[axis]
    width_in = sum(
        section_width_in(edge.loop, axis=axis, at_in=at_in) * (1.0 if edge.metal_inside else -1.0)
        for edge in doubler.part.edges
    )
    rows: dict[tuple[str, bool], list[Hole]] = {}
    for hole in site.layout.holes:
        if "doubler" in hole.stack:
            place = (hole.x_in, hole.y_in)
            rows.setdefault((hole.row, place[1 - axis] > site.layout.center_in[1 - axis]), []).append(hole)
    cut = []
    for holes in rows.values():
        places = [(hole.x_in, hole.y_in)[axis] for hole in holes]
        if min(places) <= at_in <= max(places):
            cut.append(max(finished_hole_in(site, hole) for hole in holes))
    return width_in, tuple(cut)


def _tear_out(site: Site, side: CutSide, case: Case, factors: Factors) -> Iterator[Margin]:
    if not side.rivets or not (case.along(side.axis).value or case.q.value):
        return
    load = side_load(side, case, factors)
    each = work_out(
        load.value / len(side.rivets), "lbf", "P each", "P / n", load,
        Quantity("n", float(len(side.rivets)), ""),
    )  # fmt: skip
    weakest: tuple[Worked, Hole] | None = None
    for hole in side.rivets:
        for name in hole.stack:
            sheet = site.sheets[name]
            found = tear_out_strength(
                sheet.allowed,
                sheet=name,
                thickness_in=sheet.thickness_in,
                hole_in=finished_hole_in(site, hole),
                edge_in=site.edge_in[name, hole.number],
            )
            if weakest is None or found.value < weakest[0].value:
                weakest = found, hole
    if weakest:
        strength, hole = weakest
        subject = said("S304.subject", side=side.name, rivet=Numbered("rivet", (hole.number,)))
        yield Margin(S304.code, subject, case.name, Level.ULTIMATE, each, strength, (), (hole.number,))


def sheet_findings(site: Site, cases: tuple[Case, ...]) -> Iterator[Finding]:
    """What is compared but has no margin: net section on the restore basis, and metal put back.

    Args:
        site: with sheets and sides.
    Yields:
        Finding: S305 efficiency of the first row, S306 metal of the doubler against metal removed.
    """
    if any(case.is_restored for case in cases):
        for side in site.sides:
            outer = _outermost(side)
            if outer and outer.pitch_in:
                hole_in = max(finished_hole_in(site, hole) for hole in outer.holes)
                left = row_efficiency(pitch_in=outer.pitch_in, hole_in=hole_in)
                yield stated(
                    S305.code,
                    Status.CAUTION,
                    said(
                        "S305.subject", side=side.name, share=Amount(100.0 * left.value, "%", toward="down")
                    ),
                    source=Source("STATICS"),
                    grade=Grade.COMPUTED,
                    value=left.value,
                    working=left.working,
                    advice=(said("S305.compare"),),
                )
    if site.doubler is None:
        return
    short = Status.STOP if any(case.is_restored for case in cases) else Status.CAUTION
    for axis, letter in ((0, "X"), (1, "Y")):
        width_in, _ = doubler_section(site, axis)
        removed = site.opening_in[1 - axis] * site.skin.thickness_in
        put_back = width_in * site.doubler.thickness_in
        ratio = work_out(
            put_back / removed, "", "ratio", "t doubler w doubler / (t skin cut)",
            Quantity("t doubler", site.doubler.thickness_in, "in"), Quantity("w doubler", width_in, "in"),
            Quantity("t skin", site.skin.thickness_in, "in"), Quantity("cut", site.opening_in[1 - axis], "in"),
            source=Source("AC43.13-1B", "par. 4-58k"), grade=Grade.PUBLISHED,
        )  # fmt: skip
        put = Measure("put back / removed", ratio.value, unit="")
        yield held(
            S306.code,
            Judgement(put, (Bound(1.0, ratio.source, ratio.grade),), fails_as=short, more=ratio.working),
            said("S306.subject", axis=letter),
            said("ask.disposition"),
        )
