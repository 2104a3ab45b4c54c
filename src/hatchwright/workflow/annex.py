"""The desk annex of one side, from its examination."""

from __future__ import annotations

from hatchwright.documents.annex import annex
from hatchwright.documents.typst_pdf import Part, pdf_from
from hatchwright.drawings.way_in_view import drawn_way_in
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.said import said
from hatchwright.words.tell import tell
from hatchwright.workflow.paper_set import PaperSet


def annex_part(one: PaperSet) -> Part:
    """The annex of one side, not yet set."""
    side = one.examination
    data = annex(
        side.layout,
        side.making,
        side.worst_first(),
        verdict=side.verdict,
        not_checked=side.not_checked(),
        date=one.date,
        tried=side.remedies,
    )
    drawn = drawn_way_in(side.layout)
    if drawn is None:
        return Part("annex", data)
    data["words"]["way_in"] = tell(said("way_in.heading"))
    data["way_in"] = list(drawn.told)
    pictures = {"way_in": picture_svg_of(drawn.sheet, margin_in=0.02)}
    return Part("annex", data, pictures, {"way_in": tell(said("way_in.drawn"))})


def annex_of(one: PaperSet) -> bytes:
    """The annex of one side (PDF).

    Raises:
        ExportError: the file did not read back as it was written.
    """
    part = annex_part(one)
    return pdf_from(
        part,
        title=part.data["head"]["title"],
        paper=one.paper.plain,
        stamp=one.stamp,
        chain_head=one.recorded.head,
    )
