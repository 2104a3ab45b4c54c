"""T8xx: whether the template can only be laid as it should be."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, held, held_as, stated
from hatchwright.ground import practice
from hatchwright.judged import FLOAT_NOISE, OFF, Judgement, Measure, Status
from hatchwright.making.making import Making
from hatchwright.making.template.key import SEEN_IN, HoleInHand, holes_in_hand, misfit_in, shows_in
from hatchwright.making.template.part import TemplatePart, template_part
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Listed, Said, inch, said

_READS = ("cutter", "template", "wanted")
_THEORY = "docs/theory/key.md"
_PRACTICE = practice(f"an edge or mark seen off its place; {_THEORY}")

T801 = enter(Entry("T801", Shelf.PLACE, step="template", reads=_READS, theory=_THEORY))
T802 = enter(Entry("T802", Shelf.PLACE, step="template", reads=_READS, theory=_THEORY))
T803 = enter(
    Entry("T803", Shelf.PLACE, step="template", reads=("holes", "template", "wanted"), theory=_THEORY)
)


def key_findings(making: Making) -> tuple[Finding, ...]:
    """Judge the key of a job's template."""
    off = Measure("off its place", shows_in(template_part(making)))
    judged = _PRACTICE.at_least(off, SEEN_IN, fails_as=Status.CAUTION)
    return (held("T801", judged, said("T801.subject"), said("T801.do")),)


def laid_on(template: TemplatePart, job: TemplatePart, *, same_in: float = SEEN_IN) -> Finding:
    """T802: judge a template in hand against the one that a job needs; a stop when it does not fit in any way
    face up. A difference below `same_in` is not seen, by eye when not given [in]."""
    return held("T802", _unseen(misfit_in(template, job), same_in), said("T802.subject"), said("T802.do"))


def _unseen(off_in: float, same_in: float) -> Judgement:
    """Hold a difference to what is seen; what is off by as much is seen."""
    return _PRACTICE.at_most(Measure(OFF, off_in), same_in, strict=True)


def holes_laid_on(template: TemplatePart, job: TemplatePart, *, same_in: float) -> Finding | None:
    """T803: judge the holes of a template in hand against those that a job needs, its edges laid on the
    job's: a stop that names every hole that differs, unknown when the one in hand has none, None when neither
    has any."""
    if not template.pilots and not job.pilots:
        return None
    if not template.pilots:
        do = said("T803.compare", n=len(job.pilots))
        return stated("T803", Status.UNKNOWN, said("T803.not_compared"), _PRACTICE, do)
    found = holes_in_hand(template, job)
    off = [one for one in found if not one.is_same(same_in)]
    # A hole that is missing, or of another size, is off by no distance at all.
    judged = _unseen(max(one.off_in for one in found), same_in)
    if off:
        subject = said("T803.differ", n=len(off), of=len(found))
        return held_as("T803", judged, Status.STOP, subject, said("T803.do"), *_differences(off))
    return held("T803", judged, said("T803.same", n=len(found)))


def _differences(off: list[HoleInHand]) -> Iterator[Said]:
    """What is wrong, with the names of all holes that it is wrong with."""
    listed: dict[Said, list[str]] = {}
    for one in off:
        for what in _difference(one):
            if named := one.wanted or one.made:
                listed.setdefault(what, []).append(named.name)
    for what, names in listed.items():
        yield said("T803.holes", holes=Listed(tuple(names), ","), what=what)


def _difference(one: HoleInHand) -> Iterator[Said]:
    if one.made is None:
        yield said("T803.not_in_it")
    elif one.wanted is None:
        yield said("T803.not_of_job")
    else:
        if one.off_in >= FLOAT_NOISE:
            yield said("T803.off", by=inch(one.off_in))
        made_in, wanted_in = one.made.diameter_in, one.wanted.diameter_in
        if abs(made_in - wanted_in) >= FLOAT_NOISE:
            yield said("T803.size", made=inch(made_in, fine=True), wanted=inch(wanted_in, fine=True))
