"""The strength report of a job: gate first, then margins, each with everything needed to recompute it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain

from msgspec import Struct

from hatchwright.errors import HatchwrightError
from hatchwright.finding import Finding
from hatchwright.layout.layout import Layout, Part
from hatchwright.layout.oversize import is_oversize
from hatchwright.progress import Progress, unheard
from hatchwright.said import Amount, Listed, Numbered, Said, inch, said
from hatchwright.strength.case_summary import CaseSummary, case_summary
from hatchwright.strength.checks.cover import cover_margins
from hatchwright.strength.checks.elements import element_findings, element_margins, refused_finding
from hatchwright.strength.checks.evidence import evidence_families, evidence_findings
from hatchwright.strength.checks.fatigue import fatigue_findings
from hatchwright.strength.checks.framing import framing_findings, framing_margins
from hatchwright.strength.checks.legs import leg_findings
from hatchwright.strength.checks.rivets import rivet_margins
from hatchwright.strength.checks.sheets import sheet_findings, sheet_margins
from hatchwright.strength.checks.stability import stability_findings, stability_margins
from hatchwright.strength.checks.tear_out import tear_out_margins
from hatchwright.strength.drawn_load import NOT_RUN
from hatchwright.strength.efficiency import Efficiencies, efficiencies
from hatchwright.strength.evidence import NO_EVIDENCE, Evidence, TableCount
from hatchwright.strength.evidence_told import evidence_told
from hatchwright.strength.factors import Factors, factors_of
from hatchwright.strength.family import S100, Family, not_shown, worked_out
from hatchwright.strength.fastener_table import FastenerLine, fastener_table
from hatchwright.strength.gate import gate, must_refer
from hatchwright.strength.inspection_note import inspection_note
from hatchwright.strength.left_out import not_analyzed
from hatchwright.strength.load_case import Case, cases_of
from hatchwright.strength.margin import Level, Margin, margin_words, worst_first
from hatchwright.strength.opening_analysis import OpeningAnalysis, analyze_opening
from hatchwright.strength.rivet_joint import rivet_joints
from hatchwright.strength.site import SheetPart, Site, site_of
from hatchwright.tables.allowables import Allowables
from hatchwright.tables.table import ShopTables

NO_LOADS = said("strength.no_loads")
"""What a report says when the job has no loads."""

AID = said("strength.aid")
"""What every report says of itself."""


class StrengthReport(Struct, frozen=True):
    """All that is said about the strength of one job.

    Args:
        basis: of the loads: "running loads", "restore" or "none".
        gate: what sends the job to an engineer; read before all else.
        margins: the worst first; empty without loads.
        findings: comparisons and screens beside the margins; empty without loads.
        analysis: the finite-element analysis, None when there is none.
        evidence: what each path finds restored, side by side; empty without loads.
        inspection: what can be seen of the repair, and what the ICA asks; empty without loads.
        sheets: skin, doubler and cover with what they are allowed, from outside.
        fasteners: every rivet of the joint.
    """

    basis: str
    inputs: tuple[Said, ...]
    assumptions: tuple[Said, ...]
    gate: tuple[Finding, ...]
    cases: tuple[Case, ...]
    margins: tuple[Margin, ...]
    findings: tuple[Finding, ...]
    not_analyzed: tuple[Said, ...]
    analysis: OpeningAnalysis | None = None
    summaries: tuple[CaseSummary, ...] = ()
    evidence: Evidence = NO_EVIDENCE
    inspection: tuple[Said, ...] = ()
    sheets: tuple[SheetPart, ...] = ()
    fasteners: tuple[FastenerLine, ...] = ()

    @property
    def must_refer(self) -> bool:
        """Whether the gate sends the job to an engineer."""
        return must_refer(self.gate)

    @property
    def must_stop(self) -> bool:
        """Whether there is something to stop for: the gate, or a margin or finding that fails or is not shown."""
        statuses = [*(m.status for m in self.margins), *(f.status for f in self.findings)]
        return self.must_refer or any(status.holds_back for status in statuses)

    @property
    def basis_said(self) -> Said:
        """The basis of the loads in words."""
        return said(f"basis.{self.basis.replace(' ', '_')}")

    @property
    def lowest(self) -> Margin | None:
        """The lowest margin that could be computed, or None."""
        return next((margin for margin in self.margins if margin.ratio is not None), None)

    @property
    def summary(self) -> tuple[Said, ...]:
        """One or two sentences; without loads they say only that."""
        if self.basis == "none":
            return (NO_LOADS,)
        lowest = self.lowest
        unknown = sum(margin.ratio is None for margin in self.margins)
        if not lowest and not unknown:
            return (said("strength.no_margin"),)
        left = (said("strength.not_computed", n=unknown),) if unknown else ()
        if not lowest:
            return left
        names = {"subject": lowest.subject, "case": lowest.case, "level": lowest.level}
        return said("strength.lowest", margin=margin_words(lowest.ratio), **names), *left


ASKED_BY_RULES = ("S101", "S102", "S103", "S104", "S105", "S106")
"""Questions of the gate that the rules of scope ask too: counted once, there."""


def strength_findings(report: StrengthReport) -> tuple[Finding, ...]:
    """Every answer of a report as a finding, by its code, to be counted with rules and making in one verdict."""
    found = (
        *(finding for finding in report.gate if finding.code not in ASKED_BY_RULES),
        *(margin.finding for margin in report.margins),
        *report.findings,
    )
    return tuple(sorted(found, key=lambda finding: finding.code))


class Elements(Struct, frozen=True):
    """How the finite elements are asked.

    Args:
        buckling: whether to look for buckling too, which takes the most time.
        like: an analysis of the same geometry, whose factorized sheets are used again.
        progress: told how far they are.
    """

    buckling: bool = True
    like: OpeningAnalysis | None = None
    progress: Progress = unheard


WHOLE = Elements()
"""Buckling looked for too."""


def not_worked_out(layout: Layout, error: HatchwrightError) -> StrengthReport:
    """The report where a value is missing without which nothing can be worked out: the gate, and S100 not shown."""
    return StrengthReport(
        basis=layout.job.loads.basis,
        inputs=(),
        assumptions=(),
        gate=gate(layout, layout.shop),
        cases=(),
        margins=(),
        findings=(not_shown(layout, "all", error),),
        not_analyzed=not_analyzed(layout, {S100}),
    )


def strength_report(
    layout: Layout,
    shop: ShopTables | None = None,
    elements: Elements | None = WHOLE,
    counts: tuple[TableCount, ...] = (),
) -> StrengthReport:
    """Analyze a layout by hand methods and by finite elements.

    Args:
        elements: how the finite elements are asked, None to leave them out.
        counts: rivets of each side by the circular's table.
    Returns:
        StrengthReport: without loads it holds the gate and no word about strength.
    Method: docs/theory/loads.md and the pages that it names.
    """
    loads = layout.job.loads
    answers = gate(layout, shop)
    if loads.basis == "none":
        return StrengthReport("none", (), (), answers, (), (), (), not_analyzed(layout, ()))
    site = site_of(layout, shop)
    factors, asked = factors_of(loads, shop), efficiencies(layout, site.skin)
    cases, no_cases = worked_out(layout, [Family("loads", lambda: cases_of(loads, site.skin, asked))])
    joints = rivet_joints(site)
    analysis, refused = _analyzed(site, cases, elements)
    picked_up = analysis.picked_up if analysis else NOT_RUN
    margins, no_margins = worked_out(
        layout,
        chain(
            rivet_margins(site, joints, cases, factors, picked_up),
            sheet_margins(site, cases, factors, picked_up),
            tear_out_margins(site, cases, factors, picked_up, analysis),
            stability_margins(site, cases, analysis),
            [Family("bay", lambda: framing_margins(site, cases))],
            cover_margins(site, cases, factors),
            [Family("elements", lambda: element_margins(site, joints, analysis, factors))]
            if analysis
            else (),
        ),
    )
    margins = tuple(with_load(margins, cases))
    of_elements = analysis and (
        Family("elements", lambda: element_findings(site, joints, analysis, factors)),
    )
    put_back, no_sheets = worked_out(layout, sheet_findings(site))
    rows, no_rows = worked_out(
        layout, evidence_families(site, cases, counts, margins, put_back, analysis, factors)
    )
    compared, not_compared = worked_out(
        layout,
        chain(
            [Family("paths", lambda: evidence_findings(rows))],
            [Family("doubler", lambda: leg_findings(site, cases))],
            [Family("bay", lambda: stability_findings(site, cases, analysis))],
            [Family("bay", lambda: framing_findings(site, cases, analysis))],
            fatigue_findings(site, cases, factors, analysis),
            of_elements or (),
        ),
    )
    findings = (
        *put_back,
        *compared,
        *((refused_finding(layout, refused),) if refused else ()),
        *dict.fromkeys((*no_cases, *no_margins, *no_sheets, *no_rows, *not_compared)),
    )
    seen, _ = worked_out(layout, [Family("fatigue", lambda: inspection_note(site))])
    codes = {one.code for one in (*margins, *findings)}
    why = (
        said("left_out.elements_refused", why=str(refused)) if refused else said("left_out.elements_not_run")
    )
    return StrengthReport(
        basis=loads.basis,
        inputs=_inputs(site, cases, factors, asked),
        assumptions=_assumptions(site, analysis),
        gate=answers,
        cases=cases,
        margins=worst_first(margins),
        findings=findings,
        not_analyzed=not_analyzed(layout, codes, None if analysis else why),
        analysis=analysis,
        summaries=tuple(map(case_summary, analysis.cases)) if analysis else (),
        evidence=Evidence(rows, tuple(evidence_told(rows, analysis))),
        inspection=seen,
        sheets=tuple(site.sheets.values()),
        fasteners=fastener_table(site, joints, analysis, factors),
    )


def _analyzed(
    site: Site, cases: tuple[Case, ...], elements: Elements | None
) -> tuple[OpeningAnalysis | None, HatchwrightError | None]:
    """The finite elements, or why they could not be carried through; hand methods stand without them."""
    if elements is None:
        return None, None
    try:
        found = analyze_opening(
            site, cases, buckling=elements.buckling, like=elements.like, progress=elements.progress
        )
        return found, None
    except HatchwrightError as error:
        return None, error


def with_load(margins: Iterable[Margin], cases: tuple[Case, ...]) -> Iterator[Margin]:
    """Restore has no limit load: it stands for strength, and nothing is asked of yield."""
    restored = {case.name for case in cases if case.is_restored}
    return (one for one in margins if one.level is not Level.LIMIT or one.case not in restored)


def _inputs(site: Site, cases: tuple[Case, ...], factors: Factors, asked: Efficiencies) -> tuple[Said, ...]:
    width_in, height_in = site.opening_in
    size = {"width": inch(width_in), "height": inch(height_in)}
    is_made = site.layout.job.as_made is not None
    return (
        said("input.opening_measured" if is_made else "input.opening_drawn", **size),
        *_rivets_not_there(site),
        *(
            _sheet(name, sheet.part, sheet.thickness_in, sheet.found)
            for name, sheet in site.sheets.items()
            if isinstance(sheet.found, Allowables)
        ),
        said("input.factor_of_safety", factor=Amount(factors.of_safety.value, "")),
        said(
            "input.special_factors",
            joint=Amount(factors.joint.value, ""),
            screws=Amount(factors.screws.value, ""),
        ),
        *((_efficiency(asked),) if site.layout.job.loads.basis == "restore" else ()),
        *(
            said(
                "input.case",
                case=case.name,
                nx=Amount(case.nx.value, "lbf/in"),
                ny=Amount(case.ny.value, "lbf/in"),
                q=Amount(case.q.value, "lbf/in"),
            )
            for case in cases
        ),
    )


def _efficiency(asked: Efficiencies) -> Said:
    shares = {"x": asked.x, "y": asked.y, "shear": asked.shear}
    notes = dict.fromkeys(one.working[-1].note for one in shares.values())
    why = Listed(tuple(note for note in notes if note), ";")
    return said(
        "input.efficiency",
        **{name: Amount(100.0 * one.value, "%", toward="up") for name, one in shares.items()},
        why=why,
    )


def _rivets_not_there(site: Site) -> Iterator[Said]:
    """Holes that carry nothing: their rivet is out, or does not fill them."""
    rivets = site.layout.holes_of("rivet")
    out = tuple(hole.number for hole in rivets if not hole.is_fitted)
    loose = tuple(hole.number for hole in rivets if hole.is_fitted and is_oversize(hole, site.shop))
    if out:
        yield said("input.rivets_out", rivets=Numbered("rivet", out))
    if loose:
        yield said("input.rivets_loose", rivets=Numbered("rivet", loose))


def _sheet(name: str, part: Part, thickness_in: float, allowed: Allowables) -> Said:
    return said(
        "input.sheet_with_note" if allowed.note else "input.sheet",
        part=said(f"part.{name}"),
        material=said("sheet.clad" if part.clad else "sheet.bare", alloy=part.alloy, temper=part.temper),
        thickness=inch(thickness_in, fine=True),
        basis=allowed.statistical_basis,
        note=allowed.note,
        source=str(allowed.source),
    )


def _assumptions(site: Site, analysis: OpeningAnalysis | None) -> tuple[Said, ...]:
    loads = site.layout.job.loads
    taken = [
        said("assumed.weaker_direction"),
        said("assumed.bearing"),
        said("assumed.sharing"),
        _of_cover(site, analysis),
        said("assumed.supports"),
    ]
    if loads.basis == "restore":
        taken.insert(0, said("assumed.restore"))
    if analysis:
        taken.append(said("assumed.elements", panel=analysis.panel))
    if loads.statistical_basis == "B":
        taken.append(said("assumed.b_basis", reason=loads.statistical_reason))
    return tuple(taken)


def _of_cover(site: Site, analysis: OpeningAnalysis | None) -> Said:
    if analysis and analysis.covered:
        return said("assumed.cover_carries")
    if site.cover_may_carry:
        return said("assumed.cover_carries_nothing_without_elements")
    return said("assumed.cover_carries_nothing")
