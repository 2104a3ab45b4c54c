"""The page for pasting rows: what the list takes, what was entered, and nothing lost where it can't be read."""

from __future__ import annotations

import tomllib
from pathlib import Path
from urllib.parse import urlencode

import pytest

from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from web.job_pages import Document


def at(list_: str) -> str:
    return f"/job/alder.toml/paste?{urlencode({'list': list_})}"


def shown(answer) -> str:
    return " ".join(e.text for e in Document(answer.content.decode()).elements if e.tag in ("p", "li", "h2"))


def base_of(client, list_: str) -> str:
    page = client.get(at(list_)).content.decode()
    return next(e.attributes["value"] for e in Document(page).elements if e.attributes.get("name") == "base")


def seen_in(answer) -> str:
    """By which a page that shows how a set lies is entered, "" for none."""
    elements = Document(answer.content.decode()).elements
    return next((e.attributes["value"] for e in elements if e.attributes.get("name") == "seen"), "")


def entered(client, posted, **more):
    """Paste, look at how the set lies, and enter it."""
    shown_first = client.post(at("as_made.holes"), posted)
    assert (shown_first.status_code, bool(seen_in(shown_first))) == (200, True)
    return client.post(at("as_made.holes"), {**posted, "seen": seen_in(shown_first), **more})


def test_it_says_which_columns_the_list_takes_and_that_a_comma_may_be_a_decimal_mark(client):
    answer = client.get(at("as_made.holes"))
    assert answer.status_code == 200
    told = shown(answer)
    for words in (
        "Number, X, Y, Diameter where measured",
        "a comma may be its decimal mark",
        "Replace the list (17 now)",
    ):
        assert words in told or words in answer.content.decode()


def test_rows_are_entered_as_one_step_that_can_be_undone(client, folder):
    before = (folder / "alder.toml").read_text(encoding="utf-8")
    posted = {
        "base": base_of(client, "as_made.holes"),
        "pasted": "No;X;Y\n21;7,36;6,78\n22;6,74;6,78",
        "how": "add",
    }
    answer = entered(client, posted)
    assert (answer.status_code, answer["Location"]) == (302, at("as_made.holes"))
    after = (folder / "alder.toml").read_text(encoding="utf-8")
    assert after == before.replace(
        '    [18, "8.718", "6.672"],\n',
        '    [18, "8.718", "6.672"],\n    [21, "7.36", "6.78"],\n    [22, "6.74", "6.78"],\n',
    )
    told = shown(client.get(at("as_made.holes")))
    assert "2 rows entered" in told
    assert "Commas were read as decimal marks." in told
    job = Document(client.get("/job/alder.toml/").content.decode())
    client.post("/job/alder.toml/undo", {"base": job.form["base"], "way": "back"})
    assert (folder / "alder.toml").read_text(encoding="utf-8") == before


@pytest.mark.parametrize(
    ("pasted", "says"),
    [
        ("21;7.36;6.78\n22;one;6.78", "Row 2, X: This is not a length"),
        ("21;7.36;6.78;.129;.002;good", "Row 1: This row has 6 cells"),
        ("21 7.36 6.78\n" * 10_000, "10000 rows are more than the list has room for"),
    ],
    ids=["no number", "a column too many", "10,000 rows"],
)
def test_what_can_not_be_read_is_told_and_the_person_gets_the_paste_back(client, folder, pasted, says):
    before = (folder / "alder.toml").read_bytes()
    answer = client.post(at("as_made.holes"), {"base": base_of(client, "as_made.holes"), "pasted": pasted})
    assert answer.status_code == 400
    assert says in shown(answer)
    assert Document(answer.content.decode()).by_id("pasted").text.strip() == pasted.strip()
    assert (folder / "alder.toml").read_bytes() == before


def test_a_file_that_changed_meanwhile_is_left_alone_and_the_paste_kept(client, folder):
    base = base_of(client, "as_made.holes")
    path = folder / "alder.toml"
    path.write_text(path.read_text(encoding="utf-8").replace('title = "', 'title = "New '), encoding="utf-8")
    before = path.read_bytes()
    answer = entered(client, {"base": base, "pasted": "21 7.36 6.78"})
    assert answer.status_code == 400
    assert Document(answer.content.decode()).by_id("pasted").text.strip() == "21 7.36 6.78"
    assert path.read_bytes() == before


