"""T1xx: whether the template gives the wanted cut, whether it can be made, and how large it leads its holes."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.errors import GeometryError
from hatchwright.finding import Finding, held, stated
from hatchwright.ground import CLOSED_FORM, Ground, practice
from hatchwright.judged import FLOAT_NOISE, Judgement, Measure, Status, the_same
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.layout import Layout
from hatchwright.layout.named import size, why
from hatchwright.making.making import Making, making_of
from hatchwright.making.template.corner_remedies import corner_remedies
from hatchwright.making.template.flat_size import CLAMP_IN, flat_size, room_for, template_outline
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.making.template.holes import TemplateHole, template_holes
from hatchwright.making.unlisted import unlisted_findings
from hatchwright.recipe.hole_drills import first_drill
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Listed, Place, Said, inch, said
from hatchwright.shapes.corners import Corner
from hatchwright.tables.drills import Drill
from hatchwright.workings import Grade, Source

_THEORY = "docs/theory/guide_template.md"
_READS = ("cutter", "template", "wanted")

T100 = enter(Entry("T100", Shelf.HOLDS, reads=_READS, forbids_template=True, theory=_THEORY))
T101 = enter(Entry("T101", Shelf.HOLDS, reads=_READS, forbids_template=True, theory=_THEORY))
T102 = enter(Entry("T102", Shelf.HOLDS, reads=_READS, theory=_THEORY))
T103 = enter(Entry("T103", Shelf.HOLDS, reads=_READS, theory=_THEORY))
T104 = enter(Entry("T104", Shelf.SETTLE, step="template", reads=_READS, theory=_THEORY))
T105 = enter(Entry("T105", Shelf.KNOW, step="template", reads=_READS, theory=_THEORY))

SAME_IN = 1e-6
"""Two lengths closer than this are the same: the accuracy promised for the whole chain [in]."""

_CLAMPS = practice("clamps at two opposite sides")

_WORK = Ground(
    Source("PRACTICE", "a hole is opened from its pilot; it cannot be made smaller"), Grade.COMPUTED
)

T106 = enter(Entry("T106", Shelf.HOLDS, step="template", reads=("cover", "holes", "rows", "template")))


def template_findings(layout: Layout, making: Making | None = None) -> tuple[Finding, ...]:
    """Judge the template of a job."""
    try:
        making = making or making_of(layout)
    except GeometryError as error:
        # T100: the cutter, its guide and the end mill fit the opening.
        cause = error.where if isinstance(error.where, str) else ""
        subject = said("T100.subject")
        return (stated("T100", Status.STOP, subject, CLOSED_FORM, *why(error), cause=cause),)
    if making is None:
        return ()
    offset = offset_told(making.chain, flat_size(making) if template_stretch(making.layout) else None)
    return (over_cut(making.chain), _corner(making), runs_told(making.chain), *_room(making), offset)


def over_cut(chain: GuideChain) -> Finding:
    """T101: the predicted cut takes no metal beyond the rough line; what is over-cut is never filed back."""
    over, guide = chain.deviation.over_cut, chain.guide
    depth_in = over.depth_in if over.depth_in > SAME_IN else 0.0
    least_in = (guide.guide_in - guide.cut_in) / 2.0
    sizes = {"guide": guide.guide_in, "cut": guide.cut_in}
    working = CLOSED_FORM.lengths("Q >= (guide - cut) / 2", **{"least re-entrant radius": least_in}, **sizes)
    more = (working,) if guide.is_window else ()
    judged = CLOSED_FORM.at_most(Measure("over-cut", depth_in), 0.0, *more)
    where = (said("T101.where", place=Place(*over.place)),) if over.place else ()
    do = said("T101.do", radius=inch(least_in, fine=True), width=inch(2.0 * least_in, fine=True))
    place = over.place if depth_in else None
    return held("T101", judged, said("T101.subject"), *where, do, place=place)


def _corner(making: Making) -> Finding:
    """T102: the sharpest corner that the cutter leaves is the one that is wanted."""
    chain = making.chain
    judged = corner_held(chain, making.layout.bulging_corner)
    subject = corner_subject(chain)
    if judged.status is Status.PASS:
        return held("T102", judged, subject)
    wanted_in, made_in = (
        one.radius_in if one else 0.0 for one in (chain.wanted_corner, chain.predicted_corner)
    )
    ways = corner_remedies(making, wanted_in=wanted_in, made_in=made_in)
    made = chain.predicted_corner
    return held("T102", judged, subject, *ways, place=made.place if made else None)


def corner_subject(chain: GuideChain) -> Said:
    """What T102 is about."""
    kind = said("template.window" if chain.guide.is_window else "template.plug")
    return said("T102.subject", template=kind)


def corner_held(chain: GuideChain, finished: Corner | None) -> Judgement:
    """Hold the sharpest corner that the cutter leaves to the one that is wanted.

    Args:
        finished: the sharpest corner of the opening once it is filed, None without one.
    """
    guide, wanted, made = chain.guide, chain.wanted_corner, chain.predicted_corner
    wanted_in, made_in, finished_in = (one.radius_in if one else 0.0 for one in (wanted, made, finished))
    sizes = {"R": made_in, "r": wanted_in, "cut": guide.cut_in, "guide": guide.guide_in}
    formula = "R = max(r, (guide + cut) / 2)"
    if guide.is_window:
        formula = "R = max(r, cut / 2, (end mill - guide + cut) / 2)"
        sizes["end mill"] = guide.stretch_ratio * guide.end_mill_in
    working = CLOSED_FORM.lengths(formula, **sizes)
    # Filing all round to the finished line, and a little more in the corner, makes a corner that is no larger than the
    # finished one.
    fails_as = Status.CAUTION if made_in <= finished_in + SAME_IN else Status.STOP
    radius = Measure("R", wanted_in if abs(made_in - wanted_in) <= SAME_IN else made_in)
    return CLOSED_FORM.at_most(radius, wanted_in, working, fails_as=fails_as)


def runs_told(chain: GuideChain) -> Finding:
    """T103: the cutter goes round every loop of the wanted cut, and round nothing else."""
    wanted, runs = len(chain.wanted.loops), len(chain.reached.loops)
    judged = the_same(Measure("runs", float(runs), unit="runs"), CLOSED_FORM.bound(float(wanted)))
    return held("T103", judged, said("T103.subject", n=runs), said("T103.do"))


def _room(making: Making) -> Iterator[Finding]:
    """T104: the blank holds the template, and the machine's travel holds the template and its clamps."""
    template, outline_in = making.template, template_outline(making)
    for name, given, ground, clamps_in in (
        ("blank", template.blank, CLOSED_FORM, 0.0),
        ("travel", template.envelope, _CLAMPS, 2.0 * CLAMP_IN),
    ):
        if given is None:
            continue
        room = room_for(outline_in, (given[0].inch, given[1].inch))
        subject = said(f"T104.{name}", size=size(outline_in))
        if room.holds:
            spare = ground.at_least(Measure("spare", room.ample_in), clamps_in, fails_as=Status.CAUTION)
            yield held("T104", spare, subject, room.words, said("T104.hold_from_below"))
        else:
            short = ground.at_least(Measure("spare", room.tight_in), 0.0)
            yield held("T104", short, subject, said(f"T104.larger_{name}"))


