"""T1xx: whether the template gives the wanted cut, and whether it can be made."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.errors import GeometryError
from hatchwright.finding import Finding, Grade, Quantity, Source, Status, Working
from hatchwright.layout.layout import Layout
from hatchwright.tooling.guide_template import (
    Guide,
    GuideChain,
    guide_chain,
    job_chain,
    least_corner,
    template_outline,
)
from hatchwright.units import decimal_inch

CLOSED_FORM = Source("GEOMETRY", "docs/theory/guide_template.md")
SAME_IN = 1e-6
"""Two radii closer than this are the same [in]."""

CLAMP_IN = 0.75
"""Room that a clamp takes at an edge; common practice, no source [in]."""

_OVER_CUT_IN = 1e-6


def template_findings(layout: Layout) -> tuple[Finding, ...]:
    """Judge the template of a job.

    Args:
        layout: as derived.
    Returns:
        tuple: findings in the order of their code; empty when the job has no cutter or template.
    """
    try:
        chain = job_chain(layout)
    except GeometryError as error:
        return (_finding("T100", Status.STOP, str(error.where), None, None, advice=f"{error.what}. {error.remedy}."),)
    if chain is None:
        return ()
    return (
        _over_cut(chain),
        _corner(chain),
        *_lost_places(chain),
        *_blank(layout, chain),
    )


def _finding(
    code: str,
    status: Status,
    subject: str,
    value: float | None,
    limit: float | None,
    *,
    unit: str = "in",
    advice: str = "",
    place: tuple[float, float] | None = None,
    working: tuple[Working, ...] = (),
) -> Finding:
    short = abs(value - limit) if status is not Status.PASS and value is not None and limit is not None else 0.0
    return Finding(
        code=code,
        status=status,
        subject=subject,
        value=value,
        limit=limit,
        unit=unit,
        source=CLOSED_FORM,
        grade=Grade.COMPUTED,
        working=working,
        advice=advice,
        place=place,
        shortfall=short,
    )


def _over_cut(chain: GuideChain) -> Finding:
    """T101: the predicted cut takes no metal beyond the rough line; what is over-cut is never filed back."""
    over = chain.deviation.over_cut
    is_over = over.depth_in > _OVER_CUT_IN
    guide = chain.guide
    return _finding(
        "T101",
        Status.STOP if is_over else Status.PASS,
        "deepest over-cut of the predicted cut",
        over.depth_in,
        0.0,
        advice=(
            f"A corner of the skin that points into the opening is over-cut by {decimal_inch(over.depth_in, 4)} at "
            f"({over.place[0]:.3f}, {over.place[1]:.3f}); its radius must be at least (guide - cut) / 2 = "
            f"{decimal_inch((guide.guide_in - guide.cut_in) / 2.0, 4)}. Use a smaller guide. No file is offered."
        )
        if is_over and over.place
        else "",
        place=over.place if is_over else None,
    )


def _corner(chain: GuideChain) -> Finding:
    """T102: the sharpest corner that the cutter leaves is the one that is wanted."""
    wanted, made = least_corner(chain.wanted), least_corner(chain.predicted)
    wanted_in = wanted.radius_in if wanted else math.inf
    made_in = made.radius_in if made else math.inf
    guide = chain.guide
    formula = "R = max(r, cut/2, end mill/2 - guide/2 + cut/2)" if guide.kind == "female" else "R >= (guide + cut) / 2"
    working = Working(
        formula,
        (
            Quantity("r", wanted_in, "in"),
            Quantity("cut", guide.cut_in, "in"),
            Quantity("guide", guide.guide_in, "in"),
            Quantity("end mill", guide.end_mill_in, "in"),
        ),
        Quantity("R", made_in, "in"),
        CLOSED_FORM,
        Grade.COMPUTED,
    )
    wrong_in = made_in - wanted_in
    is_wrong = wrong_in > SAME_IN
    return _finding(
        "T102",
        Status.STOP if is_wrong else Status.PASS,
        f"smallest corner of the predicted cut, {guide.kind} template",
        made_in,
        wanted_in,
        advice=_corner_remedies(chain, wanted_in, made_in) if is_wrong else "",
        place=made.place if made and is_wrong else None,
        working=(working,),
    )


def _corner_remedies(chain: GuideChain, wanted_in: float, made_in: float) -> str:
    """Every way to the wanted corner, each with its sizes."""
    left = chain.deviation.under_cut
    said = [
        f"The corner will be {decimal_inch(made_in, 4)}, not {decimal_inch(wanted_in, 4)}: wrong by "
        f"{decimal_inch(made_in - wanted_in, 4)}, {decimal_inch(left.depth_in, 4)} left in the corner to file."
    ]
    guide = chain.guide
    if guide.kind == "male":
        window = _window_instead(chain)
        if window:
            said.append(window)
        least_guide = 2.0 * wanted_in - guide.cut_in
        if least_guide > 0:
            said.append(f"Or a guide of at most {decimal_inch(least_guide, 4)} on a plug made for it.")
    elif guide.cut_in / 2.0 > wanted_in + SAME_IN:
        said.append(f"Or a cutter of at most {decimal_inch(2.0 * wanted_in, 4)} cut width.")
    else:
        largest = 2.0 * (wanted_in + guide.offset_in)
        said.append(f"Or an end mill of at most {decimal_inch(largest, 4)} for the template.")
    if wanted_in > 0:
        said.append(
            f"Or drill the corners first, {decimal_inch(2.0 * wanted_in, 4)} diameter at the arc centres, then cut straight."
        )
    return " ".join(said)


def _window_instead(chain: GuideChain) -> str:
    """A female template for the same cutter, when it gives the corner."""
    guide = chain.guide
    try:
        window = guide_chain(chain.wanted, Guide(guide.cut_in, guide.guide_in, guide.end_mill_in, "female"))
    except GeometryError:
        return ""
    made, wanted, corner = least_corner(window.predicted), least_corner(chain.wanted), least_corner(window.machinable)
    if made is None or wanted is None or corner is None or made.radius_in > wanted.radius_in + SAME_IN:
        return ""
    x_min, y_min, x_max, y_max = window.machinable.bounds
    return (
        f"A female template {decimal_inch(x_max - x_min, 4)} x {decimal_inch(y_max - y_min, 4)}, corner "
        f"{decimal_inch(corner.radius_in, 4)}, gives it with the same cutter."
    )


def _lost_places(chain: GuideChain) -> Iterator[Finding]:
    """T103: the cut stays in one piece and reaches every part of the opening."""
    wanted, cuts = len(chain.wanted.loops), len(chain.reached.loops)
    is_split = cuts != wanted
    yield _finding(
        "T103",
        Status.STOP if is_split else Status.PASS,
        f"separate runs of the cutter: {cuts}",
        float(cuts),
        float(wanted),
        unit="runs",
        advice="A neck is narrower than the cut, or a tongue leaves no wall in the template. Use a smaller cutter or guide."
        if is_split
        else "",
    )


def _blank(layout: Layout, chain: GuideChain) -> Iterator[Finding]:
    """T104: the blank holds the template, and the machine's travel holds the blank."""
    template = layout.job.template
    assert template is not None  # a chain comes from a template
    width_in, height_in = template_outline(layout, chain)
    for name, room in (("blank", template.blank), ("machine's travel", template.envelope)):
        if room is None:
            continue
        given = sorted((room[0].inch, room[1].inch))
        needed = sorted((width_in, height_in))
        spare = min(g - n for g, n in zip(given, needed, strict=True))
        clamps_in = 2.0 * CLAMP_IN if name == "machine's travel" else 0.0
        status = Status.STOP if spare < 0 else Status.CAUTION if spare < clamps_in else Status.PASS
        yield _finding(
            "T104",
            status,
            f"template with border {width_in:.3f} x {height_in:.3f} in the {name}",
            spare,
            clamps_in,
            advice=""
            if status is Status.PASS
            else "It does not fit: take a narrower border, or a larger one."
            if status is Status.STOP
            else f"Only {decimal_inch(spare)} to spare: clamps will be in the way. Hold it from below or by screws.",
        )
