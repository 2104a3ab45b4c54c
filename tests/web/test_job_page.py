"""The page of one job: boxes, echoes, faults, drawing, findings, undo, and two pages on one job."""

from __future__ import annotations

import re
import tomllib

import pytest

from web.job_pages import Document, JobPage


@pytest.fixture
def page(client):
    return JobPage.opened(client)


def on_disk(folder, name="alder.toml") -> str:
    return (folder / name).read_text(encoding="utf-8")


def test_the_page_shows_side_view_holes_and_what_is_not_checked(page):
    document = page.document
    assert [e.text for e in document.by_class("side")] == ["LEFT"]
    assert [e.text for e in document.by_class("seen")] == ["SEEN FROM OUTSIDE"]
    assert "FWD ↑" in page.html
    assert "OUTBD →" in page.html
    assert len(page.holes) == 64 + 16  # 8 rows of rivets of the example file, and its 16 cover screws
    for word in ("no loads entered", "fatigue", "manufacturer&#39;s own data", "not approved data"):
        assert word in page.html


def test_findings_come_worst_first_each_with_word_symbol_source_and_grade(page):
    document = page.document
    words = [e.text.strip() for e in document.by_class("aside") if e.text.strip().endswith(":")]
    shelves = [e.attributes["id"] for e in document.by_class("shelf-title")]
    order = ["shelf-place", "shelf-behind", "shelf-holds", "shelf-settle", "shelf-know"]
    assert shelves == [shelf for shelf in order if shelf in shelves]
    assert "shelf-holds" in shelves
    assert words.count("STOP:") >= 2
    assert len(document.by_class("symbol")) >= len(words)
    sources = [e.text for e in document.elements if e.tag == "summary" and "Calculation and source" in e.text]
    assert len(sources) >= len(shelves)
    assert any(
        "AL0992, rivet spacing and edge distance" in source and "published" in source for source in sources
    )


def test_bad_holes_are_marked_with_number_and_shortfall(page):
    """Scenario answer 7: 6 and 15 short .007, 4 short .002 within u .005, 9 not named."""
    texts = " | ".join(
        e.text
        for e in page.document.elements
        if e.tag == "text" and "short" in (e.attributes.get("class") or "")
    )
    assert "6: SHORT .007" in texts
    assert "15: SHORT .007" in texts
    assert "4: SHORT .002" in texts
    assert "WITHIN u .005" in texts
    assert "9: " not in texts


def test_every_finding_with_a_hole_points_to_a_hole_of_the_drawing(page):
    for finding in page.document.by_class("finding"):
        for hole in (finding.attributes["data-holes"] or "").split():
            assert hole in page.holes


@pytest.mark.parametrize(
    ("box", "typed", "said"),
    [
        # 1 3/8 = 1.375 in = 34.925 mm; 35 mm = 1.37795 in; 5.5 mm = .21654 in = 7/32 - .0022, by hand from 25.4 mm/in
        ("opening.radius", "1 3/8", "1.375 in = 1 3/8 = 34.925 mm"),
        ("opening.radius", "1-3/8", "1.375 in = 1 3/8 = 34.925 mm"),
        ("opening.radius", "35 mm", "1.378 in = 1 3/8 + .003 = 35 mm"),
        ("opening.radius", "5,5 mm", ".217 in = 7/32 - .002 = 5.5 mm"),
        # number drill 30 is .1285 in (ASME B94.11M drill sizes)
        ("template.end_mill", "#30", ".1285 in = 1/8 + .004 = 3.264 mm"),
        ("template.end_mill", "-30", ".1285 in = 1/8 + .004 = 3.264 mm"),
        ("bay.flanges.0.x_to", "-.34", "-.340 in = -11/32 - .004 = -8.636 mm"),
    ],
)
def test_a_length_is_said_back_in_every_notation(page, folder, box, typed, said):
    assert page.type(box, typed).status_code == 200
    assert page.said["boxes"][box.replace(".", "-")] == [said, False]
    assert typed in on_disk(folder)


def test_a_change_is_saved_at_once_and_comments_stay(page, folder):
    before = on_disk(folder).splitlines()
    page.type("skin.measured", ".0318")
    changed = [
        (old, new) for old, new in zip(before, on_disk(folder).splitlines(), strict=True) if old != new
    ]
    assert changed == [
        (
            'measured = ".0315"         # micrometer, through an existing hole',
            'measured = ".0318"         # micrometer, through an existing hole',
        )
    ]


def test_nothing_is_written_while_nothing_is_typed(page, folder):
    before = (folder / "alder.toml").stat().st_mtime_ns
    assert page.take(page.send()).status_code == 200
    assert (folder / "alder.toml").stat().st_mtime_ns == before


