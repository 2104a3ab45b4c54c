"""T8xx: whether the template can only be laid as it should be."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.layout.layout import Layout
from hatchwright.making.answer import answer
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.making.template.holes_in_hand import HoleInHand, holes_in_hand
from hatchwright.making.template.key import SEEN_IN, misfit_in, shows_in
from hatchwright.making.template.part import TemplatePart, template_part
from hatchwright.units import Unit, length_words
from hatchwright.workings import Grade, Source

_PRACTICE = Source("PRACTICE", "an edge or mark seen off its place; docs/theory/key.md")


def key_findings(layout: Layout, chain: GuideChain) -> tuple[Finding, ...]:
    """Judge the key of a job's template.

    Returns:
        tuple: one finding, T801.
    """
    shows = shows_in(template_part(layout, chain))
    return (
        answer(
            "T801",
            Status.PASS if shows >= SEEN_IN else Status.CAUTION,
            "how far the template comes off its place when it is turned or laid face down",
            value=shows,
            limit=SEEN_IN,
            source=_PRACTICE,
            grade=Grade.PRACTICE,
            advice="It can be laid wrongly and nobody sees it: widen the border, or drill a key hole off both centre "
            "lines and mark its place on the skin.",
        ),
    )


def laid_on(template: TemplatePart, job: TemplatePart, *, same_in: float = SEEN_IN) -> Finding:
    """Judge a template in hand against the one that a job needs.

    Args:
        template: in hand, face up.
        job: that of the job, face up.
        same_in: below this no difference is seen, by eye when not given [in].
    Returns:
        Finding: T802, a stop when it does not fit in any way face up.
    """
    off_in = misfit_in(template, job)
    return answer(
        "T802",
        Status.PASS if off_in < same_in else Status.STOP,
        "the template in hand against that of the job, edges and key",
        value=off_in,
        limit=same_in,
        source=_PRACTICE,
        grade=Grade.PRACTICE,
        advice="This is not the template of this job: it was made for the other side, for another job, or before "
        "the job or its cutter was changed.",
    )


def holes_laid_on(template: TemplatePart, job: TemplatePart, *, unit: Unit, same_in: float) -> Finding | None:
    """Judge the holes of a template in hand against those that a job needs, its edges laid on the job's.

    Args:
        template: in hand, face up.
        job: that of the job, face up.
        same_in: below this no difference is seen [in].
    Returns:
        Finding | None: T803, a stop that names every hole that differs; unknown when the one in hand has none; None
            when neither has any.
    """
    if not template.pilots and not job.pilots:
        return None
    if not template.pilots:
        return answer(
            "T803",
            Status.UNKNOWN,
            "holes not compared: the template in hand has none",
            source=_PRACTICE,
            grade=Grade.PRACTICE,
            advice=f"The job drills {len(job.pilots)} holes through its template. Compare them on the template itself, "
            "or give the file with its layer of pilot holes.",
        )
    found = holes_in_hand(template, job)
    off = [one for one in found if not one.is_same(same_in)]
    return answer(
        "T803",
        Status.STOP if off else Status.PASS,
        f"holes of the template in hand against those of the job, {len(found)} of them"
        + (f", {len(off)} of which differ" if off else ""),
        value=max(one.off_in for one in found),
        limit=same_in,
        source=_PRACTICE,
        grade=Grade.PRACTICE,
        advice=f"Drill nothing through it: {'; '.join(_differences(off, unit))}. It was made before holes or opening "
        "were moved, or for another job.",
    )


def _differences(off: list[HoleInHand], unit: Unit) -> Iterator[str]:
    """What is wrong, with the names of all holes that it is wrong with."""
    listed: dict[str, list[str]] = {}
    for one in off:
        named = one.wanted or one.made
        assert named is not None  # a pair has one of them
        listed.setdefault(_difference(one, unit), []).append(named.name)
    for what, names in listed.items():
        yield f"{', '.join(names)}: {what}"


def _difference(one: HoleInHand, unit: Unit) -> str:
    if one.made is None:
        return "not in it"
    if one.wanted is None:
        return "not of this job"
    said = [f"{length_words(one.off_in, unit)} off its place"] if one.off_in >= FLOAT_NOISE else []
    made_in, wanted_in = one.made.diameter_in, one.wanted.diameter_in
    if abs(made_in - wanted_in) >= FLOAT_NOISE:
        said.append(
            f"{length_words(made_in, unit, fine=True)}, not {length_words(wanted_in, unit, fine=True)}"
        )
    return ", ".join(said)
