"""What puts a short doubler right: next gauges and widths, each laid out and worked out anew by hand methods."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice

from hatchwright.errors import HatchwrightError
from hatchwright.finding import Finding
from hatchwright.job.other_side import MirroredJob
from hatchwright.job.retyped_job import retyped_job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.remedy import Change
from hatchwright.said import Listed, Said, said
from hatchwright.search.candidate import Candidate, Concern
from hatchwright.search.changes import candidates
from hatchwright.strength.checks.sheets import S302, S303, S306, S308, sheet_findings, sheet_margins
from hatchwright.strength.doubler_section import doubler_section
from hatchwright.strength.efficiency import efficiencies
from hatchwright.strength.factors import factors_of
from hatchwright.strength.load_case import cases_of
from hatchwright.strength.margin import Margin
from hatchwright.strength.report import with_load
from hatchwright.strength.site import site_of

MOST_OF_A_KIND = 12
"""Gauges and widths that are tried: past these it is another design [-]."""

_CHANGES = (Change.DOUBLER_GAUGE, Change.DOUBLER_SIZE)
_CODES = (S302, S303, S306, S308)


def what_puts_it_right(layout: Layout, margins: Sequence[Margin], findings: Sequence[Finding]) -> Said | None:
    """The nearest gauge and width by which the doubler's sections hold; None where none is asked for, or found.

    Args:
        margins, findings: S302, S303 and S306 of the job as it is.

    Finite elements are not run again, nor the rules: the sentence says so. On known loads a thicker doubler draws more,
    and nothing is told without them.
    """
    if isinstance(layout.job, MirroredJob) or layout.job.loads.basis != "restore":
        return None
    everything: tuple[Margin | Finding, ...] = (*margins, *findings)
    if not any(map(_is_short, everything)):
        return None
    found = [one.what for change in _CHANGES if (one := _first(layout, change, findings)) is not None]
    return said("evidence.puts_right", changes=Listed(tuple(found), "or")) if found else None


def _is_short(one: Margin | Finding) -> bool:
    return one.code in _CODES and one.status is Status.STOP


def _first(layout: Layout, change: Change, findings: Sequence[Finding]) -> Candidate | None:
    concern = Concern(layout, _missing_in(layout, findings), (), frozenset())
    for candidate in islice(candidates(change, concern), MOST_OF_A_KIND):
        if _holds(layout, candidate):
            return candidate
    return None


def _missing_in(layout: Layout, findings: Sequence[Finding]) -> float:
    """Half the width that the metal put back lacks, which one side has to gain; 0 where it lacks none [in]."""
    site = site_of(layout, layout.shop)
    metal = [one for one in findings if one.code == S306 and one.value]
    lacking = (
        doubler_section(site, axis).width_in * (1.0 / (one.value or 1.0) - 1.0)
        for axis, one in enumerate(metal)
    )
    return max(0.0, *lacking) / 2.0 if metal else 0.0


def _holds(layout: Layout, candidate: Candidate) -> bool:
    """Whether every section of the doubler holds by hand methods."""
    try:
        job = retyped_job(layout.job, {entry.field: entry.new for entry in candidate.entries})
        site = site_of(lay_out(job, layout.shop), layout.shop)
        cases = cases_of(job.loads, site.skin, efficiencies(site.layout, site.skin))
        factors = factors_of(job.loads, layout.shop)
        own = [family for family in sheet_margins(site, cases, factors) if family.name == "doubler"]
        margins = [one for family in own for one in family.answers()]
        metal = [family for family in sheet_findings(site) if family.name == "doubler"]
        found = [one for family in metal for one in family.answers()]
    except HatchwrightError:
        return False
    asked = tuple(with_load(margins, cases))
    statuses = [*(one.status for one in asked), *(one.status for one in found)]
    return bool(asked) and not any(status.holds_back for status in statuses)
