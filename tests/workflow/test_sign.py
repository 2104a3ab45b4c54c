"""Signing a plan, holds, counts and the finished work: what is kept, what is refused, and who may.

The holds with their order, the second person and the inspector: 14 CFR 65.95(a)(1) and Canadian Standard 571.10(d), as
restated; the order is common practice, no source. Short rivets: scenario S1.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from functools import cache
from io import BytesIO

import pytest
from pypdf import PdfReader

from hatchwright.errors import RecordError
from hatchwright.job.file import read_job
from hatchwright.records.entry import hash_of
from hatchwright.records.kinds import Kind
from hatchwright.records.people import Role
from hatchwright.records.store import Store
from hatchwright.records.verify import verify
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import examine
from hatchwright.workflow.hold_points import PLAN, WORK, count, hold_state, in_the_way, pass_hold
from hatchwright.workflow.people import name_person, signer
from hatchwright.workflow.record_facts import recorded_of
from hatchwright.workflow.revision import revision_of
from hatchwright.workflow.revisions import content_of, kept_text, revisions_of
from hatchwright.workflow.sign import NotSignedError, looked_at, prepared, sign, signing_of
from tests.signing import AS_FILED, AS_MENDED, DRAWN, NAME, NOW, crew, job_of

ORDER = ["data", "pilot", "opening", "inspection", "doubler", "fasteners", "hidden", "final", "release"]
"""Hold points in the order of the work. Source: common practice, no source."""


@cache
def examined(text):
    """The answers on the example, worked out once for each text."""
    return examine(read_job(text))


class Bench:
    """A job with its records and the two people."""

    def __init__(self, folder, text=DRAWN):
        self.jobs = job_of(folder, text)
        self.store, self.mechanic, self.inspector = crew(folder)

    def look(self):
        revision = revision_of(self.jobs, NAME)
        return looked_at(revision, examined(revision.text))

    @property
    def plan(self):
        return self.look().plan

    def state(self):
        return hold_state(self.store, self.plan)

    def sign(self, what, by=None):
        by, revision = by or self.mechanic, revision_of(self.jobs, NAME)
        job = revision.job()
        state, head, signing = self.state(), self.store.head(), signing_of(what, by)
        recorded = recorded_of(self.jobs.folder, NAME, job, state, on=NOW.date(), head=head, signing=signing)
        ready = prepared(revision, what, examined(revision.text), stamp=NOW, recorded=recorded)
        return sign(self.store, ready, by=by, now=NOW, after=self.store.newest_seq(NAME))

    def hold(self, name, by=None, initials="AM"):
        return pass_hold(
            self.store, self.plan, side="left", hold=name, initials=initials, by=by or self.mechanic, now=NOW
        )

    def count(self, way, n, item="drill bits"):
        return count(self.store, self.plan, side="left", item=item, n=n, way=way, by=self.mechanic, now=NOW)

    def why(self, what=WORK):
        return [tell(one.why) for one in in_the_way(what, self.state(), self.look().held_back())]

    def enter(self, text):
        (self.jobs.folder / NAME).write_text(text, encoding="utf-8")


@pytest.fixture(scope="module")
def signed(tmp_path_factory):
    """A job whose plan is signed and whose first holds are passed; nothing may change it."""
    bench = Bench(tmp_path_factory.mktemp("signed"))
    bench.entry = bench.sign(PLAN)
    return bench


@pytest.fixture
def bench(signed, tmp_path):
    """A copy of it to go on with."""
    with sqlite3.connect(signed.jobs.folder / "records" / "records.sqlite3") as there:
        (tmp_path / "records").mkdir()
        with sqlite3.connect(tmp_path / "records" / "records.sqlite3") as copy:
            there.backup(copy)
    bench = object.__new__(Bench)
    bench.jobs, bench.store = job_of(tmp_path), Store.opened(tmp_path)
    bench.mechanic, bench.inspector = signed.mechanic, signed.inspector
    return bench


def test_what_is_signed_is_kept_as_bytes(signed):
    body = signed.entry.said
    folder, store = signed.jobs.folder, signed.store
    assert store.kept(body["file"]["sha256"]) == (folder / NAME).read_bytes()
    judged = store.kept(body["judgments"]["sha256"])
    assert hashlib.sha256(judged).hexdigest() == body["judgments"]["sha256"]
    side = json.loads(judged)["sides"][0]
    assert {one["code"] for one in side["findings"]} >= {"R101", "R601", "T303"}
    assert "." not in str([one for one in _numbers(json.loads(judged)) if not isinstance(one, int)])
    kept = revisions_of(store, NAME)[0]
    assert kept.what == PLAN
    assert kept.is_vouched
    assert kept_text(store, kept) == DRAWN
    papers = [one.name for one in kept.files if one.written == "pdf"]
    assert len(papers) == 8
    for name in papers:
        assert PdfReader(BytesIO(content_of(store, kept, name))).pages
    assert {one.written for one in kept.files} == {"pdf", "svg", "dxf", "csv"}
    assert verify(store).is_sound


def _numbers(value):
    if isinstance(value, dict):
        return [one for held in value.values() for one in _numbers(held)]
    if isinstance(value, list):
        return [one for held in value for one in _numbers(held)]
    return [value] if isinstance(value, (int, float)) else []


def test_the_card_bears_the_head_that_it_is_signed_into(signed):
    before = signed.store.entry(signed.entry.seq - 1)
    kept = revisions_of(signed.store, NAME)[0]
    card = next(one for one in kept.files if one.kind == "CARRY_CARD")
    text = "".join(
        page.extract_text() for page in PdfReader(BytesIO(content_of(signed.store, kept, card.name))).pages
    )
    assert before.head.replace("-", "") in text.replace("-", "").replace("\n", "").lower()


def test_what_was_signed_stays_when_the_job_goes_on(bench):
    bench.enter(DRAWN.replace('".62"', '".63"'))
    kept = revisions_of(bench.store, NAME)[0]
    assert kept_text(bench.store, kept) == DRAWN


def test_holds_are_passed_in_their_order(bench):
    assert [one.name for one in bench.plan.sides[0].holds] == ORDER
    with pytest.raises(RecordError, match="data and place"):
        bench.hold("opening")
    bench.hold("data")
    bench.hold("pilot")
    bench.hold("opening")
    assert [one.name for one in bench.state().sides[0].open] == ORDER[3:]
    with pytest.raises(RecordError, match="already"):
        bench.hold("pilot")


def test_no_hold_is_passed_before_the_plan_is_signed(tmp_path):
    bench = Bench(tmp_path)
    with pytest.raises(RecordError, match="no plan is signed"):
        bench.hold("data")


def test_a_changed_plan_opens_every_hold_and_readings_of_the_work_open_none(bench):
    bench.hold("data")
    bench.enter(AS_MENDED)
    assert [one.name for one in bench.state().sides[0].open] == ORDER[1:]
    bench.enter(DRAWN.replace('".62"', '".63"'))
    state = bench.state()
    assert [one.name for one in state.sides[0].open] == ORDER
    assert state.signed_plan is None
    assert any("changed after it was signed" in why for why in bench.why())


def test_the_hidden_area_asks_for_two_people_and_the_final_hold_for_an_inspector(bench):
    for name in ORDER[:7]:
        bench.hold(name)
    with pytest.raises(RecordError, match="a second person has to"):
        bench.hold("hidden")
    with pytest.raises(RecordError, match="alone"):
        bench.hold("final", by=bench.inspector)
    bench.hold("hidden", by=bench.inspector, initials="BI")
    with pytest.raises(RecordError, match="an inspector passes"):
        bench.hold("final")
    bench.hold("final", by=bench.inspector, initials="BI")
    assert [one.name for one in bench.state().sides[0].open] == ["release"]


def test_a_viewer_signs_nothing(bench):
    phrase, viewer = "one two three four", Role.VIEWER
    name_person(
        bench.jobs.folder, by=bench.inspector, name="V. Viewer", role=viewer, pass_phrase=phrase, now=NOW
    )
    viewer = signer(bench.store.people(), "V. Viewer", phrase)
    for does in (lambda: bench.hold("data", by=viewer), lambda: bench.sign(PLAN, by=viewer)):
        with pytest.raises(RecordError):
            does()
    assert bench.store.last().kind == Kind.PERSON


@pytest.mark.parametrize(
    "counted",
    [
        [],
        [("in", 6)],
        [("in", 6), ("out", 5)],
        [("in", 6), ("out", 7)],
        [("in", 6), ("in", 2), ("out", 2)],
        [("out", 6)],
    ],
)
def test_a_count_that_is_not_even_is_open(bench, counted):
    for way, n in counted:
        bench.count(way, n)
    assert bench.state().sides[0].open_counts


def test_a_count_that_was_mistyped_is_corrected_by_none_going_in(bench):
    for way, n in (("in", 60), ("in", 0), ("in", 6), ("out", 6)):
        bench.count(way, n)
    assert not bench.state().sides[0].open_counts


def test_what_goes_in_again_is_counted_out_again(bench):
    bench.count("in", 6)
    bench.count("out", 6)
    assert not bench.state().sides[0].open_counts
    bench.count("in", 2)
    assert bench.state().sides[0].open_counts


def test_a_count_that_was_even_before_the_plan_was_signed_is_none_of_this_work(bench):
    """What is still inside then is not forgotten."""
    for way, n, item in (("in", 6, "drill bits"), ("out", 6, "drill bits"), ("in", 2, "clamps")):
        bench.count(way, n, item)
    bench.enter(DRAWN.replace('".62"', '".63"'))
    bench.sign(PLAN)
    assert [one.item for one in bench.state().sides[0].counted] == ["clamps"]
    bench.count("out", 2, "clamps")
    assert not bench.state().sides[0].open_counts
    bench.enter(DRAWN)
    assert bench.state().sides[0].open_counts == ()
    bench.enter(DRAWN.replace('".62"', '".64"'))
    bench.sign(PLAN)
    assert any("nothing counted in" in why for why in bench.why())


def test_a_plan_that_stops_is_not_signed(tmp_path):
    bench = Bench(tmp_path, AS_FILED)
    with pytest.raises(NotSignedError) as refused:
        bench.sign(PLAN)
    told = " ".join(map(tell, refused.value.open))
    assert "Rivet 6 " in told
    assert "Rivet 15 " in told
    assert "Rivet 4 " in told
    assert bench.store.newest_seq(NAME) == 0


def test_finished_work_is_signed_only_with_all_closed(bench):
    for name in ORDER[:7]:
        bench.hold(name)
    for name in ORDER[6:]:
        bench.hold(name, by=bench.inspector, initials="BI")
    bench.count("in", 6)
    with pytest.raises(NotSignedError, match="1 point"):
        bench.sign(WORK)
    bench.count("out", 6)
    bench.enter(AS_FILED)
    with pytest.raises(NotSignedError) as refused:
        bench.sign(WORK)
    assert any("Rivet 15 " in tell(one) for one in refused.value.open)
    bench.enter(AS_MENDED)
    assert bench.why() == []
    entry = bench.sign(WORK, by=bench.inspector)
    assert entry.said["holds"]
    kept = revisions_of(bench.store, NAME)[0]
    record = next(one for one in kept.files if one.kind == "RECORD")
    text = " ".join(
        page.extract_text() for page in PdfReader(BytesIO(content_of(bench.store, kept, record.name))).pages
    )
    assert "IA 7654321" in text
    assert verify(bench.store).is_sound


@pytest.mark.parametrize("is_named", [False, True])
def test_a_hold_written_into_the_database_closes_nothing(bench, is_named):
    """Past the program: without a signature, or with one that the mechanic's key never made."""
    last = bench.store.last()
    said = {"hold": "data", "side": "left", "initials": "AM", "plan": bench.plan.called}
    row = {
        "seq": last.seq + 1,
        "prev": last.link,
        "kind": "hold",
        "about": NAME,
        "body": json.dumps(said, sort_keys=True, separators=(",", ":")),
        "author": "A. Mechanic",
        "at": last.at,
        "key": bench.mechanic.key.public if is_named else "",
    }
    row |= {"hash": hash_of(**row), "signature": "00" * 64 if is_named else ""}
    with sqlite3.connect(bench.jobs.folder / "records" / "records.sqlite3") as database:
        holes = ", ".join("?" * len(row))
        database.execute(
            f"INSERT INTO records_entry ({', '.join(row)}) VALUES ({holes})", tuple(row.values())
        )
    assert bench.store.last().seq == row["seq"]
    assert [one.name for one in bench.state().sides[0].open] == ORDER