def test_a_list_that_takes_no_rows_says_so(client):
    answer = client.get(at("title"))
    assert answer.status_code == 404
    assert "No rows can be pasted here" in answer.content.decode()


def whole_set(change=lambda x, y: (x, y)) -> str:
    """Every hole of ALDER as drawn, moved by a known change."""
    alder = Path(__file__).parents[2] / "examples" / "alder.toml"
    holes = lay_out(read_job(alder.read_text(encoding="utf-8"))).holes
    places = ((hole.number, *change(*(hole.drawn_in or hole.place))) for hole in holes)
    return "\n".join(f"{number};{x:.3f};{y:.3f}" for number, x, y in places)


def test_a_set_is_shown_as_it_lies_before_it_is_entered(client, folder):
    before = (folder / "alder.toml").read_bytes()
    pasted = whole_set(lambda x, y: (x + 0.03, y))
    posted = {"base": base_of(client, "as_made.holes"), "pasted": pasted, "how": "replace"}
    answer = client.post(at("as_made.holes"), posted)
    told = shown(answer)
    assert "80 of 80 holes matched. Pattern shifted X .030" in told
    assert "The whole pattern is shifted" in told
    assert "OK becomes STOP: rivet 11 to doubler outer edge" in told
    assert "Edge distances that change" in answer.content.decode()
    assert (folder / "alder.toml").read_bytes() == before
    changed = {**posted, "seen": seen_in(answer), "pasted": pasted.replace("\n2;", "\n3;", 1)}
    assert client.post(at("as_made.holes"), changed).status_code == 400  # 3 stands twice now
    assert entered(client, posted).status_code == 302
    assert (folder / "alder.toml").read_bytes() != before


def test_a_mirrored_set_is_entered_only_when_a_person_says_that_it_is_so(client, folder):
    before = (folder / "alder.toml").read_bytes()
    pasted = whole_set(lambda x, y: (11.0 - x, y))
    posted = {"base": base_of(client, "as_made.holes"), "pasted": pasted, "how": "replace"}
    answer = entered(client, posted)
    assert answer.status_code == 400
    assert "The readings are doubtful and were not entered" in shown(answer)
    assert "Mirrored along X" in shown(answer)
    assert (folder / "alder.toml").read_bytes() == before
    assert entered(client, posted, as_they_are="yes").status_code == 302
    assert (folder / "alder.toml").read_bytes() != before


def test_readings_in_the_other_unit_are_refused(client, folder):
    before = (folder / "alder.toml").read_bytes()
    pasted = whole_set(lambda x, y: (25.4 * x, 25.4 * y))
    posted = {"base": base_of(client, "as_made.holes"), "pasted": pasted, "how": "replace"}
    answer = client.post(at("as_made.holes"), posted)
    assert answer.status_code == 400
    assert "as millimeters read as inches do" in shown(answer)
    assert (folder / "alder.toml").read_bytes() == before


def test_a_job_that_does_not_say_how_far_off_readings_are_is_asked(client, folder):
    path = folder / "alder.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace('uncertainty = ".005"', 'uncertainty = ""', 1), encoding="utf-8")
    page = Document(client.get(at("as_made.holes")).content.decode())
    assert page.by_id("u") is not None
    posted = {
        "base": base_of(client, "as_made.holes"),
        "pasted": whole_set(),
        "how": "replace",
        "u": ".004",
    }
    assert entered(client, posted).status_code == 302
    made = tomllib.loads(path.read_text(encoding="utf-8"))["as_made"]
    assert (made["uncertainty"], len(made["holes"])) == (".004", 80)