def test_the_drawing_follows_the_typing(page):
    before = page.holes
    page.type("rows.7.start.1", "1.80")
    after = page.holes
    moved = {number for number in before if after[number] != before[number]}
    assert moved
    assert moved <= {str(number) for number in range(71, 80)}


def test_a_faulty_entry_is_kept_and_explained_and_the_last_sound_drawing_stays(page, folder):
    drawing = page.holes
    page.type("opening.width", "1,000")
    assert tomllib.loads(on_disk(folder))["opening"]["width"] == "1,000"
    fault = page.faulty["opening-width"]
    assert "comma" in fault
    assert "Given: 1,000." in fault
    assert "Write it with a decimal point" in fault
    assert page.data("sound") == "no"
    assert "NOT UP TO DATE" in page.html
    assert "is-old" in page.html
    assert page.holes == drawing
    assert not page.document.by_class("finding")
    page.type("opening.width", "5.0")
    assert page.data("sound") == "yes"
    assert "NOT UP TO DATE" not in page.html
    assert not page.faulty


def test_all_faults_are_listed_together_each_with_the_way_to_its_box(page):
    for box, text in (
        ("opening.width", "wide"),
        ("skin.thickness", "0"),
        ("rows.2.rivet", ""),
        ("frame.y", ""),
    ):
        page.type(box, text)
    whole = JobPage.opened(page.client)
    links = [
        e.attributes["href"]
        for e in whole.document.elements
        if e.tag == "a" and (e.attributes.get("href") or "").startswith("#f-")
    ]
    assert {"#f-opening-width", "#f-skin-thickness", "#f-rows-2-rivet", "#f-frame-y"} <= set(links)
    assert {link[1:] for link in links} <= whole.document.ids()


def test_the_typed_text_of_a_faulty_box_is_there_after_a_reload(page):
    page.type("opening.width", '5" or so <b>')
    again = JobPage.opened(page.client)
    assert again.form["job.opening.width"] == '5" or so <b>'
    assert "NOT UP TO DATE" in again.html
    assert len(again.holes) == 80


def test_an_emptied_optional_box_leaves_the_file_and_comes_back(page, folder):
    page.type("cover.screws.length", "")
    assert "length" not in tomllib.loads(on_disk(folder))["cover"]["screws"]
    page.type("cover.screws.length", "5/8")
    assert tomllib.loads(on_disk(folder))["cover"]["screws"]["length"] == "5/8"
    assert page.data("sound") == "yes"


def test_a_point_that_was_left_away_takes_both_ends(page, folder):
    page.type("doubler.outer.center.0", "5.4")
    assert tomllib.loads(on_disk(folder))["doubler"]["outer"]["center"] == ["5.4", ""]
    assert "doubler-outer-center-1" in page.faulty
    page.type("doubler.outer.center.1", "4.5")
    assert page.data("sound") == "yes"
    page.form["job.doubler.outer.center.0"] = ""
    page.type("doubler.outer.center.1", "")
    assert "center" not in tomllib.loads(on_disk(folder))["doubler"]["outer"]


def test_yes_no_and_counts_stay_what_they_are_in_the_file(page, folder):
    page.type("aircraft.both_sides", "no")
    page.type("cover.screws.count", "12")
    page.type("cover.screws.straights_only", "no")
    data = tomllib.loads(on_disk(folder))
    assert data["aircraft"]["both_sides"] is False
    assert data["cover"]["screws"]["count"] == 12
    assert data["cover"]["screws"]["straights_only"] is False


def test_another_shape_brings_its_own_boxes_and_takes_the_old_ones_away(page, folder):
    page.type("opening.shape", "circle")
    assert tomllib.loads(on_disk(folder))["opening"] == {"shape": "circle", "center": ["5.50", "4.50"]}
    inside = page.document.by_id("i-opening")
    assert inside.attributes["hx-swap-oob"] == "outerHTML"
    assert "f-opening-diameter" in page.document.ids()
    assert "f-opening-width" not in page.document.ids()
    assert "f-opening-shape" not in page.document.ids()  # the box that has the focus is never swapped


def test_a_lost_answer_about_another_shape_is_made_good_by_the_next(page):
    page.form["job.opening.shape"] = "circle"
    lost = page.send()
    assert lost.status_code == 200
    page.take(page.send())
    assert "f-opening-diameter" in page.document.ids()


