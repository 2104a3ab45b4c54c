"""Record papers are drafts that name what is missing, and bear the head of the records; read back with PDFium, and
their squares with a reader that has no part in making them (zxing-cpp).

Elements: see `tests/airworthiness/test_record_elements.py`. What papers may not claim: the brief of the records, and
14 CFR 43.9(a)(4), by which the signature alone approves.
"""

from __future__ import annotations

import re
import shutil
from datetime import UTC, datetime

import numpy as np
import pypdfium2
import pytest
import zxingcpp
from msgspec.structs import replace

from hatchwright.airworthiness.holds import Counted, Initials, holds_of
from hatchwright.airworthiness.record_elements import Standing, elements_of
from hatchwright.airworthiness.record_facts import NO_FACTS
from hatchwright.documents.carry_card import MOST_SIDES
from hatchwright.documents.record_facts import Next, Signing, facts_of
from hatchwright.documents.record_papers import PAPERS, record_parts
from hatchwright.documents.recorded import NOTHING_RECORDED, Recorded
from hatchwright.drawings.made_file import MadeKind
from hatchwright.drawings.sheet_code import code_of
from hatchwright.job.file import load_job
from hatchwright.job.fleet.fleet import Fleet
from hatchwright.layout.lay_out import lay_out
from hatchwright.page.coded_sheet import coded_sheets
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import examine
from hatchwright.workflow.job_folder import JobFolder
from hatchwright.workflow.papers import papers
from tests.conftest import EXAMPLES
from tests.drawings.test_sheet_code import copied_twice

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
HEAD = "0123-4567-89ab"
CLAIMS = re.compile(
    r"\b(is|are|was|were|been|has been) (approved|airworthy|certified|complete)\b"
    r"|\b(compliant|complies|conforms|in accordance|approved for return)\b",
    re.IGNORECASE,
)
FLEET = Fleet.model_validate(
    {
        "schema": 1,
        "title": "Fleet",
        "mandates": [
            {
                "number": "M-101",
                "amendment": "39-1",
                "effective": "2026-01-15",
                "actions": [
                    {
                        "paragraph": "(g)",
                        "asks": "inspect",
                        "first": {"hours": "100"},
                        "repeat": {"hours": "500"},
                    }
                ],
            }
        ],
        "aircraft": [
            {
                "registration": "EXAMPLE-1",
                "serial": "0001",
                "done": [
                    {
                        "mandate": "M-101",
                        "paragraph": "(g)",
                        "date": "2026-03-09",
                        "hours": "1234.5",
                        "landings": "2001",
                        "method": "bulletin B-7",
                        "revision": "C",
                        "by": "A. Mechanic",
                    }
                ],
            }
        ],
    }
)


@pytest.fixture(scope="module")
def alder():
    return examine(load_job(EXAMPLES / "alder.toml"))


def closed(one, *, inspector=True):
    """Every hold passed and the count even, on each side."""
    initials = tuple(
        Initials(hold.name, side.job.aircraft.side, by, inspector, side.job.revision, "2026-03-09", "A.M.")
        for side in one.sides
        for hold in holds_of(side.layout)
        for by in ("A. Mechanic", "B. Inspector")
    )
    counted = tuple(Counted("No. 30 drill", side.job.aircraft.side, 2, 2) for side in one.sides)
    return Recorded(head=HEAD, initials=initials, counted=counted)


def pages_of(one, recorded, only="record", number=0):
    file = papers(one, stamp=STAMP, only=(only,), recorded=recorded)[number]
    with pypdfium2.PdfDocument(file.content) as pdf:
        return [" ".join(page.get_textpage().get_text_range().replace("\ufffe", "-").split()) for page in pdf]


def test_nothing_recorded_is_all_open_and_every_sheet_says_so(alder):
    pages = pages_of(alder, NOTHING_RECORDED)
    for page in pages:
        assert "DRAFT" in page
        assert not CLAIMS.findall(page)
        assert "Head " not in page
    first = [page for page in pages if "Page 1 of" in page]
    assert len(first) == 1 + len(PAPERS)
    for page in first:
        assert "DRAFT, NOT TO BE SIGNED: holds or counts are open" in page
    assert first[0].count("not initialed.") == len(holds_of(alder.layout))
    assert "nothing counted in" in first[0]


