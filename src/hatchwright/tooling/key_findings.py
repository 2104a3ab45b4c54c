"""T8xx: whether the template can only be laid as it should be."""

from __future__ import annotations

from hatchwright.finding import Finding, Grade, Source, Status
from hatchwright.layout.layout import Layout
from hatchwright.tooling.answer import answer
from hatchwright.tooling.guide_template import GuideChain
from hatchwright.tooling.key import SEEN_IN, misfit_in, shows_in
from hatchwright.tooling.template_part import TemplatePart, template_part

_PRACTICE = Source("PRACTICE", "an edge or mark seen off its place; docs/theory/key.md")


def key_findings(layout: Layout, chain: GuideChain) -> tuple[Finding, ...]:
    """Judge the key of a job's template.

    Args:
        layout: as derived.
        chain: its template.
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
