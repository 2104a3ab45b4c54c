"""The list of jobs: open points first, hostile names and broken files among them."""

from __future__ import annotations

import os
import threading
from dataclasses import replace
from urllib.parse import quote

import ezdxf
import pytest

from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.job.file import read_job
from hatchwright.page.job_line import job_line
from hatchwright.web.site import SITE, Site
from hatchwright.workflow.job_folder import JobFolder
from hatchwright.workflow.new_job import NEW_JOBS, Start, starting_text
from tests.patience import PATIENCE_S
from web.conftest import EXAMPLES, client_of, listed, site_behind
from web.job_pages import Document, JobPage


def names(client) -> list[str]:
    links = Document(client.get("/").content.decode()).by_class("job-link")
    return [link.attributes["href"] or "" for link in links]


def test_the_sound_example_comes_first(client, folder):
    (folder / "juniper.toml").write_text((EXAMPLES / "juniper.toml").read_text())
    assert names(client) == ["/job/juniper.toml/", "/job/alder.toml/", "/job/dogwood.toml/"]


def test_a_job_stands_in_the_list_with_its_open_points(client, folder):
    html = listed(client)
    assert html.index("LEFT") < html.index("CENTER")
    assert "DO NOT CUT, DRILL OR RIVET: 2 STOP, 1 NOT SHOWN" in html
    assert "Rivet 6 to opening edge (skin): 1.94D of 2D, .007 short." in html


def test_the_verdict_leads_and_the_three_worst_lines_follow(client, folder):
    document = Document(listed(client))
    heads = [one.text.strip() for one in document.by_class("headline")]
    assert heads[0] == "DO NOT CUT, DRILL OR RIVET: 2 STOP, 1 NOT SHOWN"
    assert heads[1] == "RIGHT side: DO NOT CUT, DRILL OR RIVET: 2 NOT SHOWN"  # ALDER is for both sides
    assert len(heads) == 3
    for points in document.by_class("points"):
        lines = [line for line in points.text.splitlines() if line.strip()]
        assert len(lines) <= 4  # three, and how many more
    first = document.by_class("points")[0].text
    assert first.index("Rivet 6 to opening edge") < first.index("Rivet 15 to doubler outer edge")


def test_two_servers_of_one_program_know_nothing_of_each_other(client, folder, tmp_path):
    """What one is asked for, shows and has made is not the other's, though a job is called the same in both."""
    other = tmp_path / "other"
    other.mkdir()
    text = (folder / "alder.toml").read_text(encoding="utf-8")
    (other / "alder.toml").write_text(text.replace("Inspection opening", "Another job"), encoding="utf-8")
    second = client_of(Site(JobFolder(other.resolve())))
    assert second.get("/").status_code == 403  # its door is its own
    assert second.get(f"/enter/{site_behind(client).tokens.issue()}").status_code == 403
    assert second.get(f"/enter/{site_behind(second).tokens.issue()}").status_code == 302
    JobPage.opened(client)
    assert site_behind(second).marked.get("alder.toml") is None
    assert site_behind(second).drawn.get("alder.toml") is None
    assert "Another job" in listed(second)
    assert "Another job" not in listed(client)
    made = MadeFile("alder.zip", MadeKind.ALL_IN_ONE, "", False, Written.ZIP, b"its own")
    site_behind(client).made.put("key", (made,))
    assert client.get("/job/alder.toml/papers/key/alder.zip").content == b"its own"
    assert second.get("/job/alder.toml/papers/key/alder.zip").status_code == 404


def test_a_job_named_at_the_start_comes_before_the_example(folder, client):
    client.defaults[SITE] = replace(site_behind(client), first_job="dogwood.toml")
    assert names(client)[0] == "/job/dogwood.toml/"


def test_a_new_job_is_begun_and_opened(client, folder):
    answer = client.post("/new", {"title": "Drain hole, belly: 2nd try"})
    assert answer.headers["Location"] == "/job/drain-hole-belly-2nd-try.toml/"
    page = JobPage.opened(client, "drain-hole-belly-2nd-try.toml")
    assert page.form["job.title"] == "Drain hole, belly: 2nd try"
    assert page.data("sound") == "yes"