def offset_told(chain: GuideChain, flat_in: tuple[float, float] | None = None) -> Finding:
    """T105: the offset of this cutter, with the size of the template that it makes; an answer, not a judgement.

    Args:
        flat_in: size of a template that is bent onto the skin, along X and Y as made; None for one that is not [in].
    """
    guide = chain.guide
    x_min, y_min, x_max, y_max = chain.machinable.bounds
    sign, of = ("-", "window") if guide.is_window else ("+", "plug")
    sizes = {"offset": guide.offset_in, "guide": guide.guide_in, "cut": guide.cut_in}
    told = (CLOSED_FORM.lengths(f"offset = (guide {sign} cut) / 2", **sizes),)
    on_skin = size((x_max - x_min, y_max - y_min))
    subject = said(f"T105.{of}", size=on_skin)
    if flat_in is not None:
        subject = said(f"T105.{of}_bent", size=on_skin, flat=size(flat_in))
    return stated("T105", Status.PASS, subject, CLOSED_FORM, value=guide.offset_in, unit="in", working=told)


def pilot_findings(making: Making) -> tuple[Finding, ...]:
    """Judge the pilot holes of a job's template: T106 for each size that is drilled through it too large, one
    that passes when none is; not shown for what no table lists; empty without pilot holes."""
    holes = template_holes(making)
    lacking = (*unlisted_findings(T106, making.layout.holes), *_not_known(making.layout))
    if not holes:
        return lacking
    largest_in = max(one.pilot_in for one in holes)
    fits = stated("T106", Status.PASS, said("T106.largest"), _WORK, value=largest_in, unit="in")
    return (*(tuple(_too_large(making)) or (fits,)), *lacking)


def _not_known(layout: Layout) -> Iterator[Finding]:
    """The holes that get no pilot because nobody knows their first drill."""
    listed = [hole for hole in layout.holes if hole.nominal_in is not None]
    found = [hole for hole in listed if first_drill(hole, layout) is None]
    if found:
        rows = Listed(tuple(dict.fromkeys(hole.row for hole in found)), ",")
        subject, do = said("T106.not_known", n=len(found), rows=rows), said("T106.not_known.do")
        numbers, place = tuple(hole.number for hole in found), found[0].place
        yield stated("T106", Status.UNKNOWN, subject, _WORK, do, holes=numbers, place=place)


def larger_than_drill(making: Making) -> dict[tuple[float, Drill], list[TemplateHole]]:
    """The holes of a template that are larger than the first drill of what lies under them, by their size [in] and
    that drill."""
    found: dict[tuple[float, Drill], list[TemplateHole]] = {}
    for one in template_holes(making):
        drill = None if one.hole.is_drilled else first_drill(one.hole, making.layout)
        if drill and one.pilot_in > drill.diameter_in + FLOAT_NOISE:
            found.setdefault((one.pilot_in, drill), []).append(one)
    return found


def _too_large(making: Making) -> Iterator[Finding]:
    """Each size of the template with each smaller drill that holes under it ask for first."""
    for (size_in, drill), found in larger_than_drill(making).items():
        rows = Listed(tuple(dict.fromkeys(one.hole.row for one in found)), ",")
        given, first = inch(size_in, fine=True), inch(drill.diameter_in, fine=True)
        subject = said("T106.too_large", n=len(found), size=given, drill=str(drill), first=first, rows=rows)
        pilot = _WORK.at_most(Measure("pilot", size_in), drill.diameter_in)
        numbers, worst = tuple(one.hole.number for one in found), found[0].hole
        at = (worst.x_in, worst.y_in)
        yield held("T106", pilot, subject, said("T106.do"), holes=numbers, place=at)