def test_two_who_sign_one_job_never_sign_over_each_other(bench):
    revision = revision_of(bench.jobs, NAME)
    ready = prepared(revision, PLAN, examined(revision.text), stamp=NOW)
    seen = bench.store.newest_seq(NAME)
    bench.hold("data")
    with pytest.raises(RecordError, match="after you opened it"):
        sign(bench.store, ready, by=bench.inspector, now=NOW, after=seen)


def test_nothing_is_signed_for_a_job_that_was_changed_meanwhile(bench):
    revision = revision_of(bench.jobs, NAME)
    ready = prepared(revision, PLAN, examined(revision.text), stamp=NOW)
    plan, seen = bench.plan, bench.store.newest_seq(NAME)
    bench.enter(DRAWN.replace('".62"', '".63"'))
    how = {"side": "left", "by": bench.mechanic, "now": NOW}
    for does in (
        lambda: sign(bench.store, ready, by=bench.mechanic, now=NOW, after=seen),
        lambda: pass_hold(bench.store, plan, hold="data", initials="AM", **how),
        lambda: count(bench.store, plan, item="drill bits", n=6, way="in", **how),
    ):
        with pytest.raises(RecordError, match="was changed while"):
            does()
    assert bench.store.newest_seq(NAME) == seen


def test_each_side_is_asked_for_its_own_holds_and_count(tmp_path):
    bench = Bench(tmp_path, DRAWN.replace("both_sides = false", "both_sides = true"))
    assert [one.side for one in bench.plan.sides] == ["left", "right"]
    why = bench.why()
    for side in ("LEFT", "RIGHT"):
        assert sum(one.startswith(f"{side} side: ") and "not initialed" in one for one in why) == len(ORDER)
        assert sum(one.startswith(f"{side} side: ") and "counted" in one for one in why) == 1