def test_the_list_shows_each_kind_as_a_picture_and_leads_to_it_from_its_head(client):
    page = Document(client.get("/").content.decode())
    tiles = [one for one in page.elements if one.tag == "input" and one.attributes.get("name") == "kind"]
    assert [tile.attributes["value"] for tile in tiles] == list(NEW_JOBS)
    pictures = [one.attributes["src"] for one in page.elements if one.tag == "img"]
    assert pictures == [f"/new/picture?kind={kind}" for kind in NEW_JOBS]
    heads = [one for one in page.elements if one.attributes.get("href") == "#new-job"]
    assert [head.text for head in heads] == ["New job"]
    assert "new-job" in page.ids()


@pytest.mark.parametrize("kind", NEW_JOBS)
def test_a_new_job_is_of_the_kind_that_was_picked(client, folder, kind):
    picked = {"kind": kind, "units": "mm", "side": "right"}
    asked = client.get("/new", picked).content.decode()
    assert 'name="job.opening.center.0"' in asked
    drawn = client.get("/new/picture", picked)
    assert drawn.headers["Content-Type"] == "image/svg+xml"
    assert client.post("/new", {"title": "One", **picked}).status_code == 302
    mine, sample = (
        read_job((folder / "one.toml").read_text()),
        read_job(starting_text(Start(kind, "", "mm", "right"))),
    )
    assert mine.title == "One"
    assert mine.model_copy(update={"title": sample.title}) == sample


def test_what_was_typed_is_confirmed_and_the_rest_stays_a_sample(client, folder):
    typed = {"job.opening.diameter": "4", "job.skin.thickness": "0,8 mm", "job.doubler.thickness": " "}
    start = {"title": "One", "kind": "flush-cover", "shape": "round"}
    assert client.post("/new", {**start, **typed}).status_code == 302
    job = read_job((folder / "one.toml").read_text())
    assert job.skin.thickness.text == "0,8 mm"
    assert {"opening.diameter", "skin.thickness"} & set(job.samples) == set()
    assert {"skin.measured", "doubler.thickness", "opening.center"} <= set(job.samples)
    assert JobPage.opened(client, "one.toml").data("sound") == "yes"


def test_what_cannot_be_is_told_at_its_box_and_nothing_typed_is_lost(client, folder):
    before = sorted(folder.parent.rglob("*"))
    typed = {"job.opening.width": "wide", "job.opening.height": "3", "title": "One", "kind": "lapped-cover"}
    answer = client.post("/new", typed)
    assert answer.status_code == 400
    page = Document(answer.content.decode())
    values = {
        one.attributes.get("name"): one.attributes.get("value") for one in page.elements if one.tag == "input"
    }
    assert (values["job.opening.width"], values["job.opening.height"]) == ("wide", "3")
    assert page.by_id("new-opening-width").attributes["aria-invalid"] == "true"
    assert "aria-invalid" not in page.by_id("new-opening-height").attributes
    assert "length" in page.by_id("new-opening-width-said").text
    assert sorted(folder.parent.rglob("*")) == before


def test_a_shape_that_the_kind_has_not_got_gives_way_and_is_told(client):
    told = "This kind of job comes in the shape shown here."
    asked = client.get("/new", {"kind": "antenna", "shape": "obround"}).content.decode()
    assert told in asked
    assert 'name="shape" value="round"' in asked
    assert told not in client.get("/new", {"kind": "antenna", "shape": "round"}).content.decode()


def test_a_title_that_is_taken_is_not_proposed(client, folder):
    def proposed() -> str:
        page = Document(client.get("/new", {"kind": "camera"}).content.decode())
        return page.by_id("new-title").attributes["value"]

    first = proposed()
    assert client.post("/new", {"title": first, "kind": "camera"}).status_code == 302
    assert proposed() == f"{first} 2"


