"""The strength report on paper: the gate first, every margin with its steps, and no claim without loads."""

from __future__ import annotations

import io
import math
import re
from datetime import UTC, datetime

import pytest
from pypdf import PdfReader

from hatchwright.errors import ExportError
from hatchwright.search.strength_answer import StrengthAnswer
from hatchwright.strength.margin import margin_words
from hatchwright.words.tell import tell
from hatchwright.words.workings import quantity_text
from hatchwright.workflow.strength import strength_of
from hatchwright.workflow.strength_papers import strength_papers
from tests.made_once import by_name
from tests.strength.jobs import ANSWERED, RESTORE, SYMMETRIC, layout_of, running

STAMP = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)


def text_of(answer: StrengthAnswer, paper: str = "letter") -> str:
    files = by_name(strength_papers(answer, stamp=STAMP, stem="square", paper=paper))
    pdf = next(made for name, made in files.items() if name.endswith(".pdf"))
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


def answer(*parts: str) -> StrengthAnswer:
    return strength_of(layout_of(*parts, base=SYMMETRIC).job, elements=None)


@pytest.fixture(scope="module")
def restored() -> str:
    return text_of(answer(RESTORE))


def test_the_gate_stands_before_the_loads_and_the_loads_before_the_margins(restored: str) -> None:
    places = [
        restored.index(word)
        for word in ("BEFORE ANYTHING ELSE", "ASSUMED", "GEOMETRY", "MARGINS OF SAFETY", "WORKED EXAMPLES")
    ]
    assert places == sorted(places)
    assert "send the job to an engineer" in restored
    assert restored.index("NOT ANALYZED") < places[2]


def test_of_each_check_the_lowest_margin_is_worked_out(restored: str) -> None:
    """All of its steps stand there; of steps alike for every rivet of a side the first and the least."""
    found = answer(RESTORE).report
    squeezed = re.sub(r"\s", "", restored[restored.index("WORKED EXAMPLES") :])
    for code in {margin.code for margin in found.margins}:
        lowest = next(margin for margin in found.margins if margin.code == code)
        assert code + re.sub(r"\s", "", tell(lowest.subject)) in squeezed
        for step in lowest.working:
            assert re.sub(r"\s", "", step.formula) in squeezed
        assert re.sub(r"\s", "", quantity_text(lowest.working[-1].result, "in")) in squeezed


def test_every_margin_stands_on_paper(restored: str) -> None:
    table = restored[restored.index("MARGINS OF SAFETY") : restored.index("WORKED EXAMPLES")]
    squeezed = re.sub(r"\s", "", table)
    for margin in answer(RESTORE).report.margins:
        assert re.sub(r"\s", "", tell(margin.subject)) in squeezed
        assert margin_words(margin.ratio, places=3) in squeezed


def test_the_rivets_stand_with_their_places_edges_and_loads() -> None:
    """Rivet 1 of the symmetric job stands at X 2.3, Y -1.6, and the opening's corner turns about 1, -1 with 1 in: its
    edge is sqrt(1.3^2 + .6^2) - 1 = .4318 away, that of the doubler, which is cut with it, too."""
    analyzed = strength_of(layout_of(ANSWERED, running({"nx": 100.0}), base=SYMMETRIC).job)
    text = re.sub(r"\s+", " ", text_of(analyzed))
    assert analyzed.report.analysis is not None
    (found,) = analyzed.report.analysis.cases
    load = max(found.rivets[0].huth_lbf, found.rivets[0].swift_lbf)
    assert re.search(rf"\b1 2\.300 -1\.600 MS20470AD4 \.1285( \.4318 3\.45){{2}} .* {load:.1f} ", text)
    assert analyzed.report.fasteners[0].edge_in[1] == ("doubler", pytest.approx(math.hypot(1.3, 0.6) - 1.0))
    assert len(analyzed.report.fasteners) == 64


def test_no_loads_no_claim_on_paper() -> None:
    text = re.sub(r"CARRY\s+CARD", "", text_of(answer(ANSWERED)))  # where the stop box leads
    assert "no strength result" in " ".join(text.split())
    for word in ("MARGIN", "WORKING", "lbf", "psi", "CARRY", "ASSUMED", "COMPARED"):
        assert word not in text, word


@pytest.mark.parametrize("parts", [(ANSWERED,), (ANSWERED, RESTORE)])
def test_every_page_says_what_it_is_and_none_says_approved(parts: tuple[str, ...]) -> None:
    text = text_of(answer(*parts), paper="a4")
    pages = text.count("Page ")
    assert text.count("CALCULATION AID: NOT APPROVED DATA") >= pages
    for blank in ("CHECKED BY", "NAME", "CERTIFICATE", "DATE", "INITIALS"):
        assert text.count(blank) >= pages, blank
    plain = text.upper().replace("NOT APPROVED DATA", "")
    assert not [word for word in ("APPROVED", "AIRWORTHY", "CERTIFIED", "COMPLIANT") if word in plain]


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(ExportError, match="no paper 'a3'"):
        strength_papers(answer(ANSWERED), stamp=STAMP, paper="a3")


def test_what_the_finite_elements_found_is_printed_with_the_load_of_every_rivet() -> None:
    analyzed = strength_of(layout_of(ANSWERED, running({"nx": 100.0}), base=SYMMETRIC).job)
    text = text_of(analyzed)
    squeezed = re.sub(r"\s", "", text)
    assert "FINITE ELEMENTS, ULTIMATE LOAD" in text
    (summary,) = analyzed.report.summaries
    for heading, words in summary.lines:
        assert re.sub(r"\s", "", tell(heading)) in squeezed
        assert re.sub(r"\s", "", tell(words)) in squeezed