def test_one_visit_to_a_box_is_one_step_of_undo(page, folder, client):
    before = on_disk(folder)
    for text in ("6", "6.", "6.2"):
        page.type("doubler.outer.height", text)
    page.step += 1
    page.type("doubler.thickness", ".050")
    assert page.data("undo") == "2"
    base = page.data("version")
    assert client.post("/job/alder.toml/undo", {"base": base, "way": "back"}).status_code == 302
    assert tomllib.loads(on_disk(folder))["doubler"]["outer"]["height"] == "6.2"
    assert tomllib.loads(on_disk(folder))["doubler"]["thickness"] == ".040"
    again = JobPage.opened(client)
    client.post("/job/alder.toml/undo", {"base": again.data("version"), "way": "back"})
    assert on_disk(folder) == before
    again = JobPage.opened(client)
    assert (again.data("undo"), again.data("redo")) == ("0", "2")
    client.post("/job/alder.toml/undo", {"base": again.data("version"), "way": "again"})
    assert tomllib.loads(on_disk(folder))["doubler"]["outer"]["height"] == "6.2"


def test_two_pages_on_one_job_never_overwrite_each_other(page, folder, client):
    other = JobPage.opened(client)
    assert page.type("opening.width", "5.10").status_code == 200
    written = on_disk(folder)
    refused = other.type("opening.height", "4.20")
    assert refused.status_code == 409
    assert refused.headers["HX-Retarget"] == "#notice"
    assert on_disk(folder) == written
    said = refused.content.decode()
    assert "changed elsewhere" in said
    for value in ("Opening, Width", "5.10", "5.00", "Opening, Height", "4.20", "4.00"):
        assert value in said
    over = next(e for e in Document(said).elements if e.attributes.get("name") == "over").attributes["value"]
    assert client.post("/job/alder.toml/entries", {**other.form, "over": over}).status_code == 302
    data = tomllib.loads(on_disk(folder))
    assert (data["opening"]["width"], data["opening"]["height"]) == ("5.00", "4.20")


def test_a_file_changed_by_another_program_is_noticed(page, folder):
    changed = on_disk(folder).replace('title = "Inspection', 'title = "Another inspection')
    (folder / "alder.toml").write_text(changed, encoding="utf-8")
    assert page.type("opening.width", "5.10").status_code == 409
    assert on_disk(folder) == changed


def test_an_answer_that_never_arrived_is_no_conflict_and_a_late_entry_never_follows_a_newer_one(page, folder):
    page.form["job.opening.width"] = "5.1"
    page.send()  # its answer is lost, so the page does not know the new version
    page.form["job.opening.width"] = "5.12"
    assert page.send().status_code == 200
    assert page.send(**{"serial": "1", "job.opening.width": "5.1"}).status_code == 200
    assert tomllib.loads(on_disk(folder))["opening"]["width"] == "5.12"


def test_lines_and_sections_are_added_and_removed(page, folder, client):
    def press(part: str):
        current = JobPage.opened(client)
        return client.post("/job/alder.toml/part", {**current.form, "serial": "1", "part": part})

    answer = press("add:bay.keep_outs")
    assert answer.status_code == 302
    assert answer.headers["Location"].endswith("?at=bay.keep_outs.1")
    assert "autofocus" in client.get(answer.headers["Location"]).content.decode()
    assert len(tomllib.loads(on_disk(folder))["bay"]["keep_outs"]) == 2
    assert press("take:bay.keep_outs.0").status_code == 302
    assert [k["name"] for k in tomllib.loads(on_disk(folder))["bay"]["keep_outs"]] == [""]
    assert press("take:cover").status_code == 302
    assert "cover" not in tomllib.loads(on_disk(folder))
    assert press("add:cover").status_code == 302
    assert JobPage.opened(client).form["job.cover.fit"] == ""


@pytest.mark.parametrize(
    "part", ["take:skin", "take:rows", "add:nothing.here", "add:", "", "take:rows.99", "add:doubler"]
)
def test_parts_that_are_not_there_or_must_stay_are_refused(page, folder, client, part):
    before = on_disk(folder)
    answer = client.post("/job/alder.toml/part", {**page.form, "part": part})
    assert answer.status_code == 409
    assert on_disk(folder) == before


def test_readings_stand_side_by_side_and_a_choice_is_kept_with_its_reason(page, folder, client):
    document = page.document
    headings = [e.text for e in document.elements if e.tag == "th"]
    for name in (
        "table 4-9, no reduction",
        "table 4-9, note c",
        "table 4-10, no reduction",
        "table 4-10, note c",
    ):
        assert name in headings
    chosen = {
        "base": page.data("version"),
        "rule": "R601",
        "reading": "table 4-9, note c",
        "reason": "Lap of two sheets, ring on skin.",
    }
    assert client.post("/job/alder.toml/choice", chosen).status_code == 302
    assert tomllib.loads(on_disk(folder))["choices"] == [
        {"rule": "R601", "reading": "table 4-9, note c", "reason": "Lap of two sheets, ring on skin."}
    ]


