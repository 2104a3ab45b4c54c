"""R941 to R944: hazards of a survey: inside its bay, deep enough for a stopped drill, clear of a borescope hole.

What the job holds as a no-drill zone of the same name, as near and as wide as it may lie within its u, is judged there,
by R701 to R708.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding
from hatchwright.ground import computed
from hatchwright.job.bay import KeepOut
from hatchwright.job.site import Borescope, Site, SiteHazard
from hatchwright.judged import Bound, Judgement, Measure, Status, bound, lengths
from hatchwright.layout.behind_skin import BEFORE_IN, BESIDE_IN, THROUGH_IN, kept_clear, skin_in
from hatchwright.layout.gaps import gap_to, gap_to_point
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import held, stated
from hatchwright.rules.clearance import outermost_edge
from hatchwright.rules.rule import judged_by, rule
from hatchwright.said import Said, inch, room, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

CLEAR_IN = 0.125
"""Metal that is left between a borescope hole and the rough cut, so that the hole's edge is never in the opening's;
common practice, no source [in]."""

_THEORY = computed("docs/theory/site.md")
_INSIDE = Cited(0.0, "in", Source("GEOMETRY", "docs/theory/site.md"), Grade.COMPUTED)
_DRILL = Cited(BEFORE_IN, "in", Source("PRACTICE", "drill stop"), Grade.PRACTICE)
_WASTE = Cited(CLEAR_IN, "in", Source("PRACTICE", "borescope hole in the future waste"), Grade.PRACTICE)


@rule("R941", Shelf.BEHIND, reads=("site",))
@judged_by(_INSIDE)
def inside_bay(survey: Survey) -> Iterator[Finding]:
    """R941: hazards inside the surveyed bay."""
    site = survey.layout.job.site
    if site is None:
        return
    from hatchwright.layout.site.hazards import outside_in
    from hatchwright.layout.site.landmarks import landmarks

    lines = landmarks(site)
    for hazard in site.hazards:
        off_in, u_in = outside_in(hazard, lines), site.u_in(hazard.u)
        measure = Measure("outside", off_in)
        judged = _THEORY.at_most(measure, u_in, fails_as=Status.UNKNOWN)
        passes = judged.status is Status.PASS
        subject = said("site_hazards.inside" if passes else "site_hazards.place", name=hazard.name)
        yield held(judged, subject, said("site_hazards.outside"), cause=hazard.name)


@rule("R942", Shelf.BEHIND, reads=("bay", "cover", "parts", "site", "skin"), step="drill")
@judged_by(_DRILL)
def deep_enough(survey: Survey) -> Iterator[Finding]:
    """R942: hazards behind the new parts, against the drill stop."""
    layout = survey.layout
    site = layout.job.site
    if site is None:
        return
    from hatchwright.layout.site.hazards import is_kept_clear
    from hatchwright.layout.site.landmarks import called
    from hatchwright.layout.site.thickness import skin_in as skin_of

    held_there = {called(one.name): one for one in layout.job.bay.keep_outs}
    loop = outermost_edge(survey).loop
    for hazard in site.hazards:
        there = held_there.get(called(hazard.name))
        if there and is_kept_clear(there, hazard, site.u_in(hazard.u), skin_of(layout.job)):
            continue
        apart_in = gap_to(loop, hazard)[0] - site.u_in(hazard.u)
        if apart_in > 0.0:
            subject = said("site_hazards.beside", name=hazard.name)
            yield stated(Status.PASS, subject, _DRILL, value=apart_in, unit="in")
        else:
            yield _depth(survey, site, hazard, said("site_hazards.new_parts"))


@rule("R943", Shelf.HOLDS, reads=("opening", "rough_cut", "site"))
@judged_by(_WASTE)
def in_the_waste(survey: Survey) -> Iterator[Finding]:
    """R943: the borescope hole in metal that is cut out later."""
    layout = survey.layout
    site = layout.job.site
    if site is None or site.borescope is None:
        return
    hole, cut = site.borescope, layout.rough_cut or Profile((layout.opening,))
    center = np.array([[at.inch for at in hole.center]])
    found = distances(cut, center)
    to_cut_in = float(found.distance_in[0]) * (1.0 if found.inside[0] else -1.0)
    left_in = to_cut_in - hole.diameter.inch / 2.0
    put_in = lengths(center_to_cut=to_cut_in, radius=hole.diameter.inch / 2.0)
    measure = Measure("metal left", left_in, site.u_in(hole.u), with_=put_in)
    subject = said("site_hazards.borescope", diameter=inch(hole.diameter.inch))
    advice = said("site_hazards.move_hole" if found.inside[0] else "site_hazards.not_in_waste")
    judged = Judgement(measure, (bound(_WASTE),))
    yield held(judged, subject, advice, place=_place(hole))


@rule("R944", Shelf.BEHIND, reads=("bay", "site", "skin"))
@judged_by(_DRILL)
def over_a_hazard(survey: Survey) -> Iterator[Finding]:
    """R944: the borescope hole clear of what lies behind."""
    layout = survey.layout
    site = layout.job.site
    if site is None or site.borescope is None:
        return
    hole = site.borescope
    reach_in = hole.diameter.inch / 2.0 + BESIDE_IN + site.u_in(hole.u)
    named = said("site_hazards.hole", diameter=inch(hole.diameter.inch))
    near = [one for one in site.hazards if gap_to_point(one, _place(hole)) <= reach_in + site.u_in(one.u)]
    for hazard in near:
        yield _depth(survey, site, hazard, named)
    if not near:
        yield stated(Status.PASS, said("site_hazards.nothing_near", hole=named), _DRILL, unit="in")


def _depth(survey: Survey, site: Site, hazard: SiteHazard, before: Said) -> Finding:
    """A drill on its stop, through the skin alone, before one hazard."""
    from hatchwright.layout.site.hazards import as_keep_out

    layout, index = survey.layout, site.hazards.index(hazard)
    skin = skin_in(layout)
    there: KeepOut = as_keep_out(hazard, skin, layout.job.unit)
    if there.depth is None:
        subject = said("site_hazards.no_depth", name=hazard.name, before=before)
        advice = said("site_hazards.measure_depth")
        return stated(
            Status.UNKNOWN,
            subject,
            _DRILL,
            advice,
            unit="in",
            cause=hazard.name,
            enter=(f"site.hazards.{index}.depth",),
        )
    reach_in = skin + THROUGH_IN
    left_in = there.depth.inch - reach_in
    measure = Measure(
        "depth - reach",
        left_in,
        site.u_in(hazard.u),
        with_=lengths(depth=there.depth.inch, reach=reach_in),
    )
    judged = kept_clear(there, measure, Bound(_DRILL.value, _DRILL.source, _DRILL.grade))
    subject = said("site_hazards.depth", name=hazard.name, depth=inch(there.depth.inch), before=before)
    strikes = said("behind.drill_strikes", reach=inch(reach_in))
    if left_in <= 0.0:
        return held(judged, subject, strikes, said("behind.move_it"), cause=hazard.name)
    moves = judged.status is Status.UNKNOWN and hazard.moves
    advice = said("site_hazards.moves" if moves else "site_hazards.set_stop", left=room(left_in))
    return held(judged, subject, advice, cause=hazard.name)


def _place(hole: Borescope) -> tuple[float, float]:
    return hole.center[0].inch, hole.center[1].inch
