"""What the finite elements say of a reinforced opening, case by case, with both flexibility formulas as a band."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import SolveError
from hatchwright.fem.analysis import analyze
from hatchwright.fem.bound import GridError, TwiceSolved, analyze_twice
from hatchwright.fem.buckling import Buckling, Panel, State, UncutPanel, panel
from hatchwright.fem.curve import Array
from hatchwright.fem.model import OpeningModel, Sheet
from hatchwright.fem.solution import Peak, Response, UnitSolution
from hatchwright.progress import Progress, in_parts, stretches, unheard
from hatchwright.said import Said, inch, said
from hatchwright.strength.cover_share import (
    Band,
    CoverFit,
    CoverShare,
    band_of,
    centered,
    cover_share,
    slides_in,
)
from hatchwright.strength.drawn_load import PickUps
from hatchwright.strength.fastener_load import FastenerLoad, SideShare, fastener_loads, side_shares
from hatchwright.strength.fem_model import fem_model
from hatchwright.strength.free_edge import FreeEdge, free_edges
from hatchwright.strength.load_case import Case
from hatchwright.strength.site import Site
from hatchwright.tables.strength_values import strength_value

STATES = (State.AS_IT_WAS, State.SHEETS_APART, State.SHEETS_TOGETHER)
"""What a report compares. The skin cut and not yet reinforced is never flown, and is left out."""

NO_SUPPORTS = said("S803.no_supports")
"""Why buckling cannot be looked for in a wide panel."""


class CaseAnalysis(Struct, frozen=True):
    """Answers for one load case at ultimate load, in one state of the cover.

    Args:
        response: the reinforced opening, by the formula of Huth.
        swift: the same by the formula of Swift.
        before: edge of the opening without doubler.
        after: edge of the opening with its doubler.
        edges: every free edge with the doubler, that of the opening first.
        pick_up_lbf: carried by the doubler across the middle of the opening, along X and along Y [lbf].
        drawn_lbf: direct and shear load that it carries there for a load along X, and for one along Y, the greater by
            both formulas [lbf].
        deflection_in: of the edge of the opening [in].
        buckling: by state, the cover idle; empty when it was not asked for, or nothing is compressed.
        cover: what the cover carries; None when it carries nothing.
        sides: what the rivets of each side that it loads hand over.
        not_buckled: why a state of a case that may buckle could not be looked at, None when all were.
    """

    case: Case
    response: Response
    swift: Response
    bare: Response
    rivets: tuple[FastenerLoad, ...]
    before: Peak
    after: Peak
    edges: tuple[FreeEdge, ...]
    pick_up_lbf: tuple[float, float]
    drawn_lbf: tuple[tuple[float, float], tuple[float, float]]
    deflection_in: float
    grid_error: GridError
    buckling: Mapping[State, Buckling]
    sides: tuple[SideShare, ...]
    cover: CoverShare | None = None
    not_buckled: Said | None = None

    @property
    def name(self) -> Said | str:
        """Name of the case, and how the screws sit when the cover carries."""
        if self.cover is None:
            return self.case.name
        return said("case.with_cover", case=self.case.name, fit=self.cover.fit)

    @property
    def apart(self) -> Buckling | None:
        """When the reinforced panel buckles, its sheets apart; None when it was not asked for."""
        return self.buckling.get(State.SHEETS_APART)

    @property
    def held(self) -> float:
        """Factor of the reinforced panel that a load is held to: sheets apart, the error of the grid off, and what they
        lose where they part between their rivets; nought where it was not looked for [-].

        Method: docs/theory/fem.md, section 7.
        """
        return (
            self.apart.lowered * (1.0 - strength_value("sheets_between_rivets").value) if self.apart else 0.0
        )

    @property
    def is_no_worse(self) -> bool:
        """Whether the reinforced panel, its sheets apart and its grid's error taken off, buckles no sooner than before.

        What it was is never taken too low. Only of a case that was looked at.
        """
        was = self.buckling.get(State.AS_IT_WAS)
        return bool(was and self.apart and math.isfinite(was.factor) and self.apart.lowered >= was.factor)

    @property
    def is_as_stable(self) -> bool:
        """Whether it does not buckle at ultimate load, or is no worse than it was."""
        return self.is_no_worse or self.held >= 1.0


class OpeningAnalysis(Struct, frozen=True, eq=False):
    """The finite-element analysis of one layout.

    Args:
        panel: what was taken as the panel.
        idle: reinforced, the cover carrying nothing.
        covered: reinforced, with a cover that carries, its screws without clearance; None when it carries nothing.
        cases: answers; each case twice when the cover carries, with its screws centered and without clearance.
    """

    panel: Said
    cautions: tuple[Said, ...]
    idle: TwiceSolved
    covered: TwiceSolved | None
    bare: UnitSolution
    cases: tuple[CaseAnalysis, ...]

    @property
    def picked_up(self) -> PickUps:
        """What the doubler carries across the middle of the opening, by known loads, the error of the grid added."""
        most: dict[tuple[Case, int], tuple[float, float]] = {}
        for found in self.cases:
            if not found.case.is_restored:
                grid = 1.0 + found.grid_error.fastener_ratio
                for axis, (direct_lbf, shear_lbf) in enumerate(found.drawn_lbf):
                    before_lbf = most.get((found.case, axis), (0.0, 0.0))
                    most[found.case, axis] = (
                        max(before_lbf[0], direct_lbf * grid),
                        max(before_lbf[1], shear_lbf * grid),
                    )
        return most


def analyze_opening(
    site: Site,
    cases: tuple[Case, ...],
    *,
    buckling: bool = True,
    like: OpeningAnalysis | None = None,
    progress: Progress = unheard,
) -> OpeningAnalysis:
    """Analyze a reinforced opening for every case.

    Args:
        buckling: whether to look for buckling too, which takes the most time.
        like: an earlier analysis; when only thicknesses and moduli differ its factorized sheets are used again.
        progress: told how far it is.
    Returns:
        OpeningAnalysis: with pictures still to be drawn from its solutions.
    Raises:
        SolveError: there is no doubler, or the model cannot be analyzed; it says what to change.
        TableError: the hole of a screw is not known, in a cover that carries.
    Method: docs/theory/fem.md.
    """
    if site.doubler is None:
        raise SolveError.saying("strength.no_doubler", where="doubler")
    model = fem_model(site)
    solving, buckles, judging = stretches(progress, 2.0, 3.0, 2.0)
    solving(0.0, said("progress.grids"))
    idle, covered, bare = _solved(model, like)
    plates, refusal = _plates(site, idle.fine, buckles) if buckling else ({}, None)
    band = band_of(covered, CoverFit.TIGHT) if covered else band_of(idle)
    slide_in, cells = slides_in(site, model), site.cells
    wide = said("panel.wide")
    return OpeningAnalysis(
        panel=said("panel.bay", width=inch(cells.width_in), height=inch(cells.height_in)) if cells else wide,
        cautions=band.huth.fine.cautions,
        idle=idle,
        covered=covered,
        bare=bare,
        cases=tuple(
            _case(site, case, one, bare, plates, refusal)
            for case in _told(cases, judging)
            # Both bounds of the clearance where a cover carries, since neither is the worse for everything.
            for one in ((centered(band, case.load_lbf_in, slide_in), band) if band.fit else (band,))
        ),
    )


def _told(cases: tuple[Case, ...], progress: Progress) -> Iterator[Case]:
    for number, (case, mine) in enumerate(in_parts(cases, progress), start=1):
        mine(0.0, said("progress.case", case=case.name, number=number, all=len(cases)))
        yield case


def buckled(analysis: OpeningAnalysis | None, case: Case) -> CaseAnalysis | None:
    """The answer for a case in which buckling of the reinforced panel was looked at, None where it was not."""
    cases = analysis.cases if analysis else ()
    return next((one for one in cases if one.case is case and one.apart), None)


def _solved(
    model: OpeningModel, like: OpeningAnalysis | None
) -> tuple[TwiceSolved, TwiceSolved | None, UnitSolution]:
    """Reinforced with the cover idle and carrying, and bare. Compliance goes with 1 / (E t), so a known geometry is
    not solved again.
    """
    carrying = replace(model, cover_carries=True) if model.cover else None
    opened = replace(model, doublers=(), fasteners=(), cover=None)
    if like is None or not _same_geometry(model, like.idle.fine.model):
        return analyze_twice(model), analyze_twice(carrying) if carrying else None, analyze(opened)
    covered = like.covered.changed(carrying) if carrying and like.covered else None
    return like.idle.changed(model), covered, like.bare.changed(model=opened)


def _same_geometry(one: OpeningModel, other: OpeningModel) -> bool:
    def shape(sheet: Sheet | None) -> tuple[object, ...]:
        return (sheet.name, sheet.outer, sheet.inner, sheet.poisson_ratio) if sheet else ()

    return one.fasteners == other.fasteners and [shape(s) for s in (*one.sheets, one.cover)] == [
        shape(s) for s in (*other.sheets, other.cover)
    ]


def _plates(
    site: Site, unit: UnitSolution, progress: Progress
) -> tuple[dict[State, Panel | UncutPanel], Said | None]:
    """The panel in every state that could be had, and why another could not."""
    plates: dict[State, Panel | UncutPanel] = {}
    refusals = []
    for state, mine in in_parts(STATES, progress):
        mine(0.0, said("progress.buckling", state=said(f"state.{state.value}")))
        apart = plates.get(State.SHEETS_APART)
        try:
            plates[state] = panel(unit, state, like=apart if isinstance(apart, Panel) else None)
        except SolveError as error:
            refusals.append(said("S803.not_looked_for", why=str(error)))
    if refusals and site.cells is None:
        refusals = [NO_SUPPORTS]
    return plates, refusals[0] if refusals else None


def _case(
    site: Site,
    case: Case,
    band: Band,
    bare: UnitSolution,
    plates: Mapping[State, Panel | UncutPanel],
    refusal: Said | None,
) -> CaseAnalysis:
    nx, ny, q = case.load_lbf_in.tolist()
    response, swift, cut = (
        unit.combine(nx_lbf_in=nx, ny_lbf_in=ny, q_lbf_in=q) for unit in (band.huth.fine, band.swift, bare)
    )
    once = band.fit is not CoverFit.TIGHT  # buckling gives the cover no credit, however its screws sit
    x, y = np.reshape(site.layout.opening.bounds, (2, 2)).mean(axis=0).tolist()
    along_x, along_y = _across_the_middle(response, x, y)
    swift_x, swift_y = map(np.abs, _across_the_middle(swift, x, y))
    (direct_x, shear_x), (shear_y, direct_y) = (
        np.maximum(np.abs(along_x), swift_x).tolist(),
        np.maximum(np.abs(along_y), swift_y).tolist(),
    )
    rivets = fastener_loads(response, swift, "rivet")
    error = band.huth.grid_error(nx_lbf_in=nx, ny_lbf_in=ny, q_lbf_in=q)
    return CaseAnalysis(
        case=case,
        response=response,
        swift=swift,
        bare=cut,
        rivets=rivets,
        before=cut.edge().peak,
        after=response.edge().peak,
        edges=tuple(free_edges(band.huth, response, error.edge_ratio)),
        pick_up_lbf=(float(along_x[0]), float(along_y[1])),
        drawn_lbf=((direct_x, shear_x), (direct_y, shear_y)),
        deflection_in=response.deflection_in,
        grid_error=error,
        buckling=_buckling(case, plates) if once else {},
        sides=side_shares(site, case, rivets),
        not_buckled=refusal if once and case.may_buckle else None,
        cover=cover_share(band.fit, response, swift, center_in=(x, y)) if band.fit else None,
    )


def _across_the_middle(response: Response, x_in: float, y_in: float) -> tuple[Array, Array]:
    """Force that the doubler carries across a section at x, and across one at y, each shape (2,) [lbf]."""
    unit, load_lbf_in = response.unit, response.load_lbf_in
    return (
        unit.pick_up_in("doubler", x_in=x_in) @ load_lbf_in,
        unit.pick_up_in("doubler", y_in=y_in) @ load_lbf_in,
    )


def _buckling(case: Case, plates: Mapping[State, Panel | UncutPanel]) -> dict[State, Buckling]:
    """On the restore basis the direct load is turned round, so that the same compression is asked of every
    state.
    """
    if not case.may_buckle:
        return {}
    load_lbf_in = case.load_lbf_in * ([-1.0, -1.0, 1.0] if case.is_restored else 1.0)
    found: dict[State, Buckling] = {}
    for state, plate in plates.items():
        apart = found.get(State.SHEETS_APART)
        found[state] = (
            plate.buckle(load_lbf_in, like=apart.mode)
            if apart and isinstance(plate, Panel)
            else plate.buckle(load_lbf_in)
        )
    return found
