"""T1xx: whether the template gives the wanted cut, and whether it can be made."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.errors import GeometryError
from hatchwright.finding import Finding
from hatchwright.job.cutter import Template
from hatchwright.judged import Status
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.layout import Layout
from hatchwright.making.answer import CLOSED_FORM, answer, place_words, size_words
from hatchwright.making.template.corner_remedies import corner_remedies
from hatchwright.making.template.guide_template import (
    GuideChain,
    flat_size,
    job_chain,
    template_outline,
)
from hatchwright.making.template.machine_room import CLAMP_IN, room_for
from hatchwright.units import Unit, length_words
from hatchwright.workings import Grade, Quantity, Source, Working

SAME_IN = 1e-6
"""Two lengths closer than this are the same: the accuracy promised for the whole chain [in]."""


def template_findings(layout: Layout, chain: GuideChain | None = None) -> tuple[Finding, ...]:
    """Judge the template of a job.

    Args:
        chain: its template, when it has been worked out already.
    Returns:
        tuple: findings in the order of their code; empty when the job has no cutter or template.
    """
    try:
        chain = chain or job_chain(layout)
    except GeometryError as error:
        remedy = f" {error.remedy}." if error.remedy else ""
        return (answer("T100", Status.STOP, error.where or "template", advice=f"{error.what}.{remedy}"),)
    if chain is None or layout.job.template is None:
        return ()
    return (
        _over_cut(layout, chain),
        _corner(layout, chain),
        _runs(chain),
        *_room(layout.job.template, template_outline(layout, chain), layout.job.unit),
        _offset(layout, chain),
    )


def _over_cut(layout: Layout, chain: GuideChain) -> Finding:
    """T101: the predicted cut takes no metal beyond the rough line; what is over-cut is never filed back."""
    over, guide = chain.deviation.over_cut, chain.guide
    is_over = over.depth_in > SAME_IN
    unit = layout.job.unit
    least_in = (guide.guide_in - guide.cut_in) / 2.0
    working = Working(
        "Q >= (guide - cut) / 2",
        (Quantity("guide", guide.guide_in, "in"), Quantity("cut", guide.cut_in, "in")),
        Quantity("least re-entrant radius", least_in, "in"),
        CLOSED_FORM,
        Grade.COMPUTED,
    )
    return answer(
        "T101",
        Status.STOP if is_over else Status.PASS,
        "deepest over-cut of the predicted cut",
        value=over.depth_in,
        limit=0.0,
        advice=(
            f"The cut goes {length_words(over.depth_in, unit, fine=True)} beyond the rough line"
            + (f" at {place_words(over.place, unit)}" if over.place else "")
            + ", where the skin points into the opening, and cannot be filed back. A corner there must have a radius "
            f"of at least {length_words(least_in, unit, fine=True)}, and a tongue a width of more than "
            f"{length_words(2.0 * least_in, unit, fine=True)}. "
            "Use a smaller guide. No file is offered."
        ),
        place=over.place,
        working=(working,) if guide.kind == "female" else (),
    )


def _corner(layout: Layout, chain: GuideChain) -> Finding:
    """T102: the sharpest corner that the cutter leaves is the one that is wanted."""
    wanted, made, finished = chain.wanted_corner, chain.predicted_corner, layout.bulging_corner
    wanted_in, made_in, finished_in = (
        corner.radius_in if corner else 0.0 for corner in (wanted, made, finished)
    )
    guide = chain.guide
    sizes = [
        Quantity("r", wanted_in, "in"),
        Quantity("cut", guide.cut_in, "in"),
        Quantity("guide", guide.guide_in, "in"),
    ]
    formula = "R = max(r, (guide + cut) / 2)"
    if guide.kind == "female":
        formula = "R = max(r, cut / 2, (end mill - guide + cut) / 2)"
        sizes.append(Quantity("end mill", guide.stretch_ratio * guide.end_mill_in, "in"))
    working = Working(formula, tuple(sizes), Quantity("R", made_in, "in"), CLOSED_FORM, Grade.COMPUTED)
    if made_in <= wanted_in + SAME_IN:
        status = Status.PASS
    elif made_in <= finished_in + SAME_IN:
        status = (
            Status.CAUTION
        )  # filing all round to the finished line, and a little more in the corner, makes it
    else:
        status = Status.STOP
    return answer(
        "T102",
        status,
        f"smallest corner of the predicted cut, {guide.kind} template",
        value=made_in,
        limit=wanted_in,
        advice=corner_remedies(layout, chain, wanted_in=wanted_in, made_in=made_in),
        place=made.place if made else None,
        working=(working,),
    )


def _runs(chain: GuideChain) -> Finding:
    """T103: the cutter goes round every loop of the wanted cut, and round nothing else."""
    wanted, runs = len(chain.wanted.loops), len(chain.reached.loops)
    return answer(
        "T103",
        Status.PASS if runs == wanted else Status.STOP,
        f"separate runs of the cutter: {runs}",
        value=float(runs),
        limit=float(wanted),
        unit="runs",
        advice="A neck is narrower than the cut, or a tongue leaves no wall in the template. "
        "Use a smaller cutter or guide, or cut that part by hand.",
    )


def _room(template: Template, outline_in: tuple[float, float], unit: Unit) -> Iterator[Finding]:
    """T104: the blank holds the template, and the machine's travel holds the template and its clamps."""
    practice = Source("PRACTICE", "clamps at two opposite sides")
    for name, more, room, clamps_in in (
        ("blank", "larger blank", template.blank, 0.0),
        ("machine's travel", "machine with more travel", template.envelope, 2.0 * CLAMP_IN),
    ):
        if room is None:
            continue
        found = room_for(outline_in, (room[0].inch, room[1].inch))
        fits = found.holds if clamps_in == 0.0 else found.holds_clamps
        yield answer(
            "T104",
            Status.PASS if fits else Status.CAUTION if found.holds else Status.STOP,
            f"template with border, {size_words(outline_in, unit)}, and the {name}",
            value=found.ample_in if found.holds else found.tight_in,
            limit=clamps_in if found.holds else 0.0,
            source=practice if clamps_in else CLOSED_FORM,
            grade=Grade.PRACTICE if clamps_in else Grade.COMPUTED,
            advice=f"In the {name} {found.words(unit)}. "
            + (
                "Hold it from below or by screws through the waste."
                if found.holds
                else f"Take a narrower border, or a {more}."
            ),
        )


def _offset(layout: Layout, chain: GuideChain) -> Finding:
    """T105: the offset of this cutter, with the size of the template that it makes; an answer, not a judgement."""
    guide = chain.guide
    sign = "-" if guide.kind == "female" else "+"
    x_min, y_min, x_max, y_max = chain.machinable.bounds
    unit = layout.job.unit
    working = Working(
        f"offset = (guide {sign} cut) / 2",
        (Quantity("guide", guide.guide_in, "in"), Quantity("cut", guide.cut_in, "in")),
        Quantity("offset", guide.offset_in, "in"),
        CLOSED_FORM,
        Grade.COMPUTED,
    )
    word = "window" if guide.kind == "female" else "plug"
    made = ""
    if template_stretch(layout):
        made = f" on the skin, {size_words(flat_size(layout, chain), unit)} flat"
    return answer(
        "T105",
        Status.PASS,
        f"guide offset; the template's {word} is {size_words((x_max - x_min, y_max - y_min), unit)}{made}",
        value=guide.offset_in,
        working=(working,),
    )
