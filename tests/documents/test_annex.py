"""The desk annex, read from its pages by another reader (pypdfium2): each number that a card may leave out is in it."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pypdfium2
import pytest

from hatchwright.documents.card_steps import card_steps
from hatchwright.documents.job_summary import job_cautions, job_summary
from hatchwright.documents.step import Work
from hatchwright.documents.verdict_on_paper import finding_line, verdict_on_paper
from hatchwright.drawings.writers import Paper
from hatchwright.job.file import edited, load_job, read_job
from hatchwright.judged import Status
from hatchwright.making.guide import job_recipe
from hatchwright.tables.sources import documents
from hatchwright.units import figure
from hatchwright.words.catalog import HOME
from hatchwright.words.tell import tell
from hatchwright.workflow.annex import annex_of, annex_part
from hatchwright.workflow.examine import examine
from hatchwright.workflow.paper_set import sets_of
from tests.cards import told_step
from tests.conftest import EXAMPLES

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
A_NUMBER = re.compile(r"\d*\.?\d+(?:/\d+)?")
NAMES = ("alder", "birch", "cypress", "dogwood", "elder", "finch", "heron", "juniper")


def sets(job, paper=Paper.LETTER):
    return sets_of(examine(job), stamp=STAMP, paper=paper, stem="job")


def pages_of(data):
    with pypdfium2.PdfDocument(data) as pdf:
        return [" ".join(page.get_textpage().get_text_range().split()) for page in pdf]


def words_of(what):
    if isinstance(what, str):
        return [what]
    values = what.values() if isinstance(what, dict) else what if isinstance(what, list | tuple) else ()
    return [words for value in values for words in words_of(value)]


def numbers_of(one):
    """Every number of the findings, the steps, the job and the holes of one side, gathered from the answers."""
    layout, unit, kind = one.layout, one.job.unit, one.job.kind
    work = Work(layout, one.making, job_recipe(layout, one.making))
    told = [
        verdict_on_paper(one.verdict, unit, HOME, one.remedies)["shelves"],
        [finding_line(of, unit) for of in one.findings if of.status is Status.PASS],
        [told_step(step, unit, HOME, kind) for step in card_steps(work)],
        [tell(words, unit) for _, words in job_summary(layout)],
        [tell(words, unit) for words in job_cautions(layout)],
        [(str(hole.number), figure(hole.x_in, unit), figure(hole.y_in, unit)) for hole in layout.holes],
    ]
    return {number for words in words_of(told) for number in A_NUMBER.findall(words)}


@pytest.mark.parametrize("name", NAMES)
def test_no_number_is_lost_that_a_card_leaves_out(name):
    for one in sets(load_job(EXAMPLES / f"{name}.toml")):
        wanted = numbers_of(one.examination)
        assert len(wanted) > 100
        said = set(A_NUMBER.findall(" ".join(pages_of(annex_of(one)))))
        assert wanted - said == set()


@pytest.mark.parametrize("paper", [Paper.LETTER, Paper.A4])
def test_the_annex_of_a_large_job_takes_three_sheets_a_side(alder, paper):
    for one in sets(alder, paper):
        pages = pages_of(annex_of(one))
        assert len(pages) <= 3
        for number, page in enumerate(pages, start=1):
            assert f"Page {number} of {len(pages)}" in page
            assert "CALCULATION AID: NOT APPROVED DATA" in page


@pytest.mark.parametrize("name", ["alder", "heron"])
def test_each_number_in_brackets_leads_to_a_document(name):
    """Every finding's own source, as the bibliography spells it, stands behind the number that its line cites."""
    one = sets(load_job(EXAMPLES / f"{name}.toml"))[0]
    data = annex_part(one).data
    listed = {}
    for document in data["documents"]:
        assert document["title"].startswith(documents()[document["key"]].title)
        for number, place in re.findall(r"\[(\d+)\] ?([^\[]*)", document["places"]):
            listed[int(number)] = (document["key"], place)
    assert list(listed) == list(range(1, len(listed) + 1))
    cited = re.findall(r"\[([\d, ]+)\]", " ".join(words_of([data["passed"], data["steps"], data["verdict"]])))
    assert {int(number) for group in cited for number in group.split(",")} == set(listed)
    alone = [rule for rule in data["passed"] if len(re.findall(r"\[\d+\]", rule["words"])) == 1]
    assert len(alone) > 20
    for rule in alone:
        key, place = listed[int(re.search(r"\[(\d+)\]", rule["words"])[1])]
        sources = {finding.source for finding in one.examination.findings if finding.code == rule["code"]}
        assert key in {source.key for source in sources}
        if "theory page" not in place and key != "PRACTICE":
            assert any(place.startswith(source.place) for source in sources), (place, sources)


def test_what_stands_open_comes_first_with_its_advice_and_a_choice_keeps_its_reason(alder):
    (page, *_) = pages_of(annex_of(sets(alder)[0]))
    assert page.index("DO NOT CUT, DRILL OR RIVET") < page.index("STOP R101") < page.index("STEPS IN FULL")
    assert "tried on this job, it passes" in page
    assert "R601: table 4-10, note c. Reason: Shop's choice" in page
    assert "fatigue and damage tolerance" in page


def test_a_metric_job_reads_in_millimeters_and_no_file_is_named():
    job = load_job(EXAMPLES / "dogwood.toml").model_copy(update={"units": "mm"})
    for one in sets(job, Paper.A4):
        whole = " ".join(pages_of(annex_of(one)))
        assert " mm" in whole
        assert not re.search(r"\w\.(md|toml|csv|po|py)\b", whole)
        assert (
            re.findall(r"\b(approved|airworthy|certified)\b", whole.replace("NOT APPROVED DATA", ""), re.I)
            == []
        )


def test_what_was_typed_stays_literal():
    text = (EXAMPLES / "cypress.toml").read_text(encoding="utf-8")
    hostile = '#panic() $x$ *b* <script> \\u202e"'
    job = read_job(edited(text, {"title": hostile, "revision": "#B<>"}))
    (page, *_) = pages_of(annex_of(sets(job)[0]))
    assert "#panic() $x$ *b* <script>" in page
    assert "Revision #B<>" in page


def test_the_same_input_makes_the_same_bytes(dogwood):
    (one,) = sets(dogwood)
    assert annex_of(one) == annex_of(one)
