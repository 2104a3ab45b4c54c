"""The strength report on paper: the gate first, every margin with its steps, and no claim without loads."""

from __future__ import annotations

import io
import re
from datetime import UTC, datetime

import pytest
from pypdf import PdfReader

from hatchwright.errors import ExportError
from hatchwright.search.strength_answer import StrengthAnswer
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
        for word in ("BEFORE ANYTHING ELSE", "LOADS", "MARGINS OF SAFETY", "WORKING STEPS")
    ]
    assert places == sorted(places)
    assert "send the job to an engineer" in restored
    assert restored.index("NOT ANALYZED") < places[2]


def test_each_margin_names_its_steps_and_each_step_stands_there(restored: str) -> None:
    found = answer(RESTORE).report
    steps = {step for margin in found.margins for step in margin.working}
    steps |= {step for finding in found.findings for step in finding.working}
    table = restored[restored.index("WORKING STEPS") :]
    squeezed = re.sub(r"\s", "", table)
    for step in steps:
        assert re.sub(r"\s", "", step.formula) in squeezed
        assert re.sub(r"\s", "", quantity_text(step.result, "in")) in squeezed
    assert restored.count("Steps ") >= len(found.margins)


def test_no_loads_no_claim_on_paper() -> None:
    text = text_of(answer(ANSWERED))
    assert "no strength result" in " ".join(text.split())
    for word in ("MARGIN", "WORKING", "lbf", "psi", "CARRY", "ASSUMED", "COMPARED"):
        assert word not in text, word


@pytest.mark.parametrize("parts", [(ANSWERED,), (ANSWERED, RESTORE)])
def test_every_page_says_what_it_is_and_none_says_approved(parts: tuple[str, ...]) -> None:
    text = text_of(answer(*parts), paper="a4")
    pages = text.count("Page ")
    assert text.count("CALCULATION AID: NOT APPROVED DATA") >= pages
    for blank in ("CHECKED BY", "NAME", "CERTIFICATE NO.", "DATE", "INITIALS"):
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
    assert "FINITE ELEMENTS, ULTIMATE LOAD: case 1" in text
    (summary,) = analyzed.report.summaries
    for heading, words in summary.lines:
        assert re.sub(r"\s", "", tell(heading)) in squeezed
        assert re.sub(r"\s", "", tell(words)) in squeezed
    for rivet in summary.rivets:
        loads = (rivet.x_lbf, rivet.y_lbf, rivet.huth_lbf, rivet.swift_lbf)
        assert f"{rivet.number}{''.join(f'{load:.1f}' for load in loads)}" in squeezed