def test_a_set_without_numbers_is_entered_by_its_places_and_a_second_hole_as_one_of_no_row(client, folder):
    numbered = whole_set().splitlines()
    rows = [line.partition(";")[2] for line in numbered]
    x, y = rows[4].split(";")
    pasted = "\n".join(["X;Y;Dia", *(f"{row};" for row in rows), f"{float(x) + 0.06:.3f};{y};.128"])
    posted = {"base": base_of(client, "as_made.holes"), "pasted": pasted, "how": "replace"}
    first = client.post(at("as_made.holes"), posted)
    assert "Hole 5 is drilled twice: rows 6 and 82" in shown(first)
    assert entered(client, posted).status_code == 302
    made = tomllib.loads((folder / "alder.toml").read_text(encoding="utf-8"))["as_made"]
    assert {line[0]: line[1:] for line in made["holes"]} == {
        int(number): list(place) for number, *place in (line.split(";") for line in numbered)
    }
    assert made["strays"] == [[f"{float(x) + 0.06:.3f}", y, ".128"]]


def test_a_second_hole_without_diameter_is_told_by_its_row(client, folder):
    rows = [line.partition(";")[2] for line in whole_set().splitlines()]
    x, y = rows[4].split(";")
    pasted = "\n".join(["X;Y", *rows, f"{float(x) + 0.06:.3f};{y}"])
    posted = {"base": base_of(client, "as_made.holes"), "pasted": pasted, "how": "replace"}
    answer = client.post(at("as_made.holes"), posted)
    assert answer.status_code == 400
    assert "Row 82: This hole belongs to no row of the job and has no diameter" in shown(answer)


MIXED = """edge; opening; outbd; 8.022; .003
corner; opening; 2; .740
thickness; doubler; .0395; .0005
head; 1; .150; .062
dimple; 103; .06
stray; 8.50; 4.20; .128; ; ; both
diameter; 21; .129; .001
"""


def test_readings_of_all_kinds_are_shown_with_what_they_change_and_entered_in_one_step(client, folder):
    before = (folder / "alder.toml").read_bytes()
    page = client.get(at("as_made.holes"))
    assert "Paste readings of all kinds" in page.content.decode()
    posted = {"base": base_of(client, "as_made"), "pasted": MIXED}
    first = client.post(at("as_made"), posted)
    told = shown(first)
    assert "OK becomes STOP: shop head of rivet 1, MS20470AD4" in told
    assert "rivet 2 to opening edge (skin)" in first.content.decode()
    assert (folder / "alder.toml").read_bytes() == before
    assert client.post(at("as_made"), {**posted, "seen": seen_in(first)}).status_code == 302
    text = (folder / "alder.toml").read_text(encoding="utf-8")
    made, doubler = (tomllib.loads(text)[name] for name in ("as_made", "doubler"))
    assert (made["opening"]["x_to"], made["opening"]["x_to_u"]) == ("8.022", ".003")
    assert made["opening"]["radius_2"] == ".740"
    assert (doubler["measured"], doubler["measured_u"]) == (".0395", ".0005")
    assert made["heads"] == [[1, ".150", ".062"]]
    assert made["cracked_dimples"] == [[103, ".06"]]
    assert made["strays"] == [["8.50", "4.20", ".128", "", "", "both"]]
    assert made["sizes"] == [[21, ".129", ".001"]]


def test_a_row_that_says_nothing_known_is_told_with_the_words_that_do(client, folder):
    before = (folder / "alder.toml").read_bytes()
    answer = client.post(
        at("as_made"), {"base": base_of(client, "as_made"), "pasted": MIXED + "rivet; 3; .2"}
    )
    assert answer.status_code == 400
    assert "Row 8: No reading begins with this word" in shown(answer)
    assert (folder / "alder.toml").read_bytes() == before


@pytest.mark.parametrize(
    ("list_", "pasted", "line"),
    [
        (
            "as_made.strays",
            "X;Y;Dia;u;Rivet;Part\n8,50;4,20;,128;;;doubler",
            ["8.50", "4.20", ".128", "", "", "doubler"],
        ),
        ("as_made.cracked_dimples", "103\t.06\t.02", [103, ".06", ".02"]),
    ],
)
def test_stray_holes_and_cracked_dimples_take_a_paste_of_their_own(client, folder, list_, pasted, line):
    posted = {"base": base_of(client, list_), "pasted": pasted}
    first = client.post(at(list_), posted)
    assert client.post(at(list_), {**posted, "seen": seen_in(first)}).status_code == 302
    made = tomllib.loads((folder / "alder.toml").read_text(encoding="utf-8"))["as_made"]
    assert made[list_.partition(".")[2]] == [line]