@pytest.mark.parametrize("way", ["get", "post"])
@pytest.mark.parametrize("wrong", [{"kind": "porthole"}, {"units": "ft"}, {"side": "top"}, {"shape": "star"}])
def test_what_there_is_not_is_refused_with_what_there_is_and_starts_nothing(client, folder, way, wrong):
    before = sorted(folder.parent.rglob("*"))
    answer = getattr(client, way)("/new", {"title": "One", **wrong})
    assert answer.status_code == 400
    assert "Pick one of" in answer.content.decode()
    assert client.get("/new/picture", wrong).status_code == 400
    assert sorted(folder.parent.rglob("*")) == before


@pytest.mark.parametrize("title", ["", "   ", "///", "…", "../.."])
def test_a_title_that_gives_no_file_name_is_refused(client, folder, title):
    before = sorted(folder.parent.rglob("*"))
    answer = client.post("/new", {"title": title})
    assert answer.status_code == 400
    assert "be a file name" in answer.content.decode()
    assert sorted(folder.parent.rglob("*")) == before


def test_a_job_that_is_there_is_never_overwritten_by_a_new_one(client, folder):
    before = (folder / "alder.toml").read_text()
    assert client.post("/new", {"title": "Alder"}).status_code == 400
    assert (folder / "alder.toml").read_text() == before


@pytest.mark.parametrize(
    "name",
    [
        "../secret.toml",
        "..%2fsecret.toml",
        "%2e%2e%2fsecret.toml",
        "/etc/passwd",
        "..",
        ".hidden.toml",
        "alder.toml%00",
        "link.toml",
        "a\\..\\b.toml",
        "alder",
        ".earlier",
    ],
)
def test_nothing_outside_the_folder_can_be_reached(client, folder, name):
    (folder.parent / "secret.toml").write_text('title = "SECRET"')
    (folder / ".hidden.toml").write_text('title = "SECRET"')
    (folder / "link.toml").symlink_to(folder.parent / "secret.toml")
    for path in (
        f"/job/{name}/",
        f"/job/{name}/text",
        f"/job/{quote(name, safe='')}/",
        f"/job/{name}/papers",
    ):
        answer = client.get(path)
        assert answer.status_code == 404
        assert "SECRET" not in answer.content.decode()
    typed = {"job.title": "written", "base": ""}
    assert client.post(f"/job/{quote(name, safe='')}/entries", typed).status_code in (404, 409)
    assert (folder.parent / "secret.toml").read_text() == 'title = "SECRET"'
    assert "SECRET" not in client.get("/").content.decode()


@pytest.mark.parametrize(
    "name",
    [
        "<script>alert(1)<&>.toml",
        'a "quoted" name.toml',
        "per%cent?and#hash.toml",
        "two  words;.toml",
        "é.toml",
    ],
)
def test_an_odd_but_honest_name_is_shown_as_text_and_opens(client, folder, name):
    (folder / name).write_text((folder / "dogwood.toml").read_text())
    html = client.get("/").content.decode()
    assert "<script>alert" not in html
    (address,) = set(names(client)) - {"/job/alder.toml/", "/job/dogwood.toml/"}
    page = client.get(address)
    assert page.status_code == 200
    assert "Drain access" in page.content.decode()


def test_a_name_that_is_no_text_is_left_out(client, folder):
    os.fsencode(folder)
    raw = os.path.join(os.fsencode(folder), b"bad\xff.toml")
    with open(raw, "wb") as out:
        out.write(b"schema = 1")
    assert client.get("/").status_code == 200
    assert len(names(client)) == 2


def test_a_broken_file_is_listed_with_its_line_and_can_be_mended(client, folder):
    whole = (folder / "dogwood.toml").read_text()
    (folder / "broken.toml").write_text(
        whole.replace('title = "Drain access, belly fairing"', 'title = "Drain')
    )
    html = listed(client)
    assert "broken.toml" in html
    assert "line 4" in html
    assert client.get("/job/broken.toml/").headers["Location"] == "/job/broken.toml/text"
    text_page = client.get("/job/broken.toml/text").content.decode()
    base = next(e for e in Document(text_page).elements if e.attributes.get("name") == "base").attributes[
        "value"
    ]
    still = client.post("/job/broken.toml/text", {"base": base, "text": "still = [broken"})
    assert still.status_code == 400
    assert "still = [broken" in still.content.decode()
    assert 'title = "Drain\n' in (folder / "broken.toml").read_text()
    assert (
        client.post("/job/broken.toml/text", {"base": base, "text": whole.replace("\n", "\r\n")}).status_code
        == 302
    )
    assert (folder / "broken.toml").read_text() == whole
    assert client.post("/job/broken.toml/text", {"base": base, "text": "schema = 1\n"}).status_code == 409
    assert (folder / "broken.toml").read_text() == whole


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\x00\x01\x02",
        b"\xff\xfe\x00",
        b"a" * 2_000_000,
        b"schema = 99",
        b"[[[[",
        b"bay = 3\nrows = 5\nopening = []",
    ],
)
def test_a_file_that_is_no_job_is_listed_and_never_breaks_a_page(client, folder, content):
    (folder / "noise.toml").write_bytes(content)
    assert client.get("/").status_code == 200
    assert client.get("/job/noise.toml/", follow=True).status_code in (200, 404)


