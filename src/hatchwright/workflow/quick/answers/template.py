"""Guide offset and template size: the template that gives an opening with the cutter in hand."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from hatchwright.finding import Finding, held
from hatchwright.ground import CLOSED_FORM
from hatchwright.job.cutter import Cutter, Template
from hatchwright.job.entry import Diameter, NotNegative, SameAs
from hatchwright.judged import Status
from hatchwright.layout.named import size
from hatchwright.layout.outlines import rough_cut
from hatchwright.making.template.findings import (
    corner_held,
    corner_subject,
    offset_told,
    over_cut,
    runs_told,
)
from hatchwright.making.template.guide_template import Guide, GuideChain, chain_for
from hatchwright.said import Said, inch, said
from hatchwright.shapes.corners import smallest_corner
from hatchwright.shapes.profile import Profile
from hatchwright.workflow.quick.answer import Answer, Bench, Quick, Told, told
from hatchwright.workflow.quick.rectangle import RectangleAsked


class TemplateAsked(RectangleAsked):
    """An opening, the cutter in hand, and the machine that cuts the template."""

    template: Annotated[Literal["female", "male"], SameAs(Cutter, "template")]
    cut_width: Annotated[Diameter, SameAs(Cutter, "cut_width")]
    guide: Annotated[Diameter, SameAs(Cutter, "guide")]
    filing_allowance: Annotated[NotNegative, SameAs(Cutter, "filing_allowance")]
    end_mill: Annotated[Diameter, SameAs(Template, "end_mill")]


def _answer(asked: TemplateAsked, bench: Bench) -> Answer:
    opening = asked.loop
    guide = Guide(asked.cut_width.inch, asked.guide.inch, asked.end_mill.inch, asked.template)
    chain = chain_for(rough_cut(opening, asked.filing_allowance.inch), guide, unit=bench.unit)
    corner = corner_held(chain, smallest_corner(opening, reentrant=False))
    findings: tuple[Finding, ...] = (
        offset_told(chain),
        over_cut(chain),
        runs_told(chain),
        held("T102", corner, corner_subject(chain), *_ways(chain)),
    )
    open_ = [said("quick.template.open.trial"), said("quick.template.open.flat")]
    if corner.status is not Status.PASS:
        open_.insert(0, said("quick.template.open.corner"))
    return Answer(findings, tuple(_told(chain)), tuple(open_))


def _ways(chain: GuideChain) -> Iterator[Said]:
    made, wanted = chain.predicted_corner, chain.wanted_corner
    sizes_in = {
        "made": made.radius_in if made else 0.0,
        "wanted": wanted.radius_in if wanted else 0.0,
        "left": chain.deviation.under_cut.depth_in,
    }
    yield said("T102.is", **{name: inch(size_in, fine=True) for name, size_in in sizes_in.items()})
    yield said("T102.file")


def _told(chain: GuideChain) -> Iterator[Told]:
    guide = chain.guide
    sign = "-" if guide.is_window else "+"
    sizes = {"offset": guide.offset_in, "guide": guide.guide_in, "cut": guide.cut_in}
    offset = CLOSED_FORM.lengths(f"offset = (guide {sign} cut) / 2", **sizes)
    yield told("template.offset", inch(guide.offset_in, fine=True), offset)
    for name, profile in (("rough", chain.wanted), ("edge", chain.machinable), ("cut", chain.predicted)):
        across_in = _across(profile)
        id = name if name != "edge" else "window" if guide.is_window else "plug"
        along = (("along X", across_in[0]), ("along Y", across_in[1]))
        formula = f"{name} by exact offsets"
        workings = tuple(CLOSED_FORM.lengths(formula, **{axis: along_in}) for axis, along_in in along)
        yield told(f"template.{id}", size(across_in), *workings)
    for name, corner in (
        ("template_corner", chain.machinable_corner),
        ("cut_corner", chain.predicted_corner),
    ):
        radius_in = corner.radius_in if corner else 0.0
        working = CLOSED_FORM.lengths("radius of the smallest corner by exact offsets", R=radius_in)
        yield told(f"template.{name}", inch(radius_in, fine=True), working)


def _across(profile: Profile) -> tuple[float, float]:
    x_min, y_min, x_max, y_max = profile.bounds
    return x_max - x_min, y_max - y_min


QUICK = Quick("template", TemplateAsked, _answer)