def test_a_choice_without_a_reason_leaves_the_job_unsound(page, client):
    chosen = {"base": page.data("version"), "rule": "R601", "reading": "table 4-9, note c", "reason": ""}
    client.post("/job/alder.toml/choice", chosen)
    again = JobPage.opened(client)
    assert again.data("sound") == "no"
    assert "choices-0-reason" in again.faulty


def test_the_verdict_stands_once_and_before_the_drawing_and_the_boxes(page):
    assert page.html.count("DO NOT CUT, DRILL OR RIVET") == 1
    places = [
        page.html.index(part) for part in ("DO NOT CUT, DRILL OR RIVET", 'id="drawing"', 'id="entries"')
    ]
    assert places == sorted(places)


def test_a_page_that_opens_on_a_wrong_entry_says_not_shown_where_the_verdict_stands(page, client):
    page.type("opening.radius", "wide")
    head, _ = JobPage.opened(client).document.by_class(
        "headline"
    )  # the other is what a later fault would show
    assert "NOT SHOWN" in head.text
    assert "is-unknown" in head.attributes["class"]


def test_seen_from_inside_mirrors_left_and_right_and_says_so(page):
    outside = page.holes
    page.take(page.send(seen="inside"))
    assert "SEEN FROM INSIDE: MIRRORED" in page.html
    assert "OUTBD ←" in page.html
    assert page.holes == {number: (-x, y) for number, (x, y) in outside.items()}
    assert JobPage.opened(page.client).holes == page.holes  # it stays so after a reload


def test_the_other_side_is_the_mirrored_job_as_drawn(page):
    page.take(page.send(other_side="yes"))
    assert [e.text for e in page.document.by_class("side")] == ["RIGHT"]
    assert "OUTBD ←" in page.html
    # what was measured on the left does not hold on the right: hole 6 lies where it is drawn, not where it was drilled
    x, y = page.holes["6"]
    assert (round(-x, 6), round(y, 6)) == (8.28, 5.12)


def test_the_answers_that_pass_come_when_they_are_unfolded(page, client):
    count = int(page.document.by_id("passed").text.split()[0])
    answer = client.get("/job/alder.toml/passed").content.decode()
    assert len(Document(answer).by_class("finding")) == count > 20


def test_an_answer_says_beside_the_boxes_what_has_changed_and_all_to_a_page_that_is_behind(page):
    page.type("opening.radius", ".8")
    assert set(page.said["boxes"]) == {"opening-radius"}
    assert page.type("opening.radius", "wide").status_code == 200
    assert set(page.faulty) == {"opening-radius"}
    page.type("opening.radius", ".9")
    assert page.said["boxes"] == {"opening-radius": [".900 in = 29/32 - .006 = 22.86 mm", False]}
    page.form["base"] = ""
    page.type("opening.radius", ".8")
    assert len(page.said["boxes"]) > 100


def test_a_job_in_millimeters_has_millimeters_first(client):
    inch = JobPage.opened(client, "dogwood.toml")
    client.post("/job/dogwood.toml/part", {**inch.form, "part": "unit:mm"})
    page = JobPage.opened(client, "dogwood.toml")
    assert "Numbers without a unit are millimeters." in page.html
    assert page.type("opening.width", "203,2").status_code == 200
    shown = JobPage.opened(client, "dogwood.toml").document
    assert shown.by_id("e-opening-width").text == "8.000 in = 8 = 203.2 mm"
    lengths = [e.text for e in shown.by_class("figures") if " mm" in e.text]
    assert lengths
    passed = Document(client.get("/job/dogwood.toml/passed").content.decode())
    told = [*shown.by_class("shelf"), *passed.by_class("figures"), *passed.by_class("advice")]
    assert not [e.text for e in told if re.search(r"\d in\b", e.text)]


def test_another_unit_for_bare_numbers_moves_no_hole(page, folder, client):
    assert "job.units" not in page.form  # no box that a late entry could write over
    answer = client.post("/job/alder.toml/part", {**page.form, "serial": "1", "part": "unit:mm"})
    assert answer.status_code == 302
    assert tomllib.loads(on_disk(folder))["units"] == "mm"
    again = JobPage.opened(client)
    assert again.form["job.opening.width"] == "5.00 in"
    assert again.holes == page.holes
