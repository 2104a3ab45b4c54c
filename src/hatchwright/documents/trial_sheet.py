"""The trial sheet: what cutter, dies, countersinks and rivets must do on scrap before they touch the aircraft."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.trial_cutter import cutter_section
from hatchwright.documents.trial_heads import head_sections
from hatchwright.documents.trial_rivets import rivet_section
from hatchwright.documents.trial_row import TrialSection
from hatchwright.documents.typst_pdf import Part
from hatchwright.layout.layout import Layout
from hatchwright.making.guide import job_recipe
from hatchwright.making.making import Making
from hatchwright.said import Value, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell

_HEADINGS = ("what", "must", "was", "pass", "fail")


def trial_sections(layout: Layout, making: Making | None) -> tuple[TrialSection, ...]:
    """What a job proves on scrap; none where it has nothing to prove."""
    heads = head_sections(layout, job_recipe(layout, making))
    found = (cutter_section(layout, making), *heads, rivet_section(layout))
    return tuple(one for one in found if one is not None)


def trial_part(layout: Layout, sections: Sequence[TrialSection], *, date: str, stop: str) -> Part:
    """The trial sheet of a job as a paper.

    Args:
        stop: what holds work on the aircraft back; "" where nothing does.
    """
    head = paper_head(layout.job, said("trial_sheet.title"), date=date)
    return Part("trial_sheet", {"head": head, "stop": stop, **trial_on_paper(sections, layout.job.unit)})


def trial_on_paper(sections: Iterable[TrialSection], unit: Unit) -> dict[str, Any]:
    """The sections as the template prints them."""

    def told(what: Value) -> str:
        return tell(what, unit)

    return {
        "words": {name: told(said(f"trial_sheet.heading.{name}")) for name in _HEADINGS},
        "first": told(said("trial_sheet.first")),
        "failed": told(said("trial_sheet.failed")),
        "proved_by": told(said("trial_sheet.proved_by")),
        "second": told(said("lists.count.second")),
        "sections": [
            {
                "title": told(one.title),
                "how": " ".join(map(told, one.how)),
                "rows": [[told(row.what), told(row.must), row.is_measured] for row in one.rows],
            }
            for one in sections
        ],
    }