def test_the_open_points_of_a_job_that_is_not_sound_are_its_faults(client, folder):
    page = JobPage.opened(client)
    page.type("opening.width", "wide")
    html = listed(client)
    assert "entries to fix" in html
    assert "Opening, Width" in html


def test_an_outline_that_was_drawn_anew_is_judged_anew(client, folder):
    """The text of the job stays the same; the rectangle beside it grows beyond the edge of the cover."""
    text = (folder / "dogwood.toml").read_text(encoding="utf-8")
    text = "".join(line for line in text.splitlines(True) if not line.startswith("starter_at"))
    start = text.index("[opening]")
    end = text.index("\n[", start) + 1
    opening = '[opening]\nshape = "dxf"\nfile = "cut.dxf"\n\n'
    (folder / "dogwood.toml").write_text(text[:start] + opening + text[end:], encoding="utf-8")
    told = []
    for x, y in ((4.0, 1.5), (5.0, 2.5)):
        drawing = ezdxf.new("R2010", units=ezdxf.units.IN)
        drawing.modelspace().add_lwpolyline([(-x, -y), (x, -y), (x, y), (-x, y)], close=True)
        drawing.saveas(folder / "cut.dxf")
        told.append(listed(client).count("entries to fix"))
    assert told == [0, 1]


def test_the_list_and_every_page_come_while_a_job_is_being_judged(client, folder):
    """Each job is named at once; what is judged meanwhile comes when it is asked for, one row at a time."""
    begun, go = threading.Event(), threading.Event()

    def judge(asked, with_strength):
        begun.set()
        assert go.wait(PATIENCE_S)
        return job_line(asked, with_strength)

    site_behind(client).job_list.judge = judge
    (folder / "alder.toml").write_text((folder / "alder.toml").read_text() + "# not judged before\n")
    html = client.get("/").content.decode()
    assert begun.wait(PATIENCE_S)
    assert len(names(client)) == 2
    assert '<li data-name="alder.toml" data-lacks="all">' in html
    assert "<strong>alder.toml</strong><span>being checked</span>" in html
    assert "Jobs still being checked: " in html
    assert client.get("/job/alder.toml/").status_code == 200
    assert 'data-lacks="all"' in client.get("/lines?name=alder.toml").content.decode()
    go.set()
    assert "DO NOT CUT, DRILL OR RIVET: 2 STOP" in listed(client)
    rows = Document(client.get("/lines", {"name": "alder.toml"}).content.decode())
    assert [row.attributes["data-name"] for row in rows.elements if "data-name" in row.attributes] == [
        "alder.toml"
    ]
    assert "Inspection opening" in rows.by_class("job-words")[0].text


def test_a_link_that_leads_out_of_the_folder_is_a_row_that_says_so(client, folder):
    (folder.parent / "secret.toml").write_text('title = "SECRET"')
    (folder / "link.toml").symlink_to(folder.parent / "secret.toml")
    (folder / "round.toml").symlink_to(folder / "round.toml")
    html = client.get(
        "/lines", {"name": ["link.toml", "round.toml", "../secret.toml", "x" * 300]}
    ).content.decode()
    assert html.count("this file cannot be read as a job") == 4
    assert 'data-lacks=""' in html
    assert 'data-lacks="all"' not in html
    assert "SECRET" not in html
