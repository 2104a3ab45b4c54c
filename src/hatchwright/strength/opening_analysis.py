"""What the finite elements say of a reinforced opening, case by case, with both flexibility formulas as a band."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

import numpy as np

from hatchwright.errors import SolveError
from hatchwright.fem import OpeningModel, Response, Sheet, UnitSolution, analyse
from hatchwright.fem.bound import GridError, TwiceSolved, analyse_twice
from hatchwright.fem.buckling import Panel, State, panel
from hatchwright.strength.fem_model import fem_model
from hatchwright.strength.load_case import Case
from hatchwright.strength.site import Site


@dataclass(frozen=True, slots=True)
class RivetLoad:
    """Load of one rivet.

    Args:
        number: of the hole.
        x_lbf: force on the doubler along X, by the formula of Huth [lbf].
        y_lbf: force on the doubler along Y, by the formula of Huth [lbf].
        huth_lbf: size of the load by the formula of Huth [lbf].
        swift_lbf: size of the load by the formula of Swift [lbf].
    """

    number: int
    x_lbf: float
    y_lbf: float
    huth_lbf: float
    swift_lbf: float

    @property
    def greater_lbf(self) -> float:
        """The greater of the two [lbf]."""
        return max(self.huth_lbf, self.swift_lbf)


@dataclass(frozen=True, slots=True)
class EdgePeak:
    """Greatest stress along the edge of the opening, with its sign [psi], and its place [in]."""

    stress_psi: float
    place_in: tuple[float, float]


@dataclass(frozen=True, slots=True)
class BucklingFactor:
    """How many times a load buckles the panel in one state; infinite when it cannot [-]."""

    state: State
    factor: float
    grid_error_ratio: float


@dataclass(frozen=True, slots=True)
class CaseAnalysis:
    """Answers for one load case at ultimate load.

    Args:
        case: the case.
        rivets: loads of all rivets.
        before: edge of the opening without doubler.
        after: edge of the opening with its doubler.
        pick_up_lbf: carried by the doubler across the middle of the opening, along X and along Y [lbf].
        deflection_in: of the edge of the opening [in].
        grid_error: by how much two grids differ.
        buckling: by state; empty when it was not asked for, or nothing is compressed.
    """

    case: Case
    rivets: tuple[RivetLoad, ...]
    before: EdgePeak
    after: EdgePeak
    pick_up_lbf: tuple[float, float]
    deflection_in: float
    grid_error: GridError
    buckling: tuple[BucklingFactor, ...]

    def buckling_factor(self, state: State) -> BucklingFactor | None:
        """The factor of one state, or None."""
        return next((one for one in self.buckling if one.state is state), None)


@dataclass(frozen=True, slots=True, eq=False)
class OpeningAnalysis:
    """The finite-element analysis of one layout.

    Args:
        panel: what was taken as the panel, in words.
        cautions: what makes the answer less sure.
        numbers: of the rivets, in the order of the model.
        solved: reinforced, by the formula of Huth, on two grids.
        swift: reinforced, by the formula of Swift.
        bare: the opening without doubler.
        cases: answers.
    """

    panel: str
    cautions: tuple[str, ...]
    numbers: tuple[int, ...]
    solved: TwiceSolved
    swift: UnitSolution
    bare: UnitSolution
    cases: tuple[CaseAnalysis, ...]

    def response(self, case: Case) -> Response:
        """The reinforced opening under a case, by the formula of Huth."""
        return _combined(self.solved.fine, case)


def analyse_opening(
    site: Site,
    cases: tuple[Case, ...],
    *,
    missing: Collection[int] = (),
    buckling: bool = True,
    like: OpeningAnalysis | None = None,
) -> OpeningAnalysis:
    """Analyse a reinforced opening for every case.

    Args:
        site: derived from a layout.
        cases: of the job.
        missing: numbers of rivets that are left out.
        buckling: whether to look for buckling too, which takes the most time.
        like: an earlier analysis; when only thicknesses and moduli differ its factorised sheets are used again.
    Returns:
        OpeningAnalysis: with pictures still to be drawn from its solutions.
    Raises:
        SolveError: there is no doubler, or the model cannot be analysed; it says what to change.
    Method: docs/theory/fem.md.
    """
    if site.doubler is None:
        raise SolveError("there is no doubler to analyse", where="doubler", remedy="Add one")
    model = fem_model(site, missing=missing)
    solved, bare = _solved(model, like)
    swift = solved.fine.changed(formula="swift")
    numbers = tuple(int(fastener.name.removeprefix("rivet ")) for fastener in model.fasteners)
    plates = _plates(solved.fine) if buckling else {}
    return OpeningAnalysis(
        panel=_panel_words(site),
        cautions=solved.fine.cautions,
        numbers=numbers,
        solved=solved,
        swift=swift,
        bare=bare,
        cases=tuple(_case(site, case, numbers, solved, swift, bare, plates) for case in cases),
    )


def _solved(model: OpeningModel, like: OpeningAnalysis | None) -> tuple[TwiceSolved, UnitSolution]:
    """Reinforced on two grids, and bare. Compliance goes with 1 / (E t), so a known geometry is not solved again."""
    if like is None or not _same_geometry(model, like.solved.fine.model):
        return analyse_twice(model), analyse(replace(model, doublers=(), fasteners=()))
    thickness = {sheet.name: sheet.thickness_in for sheet in model.sheets}
    modulus = {sheet.name: sheet.modulus_psi for sheet in model.sheets}
    fine, coarse = (
        unit.changed(thickness_in=thickness, modulus_psi=modulus)
        for unit in (like.solved.fine, like.solved.coarse)
    )
    name = model.skin.name
    bare = like.bare.changed(thickness_in={name: thickness[name]}, modulus_psi={name: modulus[name]})
    return TwiceSolved(fine, coarse), bare


def _same_geometry(one: OpeningModel, other: OpeningModel) -> bool:
    def shape(sheet: Sheet) -> tuple[object, ...]:
        return sheet.name, sheet.outer, sheet.inner, sheet.poisson_ratio

    return one.fasteners == other.fasteners and [shape(s) for s in one.sheets] == [
        shape(s) for s in other.sheets
    ]


def _panel_words(site: Site) -> str:
    if site.cells is None:
        return "wide panel, since bay.rows does not give rows on all four sides; even running loads far away"
    size = f"{site.cells.width_in:.3f} x {site.cells.height_in:.3f} in"
    return f"bay of {size} from row to row, even running loads at its edge"


def _plates(unit: UnitSolution) -> dict[State, Panel]:
    plates: dict[State, Panel] = {}
    for state in State:
        try:
            plates[state] = panel(unit, state)
        except SolveError:
            continue  # a wide panel has no sides to buckle between
    return plates


def _combined(unit: UnitSolution, case: Case) -> Response:
    return unit.combine(nx_lbf_in=case.nx.value, ny_lbf_in=case.ny.value, q_lbf_in=case.q.value)


def _case(
    site: Site,
    case: Case,
    numbers: tuple[int, ...],
    solved: TwiceSolved,
    swift: UnitSolution,
    bare: UnitSolution,
    plates: dict[State, Panel],
) -> CaseAnalysis:
    response, stiff = _combined(solved.fine, case), _combined(swift, case)
    forces = response.fastener_lbf
    rivets = tuple(
        RivetLoad(number, float(force[0]), float(force[1]), float(np.hypot(*force)), float(other))
        for number, force, other in zip(numbers, forces, stiff.fastener_load_lbf, strict=True)
    )
    x, y = site.layout.centre_in
    load = np.array([case.nx.value, case.ny.value, case.q.value])
    along_x = solved.fine.pick_up_in("doubler", x_in=x) @ load
    along_y = solved.fine.pick_up_in("doubler", y_in=y) @ load
    return CaseAnalysis(
        case=case,
        rivets=rivets,
        before=EdgePeak(*_combined(bare, case).edge().peak),
        after=EdgePeak(*response.edge().peak),
        pick_up_lbf=(float(along_x[0]), float(along_y[1])),
        deflection_in=response.deflection_in,
        grid_error=solved.grid_error(nx_lbf_in=case.nx.value, ny_lbf_in=case.ny.value, q_lbf_in=case.q.value),
        buckling=_buckling(case, plates),
    )


def _buckling(case: Case, plates: dict[State, Panel]) -> tuple[BucklingFactor, ...]:
    """On the restore basis the direct load is turned round, so that the same compression is asked of every
    state.
    """
    sign = -1.0 if case.is_restored else 1.0
    nx, ny, q = sign * case.nx.value, sign * case.ny.value, case.q.value
    if min(nx, ny) >= 0.0 and q == 0.0:
        return ()
    found = []
    for state, plate in plates.items():
        buckled = plate.buckle(nx_lbf_in=nx, ny_lbf_in=ny, q_lbf_in=q)
        found.append(BucklingFactor(state, float(buckled.factor), float(buckled.grid_error_ratio)))
    return tuple(found)
