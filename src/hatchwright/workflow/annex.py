"""The desk annex of one side, from its examination."""

from __future__ import annotations

from hatchwright.documents.annex import annex
from hatchwright.documents.typst_pdf import Part, pdf_from
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
    return Part("annex", data)


def annex_of(one: PaperSet) -> bytes:
    """The annex of one side (PDF).

    Raises:
        ExportError: the file did not read back as it was written.
    """
    part = annex_part(one)
    return pdf_from(part, title=part.data["head"]["title"], paper=one.paper.plain, stamp=one.stamp)
