"""S503 and S504: what a sheared bay asks of the members along its opening, and of the rivets round it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from hatchwright.errors import HatchwrightError
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.said import Amount, Said, said
from hatchwright.strength.comparison import strength_code, told
from hatchwright.strength.edge_member import (
    EDGES,
    Member,
    is_framed,
    member_rivet_strength,
    member_strength,
    members_of,
)
from hatchwright.strength.family import told_of
from hatchwright.strength.load_case import Case
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.opening_analysis import OpeningAnalysis, buckled
from hatchwright.strength.shear_bay import cell_flows, edge_rivet_load
from hatchwright.strength.site import Site
from hatchwright.strength.web import Web, bay_factor, webs_of
from hatchwright.strength.worked import Worked, inputs, work_out

S503 = strength_code("S503", "bay", "opening", theory="shear_bay")
S504 = strength_code("S504", "bay", "opening", theory="diagonal_tension", shelf=Shelf.KNOW)


def framing_margins(site: Site, cases: tuple[Case, ...]) -> Iterator[Margin]:
    """Margins of the members that the job names.

    Yields:
        Margin: S503 end load of each member, S504 its rivets.
    Method: docs/theory/diagonal_tension.md.
    """
    members = members_of(site)
    for case in cases:
        if case.is_restored or not case.q.value or site.cells is None:
            continue
        flows = cell_flows(site.cells, shear_lbf_in=abs(case.q.value))
        webs = tuple(webs_of(site, site.cells, case))
        for member in members:
            beside = [web for web in webs if web.axis == member.axis]
            web = max(beside, key=lambda one: one.factor.value * one.flow.value * one.width_in)
            frame = flows.frame_y if member.axis else flows.frame_x
            yield _end_load(site, case, member, _with_folds(frame, web))
            yield _rivets(site, case, member, max(beside, key=lambda one: one.factor.value))


def _with_folds(frame: Worked, web: Web) -> Worked:
    """The end load by statics, and the pull of the folds of the web beside it, all of it on this one of its edges."""
    return work_out(
        frame.value + web.factor.value * web.flow.value * web.width_in,
        f"P end = {frame.symbol} + k q w [lbf]",
        frame,
        web.factor,
        web.flow,
        *inputs("in", w=web.width_in),
    )


def _end_load(site: Site, case: Case, member: Member, load: Worked) -> Margin:
    subject = said("S503.member", edge=member.edge)
    return _margin(S503, subject, case, load, partial(member_strength, site, member))


def _rivets(site: Site, case: Case, member: Member, web: Web) -> Margin:
    load = edge_rivet_load(shear_lbf_in=web.flow.value, factor=web.factor, shop=site.shop)
    subject = said("S504.member", edge=member.edge)
    return _margin(S504, subject, case, load, partial(member_rivet_strength, site, member))


def _margin(
    code: str,
    subject: Said,
    case: Case,
    load: Worked,
    strength: Callable[[], Worked],
) -> Margin:
    try:
        allowed = strength()
    except HatchwrightError as error:
        return Margin(code, subject, case.name, Level.ULTIMATE, load, None, told_of(error))
    advice = (ASK,) if allowed.value < load.value else ()
    return Margin(code, subject, case.name, Level.ULTIMATE, load, allowed, advice)


def framing_findings(
    site: Site, cases: tuple[Case, ...], analysis: OpeningAnalysis | None
) -> Iterator[Finding]:
    """What the sheared bay asks of members that the job does not name, and of the rows around it.

    None are asked for where neither the bay buckled nor a cell of it would by itself, nor where the panel, by the
    finite elements, holds or buckles no sooner than before its cut.

    Yields:
        Finding: S503 end loads of framing members, S504 running load on the rows of the bay.
    """
    named = {one.edge for one in site.layout.job.loads.members}
    for case in cases:
        if case.is_restored or not case.q.value or site.cells is None:
            continue
        flows = cell_flows(site.cells, shear_lbf_in=abs(case.q.value))
        webs = tuple(webs_of(site, site.cells, case))
        after = buckled(analysis, case)
        bay = bay_factor(site, site.cells, case)
        is_flat = not any(factor.value for factor in (bay, *(web.factor for web in webs)))
        for member, along, edges in ((flows.frame_x, "X", EDGES[:2]), (flows.frame_y, "Y", EDGES[2:])):
            if named.issuperset(edges):
                continue
            subject = said("S503.subject", case=case.name, axis=along, load=Amount(member.value, "lbf"))
            status, advice = _unframed(is_flat, after is not None and after.is_as_stable)
            missing = ("loads.members",) if status is Status.UNKNOWN else ()
            yield told(S503, status, subject, member, *advice, enter=missing)
        # Without members it is the bay that buckles, not its cells.
        least = () if is_framed(site) else (bay,)
        rivets = max(
            (
                edge_rivet_load(
                    shear_lbf_in=web.flow.value,
                    factor=max((web.factor, *least), key=lambda one: one.value),
                    shop=site.shop,
                )
                for web in webs
            ),
            key=lambda one: one.value,
        )
        subject = said("S504.subject", case=case.name, load=Amount(rivets.value, "lbf/in"))
        yield told(S504, Status.CAUTION, subject, rivets, said("S504.compare"))


def _unframed(is_flat: bool, is_as_stable: bool) -> tuple[Status, tuple[Said, ...]]:
    if is_flat:
        return Status.CAUTION, (said("S503.flat"),)
    if is_as_stable:
        return Status.CAUTION, (said("S503.as_stable"),)
    return Status.UNKNOWN, (said("S503.members"), said("S503.engineer"))
