"""The strength report of a job: gate first, then margins, each with everything needed to recompute it."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.errors import SolveError
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.layout import Layout
from hatchwright.strength.case_summary import CaseSummary, case_summary
from hatchwright.strength.checks.cover import cover_margins
from hatchwright.strength.checks.elements import element_findings, element_margins, refused_finding
from hatchwright.strength.checks.fatigue import fatigue_findings
from hatchwright.strength.checks.rivets import rivet_counts, rivet_margins
from hatchwright.strength.checks.sheets import sheet_findings, sheet_margins
from hatchwright.strength.checks.stability import stability_findings, stability_margins
from hatchwright.strength.factors import Factors, factors_of
from hatchwright.strength.gate import gate, must_refer
from hatchwright.strength.load_case import Case, cases_of
from hatchwright.strength.margin import Margin, worst_first
from hatchwright.strength.margin_words import margin_words
from hatchwright.strength.opening_analysis import OpeningAnalysis, analyze_opening
from hatchwright.strength.rivet_joint import rivet_joints
from hatchwright.strength.site import Site, site_of
from hatchwright.tables.table import ShopTables

NO_LOADS = (
    "No loads are given, so nothing is said about strength. Choose a basis under [loads]: known running loads with "
    "their source, or the strength of the metal removed."
)
"""What a report says when the job has no loads."""

AID = "Calculation aid: not approved data."
"""What every report says of itself."""


@dataclass(frozen=True, slots=True)
class StrengthReport:
    """All that is said about the strength of one job.

    Args:
        basis: of the loads: "running loads", "restore" or "none".
        inputs: what went in, in lines.
        gate: what sends the job to an engineer; read before all else.
        margins: the worst first; empty without loads.
        findings: comparisons and screens beside the margins; empty without loads.
        not_analyzed: what the report does not speak of.
        analysis: the finite-element analysis, None when there is none.
        summaries: what it found, case by case.
    """

    basis: str
    inputs: tuple[str, ...]
    assumptions: tuple[str, ...]
    gate: tuple[Finding, ...]
    cases: tuple[Case, ...]
    margins: tuple[Margin, ...]
    findings: tuple[Finding, ...]
    not_analyzed: tuple[str, ...]
    analysis: OpeningAnalysis | None = None
    summaries: tuple[CaseSummary, ...] = ()

    @property
    def must_refer(self) -> bool:
        """Whether the gate sends the job to an engineer."""
        return must_refer(self.gate)

    @property
    def must_stop(self) -> bool:
        """Whether there is something to stop for: the gate, or a margin or finding that fails or cannot be
        shown.
        """
        statuses = [*(m.status for m in self.margins), *(f.status for f in self.findings)]
        return self.must_refer or any(status in (Status.STOP, Status.UNKNOWN) for status in statuses)

    @property
    def lowest(self) -> Margin | None:
        """The lowest margin that could be had, or None."""
        return next((margin for margin in self.margins if margin.ratio is not None), None)

    @property
    def summary(self) -> str:
        """One sentence; without loads it says only that."""
        if self.basis == "none":
            return NO_LOADS
        lowest = self.lowest
        unknown = sum(margin.ratio is None for margin in self.margins)
        parts = []
        if lowest and lowest.ratio is not None:
            parts.append(
                f"Lowest margin {margin_words(lowest.ratio)}: {lowest.subject}, {lowest.case}, {lowest.level}."
            )
        if unknown:
            parts.append(f"{unknown} margins could not be had.")
        return " ".join(parts) or "No margin could be had."


@dataclass(frozen=True, slots=True)
class Elements:
    """How the finite elements are asked.

    Args:
        missing: numbers of rivets that are left out.
        buckling: whether to look for buckling too, which takes the most time.
        like: an analysis of the same geometry, whose factorized sheets are used again.
    """

    missing: tuple[int, ...] = ()
    buckling: bool = True
    like: OpeningAnalysis | None = None


WHOLE = Elements()
"""Every rivet there, and buckling looked for too."""


def strength_report(
    layout: Layout, shop: ShopTables | None = None, elements: Elements | None = WHOLE
) -> StrengthReport:
    """Analyze a layout by hand methods and by finite elements.

    Args:
        elements: how the finite elements are asked, None to leave them away.
    Returns:
        StrengthReport: without loads it holds the gate and no word about strength.
    Raises:
        TableError: a sheet has no allowables.
    Method: docs/theory/loads.md and the pages that it names.
    """
    loads = layout.job.loads
    answers = gate(layout, shop)
    if loads.basis == "none":
        return StrengthReport("none", (), (), answers, (), (), (), _NOT_ANALYZED)
    site = site_of(layout, shop)
    factors = factors_of(loads, shop)
    cases = cases_of(loads, site.skin)
    joints = rivet_joints(site)
    analysis, refused = _analyzed(site, cases, elements)
    margins = (
        *rivet_margins(site, joints, cases, factors),
        *sheet_margins(site, cases, factors),
        *stability_margins(site, cases, factors),
        *cover_margins(site, cases, factors),
        *(element_margins(site, joints, analysis, factors) if analysis else ()),
    )
    findings = (
        *rivet_counts(site, joints, cases, factors),
        *sheet_findings(site, cases),
        *stability_findings(site, cases),
        *fatigue_findings(site, cases, factors),
        *(element_findings(site, joints, analysis, factors) if analysis else ()),
        *((refused_finding(refused),) if refused else ()),
    )
    return StrengthReport(
        basis=loads.basis,
        inputs=_inputs(site, cases, factors),
        assumptions=_assumptions(site, analysis),
        gate=answers,
        cases=cases,
        margins=worst_first(margins),
        findings=findings,
        not_analyzed=(*_NOT_ANALYZED, *_left_out(site), *_without_elements(analysis, refused)),
        analysis=analysis,
        summaries=tuple(map(case_summary, analysis.cases)) if analysis else (),
    )


def _analyzed(
    site: Site, cases: tuple[Case, ...], elements: Elements | None
) -> tuple[OpeningAnalysis | None, SolveError | None]:
    """The finite elements, or why they could not be carried through; hand methods stand without them."""
    if elements is None:
        return None, None
    try:
        analysis = analyze_opening(
            site, cases, missing=elements.missing, buckling=elements.buckling, like=elements.like
        )
    except SolveError as error:
        if error.where == "missing":
            raise
        return None, error
    return analysis, None


def _without_elements(analysis: OpeningAnalysis | None, refused: SolveError | None) -> tuple[str, ...]:
    return () if analysis else (f"finite elements: {refused or 'not asked for'}",)


_NOT_ANALYZED = (
    "fatigue life and damage tolerance; the screens are no life",
    "flutter and stiffness of the surface",
    "nutplate rivets and their holes, and pull-through of heads",
    "corrosion, heat, impact and sonic load",
    "the quality of the work",
    "the aircraft maker's own data, which come first",
)


def _inputs(site: Site, cases: tuple[Case, ...], factors: Factors) -> tuple[str, ...]:
    sheets = tuple(
        f"{name}: {sheet.part.alloy}-{sheet.part.temper}{' clad' if sheet.part.clad else ''}, "
        f"{sheet.thickness_in:g} in, "
        f"{sheet.allowed.statistical_basis} basis{f' ({sheet.allowed.note})' if sheet.allowed.note else ''}, "
        f"[{sheet.allowed.source}]"
        for name, sheet in site.sheets.items()
    )
    loads = tuple(
        f"{case.name}: Nx {case.nx.value:g}, Ny {case.ny.value:g}, q {case.q.value:g} lbf/in ultimate"
        for case in cases
    )
    width_in, height_in = site.opening_in
    made = "measured" if site.layout.job.as_made else "drawn"
    size = f"opening {width_in:.3f} x {height_in:.3f} in, holes and edges as {made} where measured"
    given = (
        f"ultimate = {factors.of_safety.value:g} x limit [14CFR23, 23.303; 23.2230 now]",
        f"special factor {factors.joint.value:g} on the riveted joint, {factors.screws.value:g} on cover screws "
        "[14CFR23, 23.619 and 23.625]",
    )
    return (size, *sheets, *given, *loads)


def _assumptions(site: Site, analysis: OpeningAnalysis | None) -> tuple[str, ...]:
    loads = site.layout.job.loads
    said = [
        "the weaker direction of the sheet counts, since the grain is not given",
        "bearing takes the least edge distance, less its uncertainty, and a tenth off for wet pins",
        "at ultimate load the rivets of one side share equally, at most four rows in line; at limit load elastically",
        _cover_words(site, analysis),
        "panels are held as on simple supports",
    ]
    if loads.basis == "restore":
        said.insert(
            0, "restore: t Ftu and t Fsu of the metal removed stand for the loads, each direction by itself"
        )
    if analysis:
        said.append(
            f"finite elements: {analysis.panel}; flat sheets, rivets that give, no bending, slip or yielding"
        )
    if loads.statistical_basis == "B":
        said.append(f"B basis, redundant structure [14CFR23, 23.613(b)(2)]: {loads.statistical_reason}")
    return tuple(said)


def _cover_words(site: Site, analysis: OpeningAnalysis | None) -> str:
    if analysis and analysis.covered:
        return (
            "the cover carries load in the finite elements, as chosen (loads.cover.carries): each case stands twice, "
            "its screws centred in their holes and without clearance; hand methods and buckling give it no credit"
        )
    chosen = ", though it was let carry, since no finite elements stand behind it"
    return (
        f"the cover carries nothing{chosen if site.cover_may_carry else ''}; "
        "the load that its screws would draw is checked by itself"
    )


def _left_out(site: Site) -> tuple[str, ...]:
    found = []
    if site.layout.job.loads.basis == "restore":
        found.append("buckling: the restore basis names no compression or shear that really acts")
        found.append(
            "load that the cover draws through its screws: the restore basis names none that really acts"
        )
    if site.cells is None:
        found.append("the sheared bay: bay.rows does not give rows on all four sides")
    if site.layout.job.loads.cover.air_pressure is None and site.cover:
        found.append("air load on the cover: loads.cover.air_pressure is not given")
    if site.cover_may_carry:
        found.append("buckling of a cover that carries, and how evenly its screws really sit in their holes")
    if site.layout.job.skin.curvature:
        found.append("curvature of the skin: all panels are taken flat")
    return tuple(found)