def test_what_was_passed_leaves_a_draft(alder):
    for page in pages_of(alder, closed(alder)):
        assert "NOT TO BE SIGNED" not in page
        assert "DRAFT" in page
        assert not CLAIMS.findall(page)
        assert f"Head {HEAD}" in page
    holds, *_ = pages_of(alder, closed(alder))
    assert holds.count("A. Mechanic, 2026-03-09, for A.") == len(holds_of(alder.layout))
    assert "2 in, 2 out" in holds


@pytest.mark.parametrize(
    "opened",
    [
        lambda all_: replace(all_, initials=all_.initials[2:]),
        lambda all_: replace(all_, initials=tuple(replace(one, revision="B") for one in all_.initials)),
        lambda all_: replace(all_, initials=tuple(replace(one, is_inspector=False) for one in all_.initials)),
        lambda all_: replace(all_, initials=tuple(replace(one, side="center") for one in all_.initials)),
        lambda all_: replace(all_, counted=()),
        lambda all_: replace(all_, counted=(replace(all_.counted[0], came_out=1), *all_.counted[1:])),
        lambda all_: replace(all_, counted=(replace(all_.counted[0], came_out=None), *all_.counted[1:])),
    ],
)
def test_one_open_hold_or_count_holds_every_record_back(alder, opened):
    shown = opened(closed(alder)).shown_of(alder.layout)
    parts = record_parts(alder.layout, NO_FACTS, shown, date="", stop="")
    assert len(parts) == 1 + len(PAPERS)
    assert all(part.data["note"].startswith("DRAFT, NOT TO BE SIGNED") for part in parts)


def test_each_thing_that_is_missing_has_its_box(alder):
    """A box for each element that is not known, on the sheet of its record."""
    facts = facts_of(alder.layout)
    text = " ".join(pages_of(alder, NOTHING_RECORDED))
    for standing, word in ((Standing.MISSING, "MISSING"), (Standing.BY_HAND, "BY HAND")):
        many = sum(one.standing is standing for _, of in PAPERS for r in of for one in elements_of(r, facts))
        assert text.count(word) == many + (standing is Standing.MISSING)  # and that of the next inspection


def test_the_fleet_file_tells_times_directive_and_method(alder):
    known = facts_of(
        alder.layout,
        aircraft=FLEET.aircraft[0],
        mandate=FLEET.mandates[0],
        done=FLEET.aircraft[0].done[0],
        next_due=Next("1734.5 hours", "2027-03-09"),
        signing=Signing(signer="B. Inspector", certificate="IA 7654321"),
    )
    told = {one.name: " ".join(map(tell, one.values)) for one in elements_of("directive", known)}
    assert told == {
        "number": "M-101",
        "revision": "amendment 39-1, effective 2026-01-15",
        "method": "paragraph (g), bulletin B-7, revision C",
        "recurring": "yes",
        "next_due_time": "1734.5 hours",
        "next_due_date": "2027-03-09",
        "applies_to": "airframe S/N 0001",
        "not_applicable": "",
        "date": "2026-03-09",
        "total_time": "1234.5",
        "landings": "2001",
        "entry": "",
        "signer": "B. Inspector",
    }
    entry = {one.name: one.standing for one in elements_of("entry", known)}
    assert entry["component"] is Standing.NOT_ASKED  # the action is on the airframe
    assert {name for name, standing in entry.items() if standing is Standing.MISSING} == {
        *("form", "weight_balance", "ica"),
    }


@pytest.mark.parametrize("other", [{"registration": "N101HW"}, {"serial": "0002"}])
def test_an_aircraft_that_two_files_tell_differently_is_not_known(alder, other):
    aircraft = FLEET.aircraft[0].model_copy(update=other)
    known = facts_of(alder.layout, aircraft=aircraft)
    assert [getattr(known, name) for name in other] == [""]


