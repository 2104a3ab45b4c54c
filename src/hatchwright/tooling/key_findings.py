"""T8xx: whether the template can only be laid as it should be."""

from __future__ import annotations

from hatchwright.errors import GeometryError
from hatchwright.finding import Finding, Grade, Source, Status
from hatchwright.layout.layout import Layout
from hatchwright.tooling.answer import answer
from hatchwright.tooling.guide_template import GuideChain
from hatchwright.tooling.key import SEEN_IN, Key, key_of, misfit_in
from hatchwright.units import decimal_inch

_PRACTICE = Source("PRACTICE", "a mark seen off its hole; docs/theory/key.md")


def key_findings(layout: Layout, chain: GuideChain) -> tuple[Finding, ...]:
    """Judge the key hole of a job's template.

    Args:
        layout: as derived.
        chain: its template.
    Returns:
        tuple: one finding, T801.
    """
    try:
        key = key_of(layout, chain)
    except GeometryError as error:
        advice = f"{error.what}. {error.remedy}, and mark face and direction."
        return (
            answer(
                "T801",
                Status.CAUTION,
                "key hole of the template",
                source=_PRACTICE,
                grade=Grade.PRACTICE,
                advice=advice,
            ),
        )
    x, y = key.centre
    return (
        answer(
            "T801",
            Status.PASS,
            f"key hole of {decimal_inch(key.diameter_in)} at X {x:.3f} Y {y:.3f}: how far it comes off its mark on a "
            "template that is laid wrongly",
            value=key.apart_in if key.apart_in < 1e3 else None,
            limit=SEEN_IN,
            source=_PRACTICE,
            grade=Grade.PRACTICE,
        ),
    )


def laid_on(template: Key, job: Key) -> Finding:
    """Judge a template in hand against the job that it is laid on.

    Args:
        template: key of the template.
        job: key of the job.
    Returns:
        Finding: T802, a stop when the mark does not lie in the key hole.
    """
    off_in = misfit_in(template, job)
    return answer(
        "T802",
        Status.PASS if off_in < SEEN_IN else Status.STOP,
        "key hole of the template against the mark of the job",
        value=off_in,
        limit=SEEN_IN,
        source=_PRACTICE,
        grade=Grade.PRACTICE,
        advice="This is not the template of this job: it was made for the other side, or for another job.",
    )
