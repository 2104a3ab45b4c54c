"""What the page shows of a job, and the same drawing seen from inside."""

from __future__ import annotations

import re
from pathlib import Path

from hatchwright.drawings.bay_view import bay_sheet
from hatchwright.drawings.ink import Text
from hatchwright.judged import Status
from hatchwright.page.readings import reading_tables
from hatchwright.page.screen import Asked, Look, screen, seen_from_inside
from hatchwright.workflow.examine import examine
from tests.told import named


def test_a_sound_job_has_drawing_findings_and_no_faults(alder_text, tmp_path):
    view = screen(Asked(alder_text, tmp_path, "alder.toml"))
    assert view.is_sound
    assert not view.faults
    assert (view.title, view.side) == ("Inspection opening, lower wing skin between rib 3 and rib 4", "LEFT")
    assert view.svg.startswith("<svg")
    assert view.counts[Status.STOP] == view.verdict.count(Status.STOP) == 2
    assert "strength (no loads entered)" in view.not_checked


def test_a_faulty_job_has_its_faults_in_their_boxes_and_claims_nothing(alder_text, tmp_path):
    wrong = alder_text.replace('radius = ".75"\ncenter', 'radius = "9"\ncenter')
    view = screen(Asked(wrong, tmp_path, "alder.toml"))
    assert not view.is_sound
    assert view.faults
    assert view.svg == ""
    assert view.findings == ()
    assert set(view.counts.values()) == {0}
    held = [fault for section in view.sheet.sections.values() for fault in section.faults]
    held += [fault for box in view.sheet.boxes.values() for fault in box.faults]
    assert {*held, *view.sheet.loose_faults} == set(view.faults)


def test_the_other_side_of_a_job_on_the_center_line_is_itself(tmp_path):
    text = (Path(__file__).parents[2] / "examples" / "dogwood.toml").read_text(encoding="utf-8")
    other = screen(Asked(text, tmp_path, "dogwood.toml", Look(other_side=True)))
    assert other.side == "CENTER"
    assert other.svg == screen(Asked(text, tmp_path, "dogwood.toml")).svg


def test_from_inside_left_and_right_change_places_and_words_stay_readable(alder):
    found = examine(alder)
    sheet = bay_sheet(found.layout, found.findings, date="")
    inside = seen_from_inside(sheet)
    before = {
        p.words: p.box() for p in sheet.parts() if isinstance(p, Text) and re.fullmatch(r"\d+", p.words)
    }
    after = {
        p.words: p.box() for p in inside.parts() if isinstance(p, Text) and re.fullmatch(r"\d+", p.words)
    }
    assert before.keys() == after.keys()
    for words, box in before.items():
        mirrored = after[words]
        assert abs(mirrored.left + box.right) < 1e-9
        assert abs(mirrored.right + box.left) < 1e-9
        assert (mirrored.bottom, mirrored.top) == (box.bottom, box.top)
    assert seen_from_inside(inside).parts()[0].box() == sheet.parts()[0].box()
    assert "SEEN FROM INSIDE" in inside.title


def test_readings_stand_side_by_side_with_what_each_asks_for(alder):
    found = examine(alder)
    (table,) = (one for one in named(reading_tables(found.findings, alder)) if one.rule == "R601")
    assert [reading.name for reading in table.readings] == [
        "table 4-9, no reduction",
        "table 4-9, note c",
        "table 4-10, no reduction",
        "table 4-10, note c",
    ]
    assert table.chosen == "table 4-10, note c"
    assert len(table.rows) == 4
    # Scenario answer 5: 15 rivets for the 4.00 cut and 19 for the 5.00 cut by table 4-10, note c; filed 4.011 x 5.016
    needed = {row.subject: row.results[3].partition("; ")[0] for row in table.rows}
    assert {result for subject, result in needed.items() if "cut 4.011" in subject} == {"n >= 15"}
    assert {result for subject, result in needed.items() if "cut 5.016" in subject} == {"n >= 19"}


def test_jobs_without_a_conflict_have_no_table_of_readings(dogwood):
    assert reading_tables(examine(dogwood).findings, dogwood) == []


def test_looks_do_not_change_what_is_found_on_this_side(alder_text, tmp_path):
    outside, inside = (
        screen(Asked(alder_text, tmp_path, "alder.toml", Look(seen=seen))) for seen in ("outside", "inside")
    )
    assert outside.findings == inside.findings
    assert outside.counts[Status.STOP] >= 2