def test_no_day_no_hours_no_revision_is_made_up():
    known = facts_of(lay_out(load_job(EXAMPLES / "alder.toml")))
    for name in ("completed", "total_time", "directive_revision", "next_due_time", "next_due_date", "method"):
        assert getattr(known, name) == "", name
    assert known.is_recurring is None


@pytest.mark.parametrize("only", ["card", "log", "lists"])
def test_the_head_is_on_every_side_and_its_square_is_read(alder, only):
    file, *_ = papers(alder, stamp=STAMP, only=(only,), recorded=Recorded(head=HEAD))
    with pypdfium2.PdfDocument(file.content) as pdf:
        read = []
        for page in pdf:
            assert HEAD in page.get_textpage().get_text_range().replace("\ufffe", "-")
            found = [one for one in zxingcpp.read_barcodes(copied_twice(page)) if one.text == HEAD.upper()]
            read.append(len(found))
            picture = np.array(page.render(scale=300 / 72).to_pil().convert("L"))
            for one in found:  # nothing lies in the four white squares around it: ISO/IEC 18004
                left, top = one.position.top_left.x, one.position.top_left.y
                right, bottom = one.position.bottom_right.x, one.position.bottom_right.y
                quiet = int(3.5 * (right - left) / 21)
                for rows, columns in (
                    ((top - quiet, top - 3), (left - quiet, right + quiet)),
                    ((bottom + 3, bottom + quiet), (left - quiet, right + quiet)),
                    ((top - quiet, bottom + quiet), (left - quiet, left - 3)),
                    ((top - quiet, bottom + quiet), (right + 3, right + quiet)),
                ):
                    assert picture[slice(*rows), slice(*columns)].min() > 200, (rows, columns)
    assert only != "card" or len(read) == MOST_SIDES
    assert read == ([1] + [0] * (len(read) - 1) if only == "card" else [1] * len(read))


def test_the_log_draft_is_held_back_by_what_the_records_say(alder):
    """And bears what is known; without records nobody knows what was initialed on paper."""
    (without,) = pages_of(alder, NOTHING_RECORDED, "log")
    assert "NOT TO BE SIGNED" not in without
    all_ = replace(closed(alder), done=FLEET.aircraft[0].done[0], signing=Signing(certificate="IA 7654321"))
    (held,) = pages_of(alder, replace(all_, initials=()), "log")
    assert "DRAFT, NOT TO BE SIGNED: holds or counts are open" in held
    (log,) = pages_of(alder, all_, "log")
    assert "NOT TO BE SIGNED" not in log
    for known in ("2026-03-09", "1234.5", "A. Mechanic", "IA 7654321", "M-101"):
        assert known in log.partition("THE ENTRY")[2]


def test_typed_words_stay_words(alder):
    recorded = Recorded(entered={"data": "#emph[x] <b>", "owner": "=1+1"})
    text = " ".join(pages_of(alder, recorded))
    assert "#emph[x] <b>" in text
    assert "=1+1" in text


def test_the_code_of_each_record_leads_to_the_record_drafts(alder, tmp_path):
    shutil.copy(EXAMPLES / "alder.toml", tmp_path)
    about = {"title": alder.job.title, "side": "LEFT", "sheet": 1, "revision": alder.job.revision}
    for name in ("holds", *dict(PAPERS)):
        (found,) = coded_sheets(code_of(paper=f"record_{name}", **about).letters, JobFolder(tmp_path))
        assert found.kind is MadeKind.RECORD
    file, *_ = papers(alder, stamp=STAMP, only=("record",), recorded=Recorded(head=HEAD))
    with pypdfium2.PdfDocument(file.content) as pdf:
        read = [{one.text for one in zxingcpp.read_barcodes(copied_twice(page))} for page in pdf]
    assert all(HEAD.upper() in codes for codes in read)
    assert len(set().union(*read)) == len(read) + 1  # no two sheets have the same code
