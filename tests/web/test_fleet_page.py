"""The pages of a fleet without a script: each form's way in, what it refuses, and that nobody's entry is lost."""

from __future__ import annotations

import re
import tomllib

import pytest

from tests.patience import until
from web.conftest import state_of
from web.job_pages import Document

ROWS = "N101HW\t0001\nN102HW\t0002\tleft\n"
BOARD = "/fleet/wing.fleet/"


@pytest.fixture
def fleet(client, folder):
    """A fleet of three sides."""
    sent = {"title": "Wing", "pattern": "alder.toml", "aircraft": ROWS}
    answer = client.post("/fleets", sent)
    assert (answer.status_code, answer["Location"].endswith(BOARD)) == (302, True)
    return folder / "wing.fleet"


def page_of(client, address: str = BOARD) -> Document:
    answer = client.get(address)
    assert answer.status_code == 200
    return Document(answer.content.decode())


def base_of(page: Document) -> str:
    return next(one.attributes["value"] for one in page.elements if one.attributes.get("name") == "base")


def enter(client, what: str, **sent: str):
    return client.post(f"{BOARD}enter", {"what": what, "base": base_of(page_of(client)), **sent})


def line_of(fleet, aircraft: int = 0, line: int = 0):
    return tomllib.loads(fleet.read_text())["aircraft"][aircraft]["lines"][line]


def test_the_board_says_where_each_side_stands_and_undo_takes_a_step_back(client, fleet):
    until(lambda: "CUT, DRILL" in client.get(BOARD).content.decode(), "the verdicts of the jobs")
    stated = {
        "step:N101HW-left": "cutting",
        "who:N101HW-left": "A. Mechanic",
        "waiting_for:N101HW-left": "rivets",
    }
    assert enter(client, "board", **stated).status_code == 302
    assert {name: line_of(fleet)[name] for name in ("step", "who", "waiting_for")} == {
        "step": "cutting", "who": "A. Mechanic", "waiting_for": "rivets",
    }  # fmt: skip
    boxes = {one.attributes.get("name"): one.attributes.get("value") for one in page_of(client).elements}
    assert boxes["waiting_for:N101HW-left"] == "rivets"
    assert enter(client, "undo").status_code == 302
    assert "waiting_for" not in line_of(fleet)


def test_who_comes_second_is_told_and_what_he_typed_stays_in_its_box(client, fleet):
    old = base_of(page_of(client))
    enter(client, "board", **{"who:N101HW-left": "A. Mechanic"})
    sent = {"what": "board", "base": old, "who:N101HW-left": "B. Mechanic"}
    answer = client.post(f"{BOARD}enter", sent)
    assert answer.status_code == 409
    assert 'value="B. Mechanic"' in answer.content.decode()
    assert line_of(fleet)["who"] == "A. Mechanic"


def test_who_comes_second_and_sends_again_changes_only_the_boxes_he_touched(client, fleet):
    def boxes():
        named = [one.attributes for one in page_of(client).elements if one.attributes.get("name")]
        return {one["name"]: one.get("value") or "" for one in named if ":" in one["name"]}

    old, seen = base_of(page_of(client)), boxes()
    enter(client, "board", **{"who:N101HW-left": "A. Mechanic"})
    sent = {**seen, "what": "board", "base": old, "waiting_for:N101HW-left": "rivets"}
    again = client.post(f"{BOARD}enter", sent)
    assert again.status_code == 409
    assert 'value="A. Mechanic"' in again.content.decode()
    assert 'value="rivets"' in again.content.decode()


@pytest.mark.parametrize(
    ("what", "sent", "told"),
    [
        (
            "hours",
            {"line": "N101HW-left", "hours_step": "cutting", "hours": "x", "date": "2026-03-01"},
            "no hours",
        ),
        (
            "hours",
            {"line": "N101HW-left", "hours_step": "cutting", "hours": "1", "date": "2026-02-30"},
            "no such day",
        ),
        (
            "hours",
            {"line": "N9-left", "hours_step": "cutting", "hours": "1", "date": "2026-03-01"},
            "no such line",
        ),
        ("stock", {"stock": "MS20470AD4-4\tmany"}, "no number of pieces"),
        ("aircraft", {"aircraft": "N1/../etc\t3"}, "no registration mark"),
        ("board", {"step:N101HW-left": "flying"}, ""),
    ],
)
def test_what_can_not_be_is_refused_with_the_reason_and_nothing_written(client, fleet, what, sent, told):
    before = fleet.read_bytes()
    answer = enter(client, what, **sent)
    page = answer.content.decode()
    assert answer.status_code == 400
    assert told in page
    assert 'role="alert"' in page
    assert fleet.read_bytes() == before
    assert sorted(one.name for one in fleet.parent.glob("*.toml")) == [
        "alder.toml", "dogwood.toml", "wing-n101hw-left.toml", "wing-n101hw-right.toml", "wing-n102hw-left.toml",
    ]  # fmt: skip


def test_more_aircraft_get_their_jobs_at_once(client, fleet):
    assert enter(client, "aircraft", aircraft="N103HW\t3\tright").status_code == 302
    job = tomllib.loads((fleet.parent / "wing-n103hw-right.toml").read_text())
    assert (job["aircraft"]["serial"], job["aircraft"]["side"]) == ("3", "right")


def test_a_file_that_is_no_fleet_any_more_is_mended_as_text(client, fleet):
    text = fleet.read_text()
    fleet.write_text(text.replace('side = "right"', 'side = "up"'))
    assert client.get(BOARD)["Location"].endswith("text")
    page = page_of(client, f"{BOARD}text")
    assert "line " in next(
        one.text for one in page.elements if "faults" in (one.attributes.get("class") or "")
    )
    answer = client.post(f"{BOARD}text", {"base": base_of(page), "text": text})
    assert answer.status_code == 302
    assert fleet.read_text() == text


@pytest.mark.parametrize("name", ["none.fleet", "alder.toml", "..%2Falder.fleet", ".x.fleet", "x%00.fleet"])
@pytest.mark.parametrize("page", ["", "changes", "text", "print", "pull/csv"])
def test_what_is_no_fleet_has_no_page(client, fleet, name, page):
    assert client.get(f"/fleet/{name}/{page}").status_code in (404, 409)


def test_a_pattern_that_is_gone_is_told_on_the_board_and_its_changes_are_refused(client, fleet):
    (fleet.parent / "alder.toml").unlink()
    assert re.search(r'class="is-faulty">[^<]', client.get(BOARD).content.decode())
    assert client.get(f"{BOARD}changes").status_code == 404


def test_a_conflict_alone_is_announced_and_settled(client, fleet):
    for name, new in (
        ("alder.toml", ".60"),
        *((f"wing-n10{one}.toml", ".64") for one in ("1hw-left", "1hw-right", "2hw-left")),
    ):
        path = fleet.parent / name
        path.write_text(path.read_text().replace('pitch = ".62"', f'pitch = "{new}"', 1))
    assert "Pattern changed: 3 jobs to update" in client.get(BOARD).content.decode()
    page = page_of(client, f"{BOARD}changes")
    assert [one.attributes["value"] for one in page.elements if one.attributes.get("name") == "take"] == [
        "N101HW-left", "N101HW-right", "N102HW-left",
    ]  # fmt: skip
    seen = next(one.attributes["value"] for one in page.elements if one.attributes.get("name") == "seen")
    assert client.post(f"{BOARD}changes", {"seen": "other", "take": "N101HW-left"}).status_code == 409
    assert client.post(f"{BOARD}changes", {"seen": seen, "take": "N101HW-left"}).status_code == 302
    pitches = [
        tomllib.loads((fleet.parent / f"wing-n10{one}.toml").read_text())["rows"][0]["pitch"]
        for one in ("1hw-left", "1hw-right")
    ]
    assert pitches == [".60", ".64"]
    assert "Pattern changed" not in client.get(BOARD).content.decode()


def printed(client, query: str) -> str:
    state = state_of(client.get(f"{BOARD}print?{query}").content.decode())
    until(lambda: client.get(state).status_code == 200, "the print")
    return client.get(state).content.decode()


def test_a_set_is_printed_for_a_printer_that_is_off_and_a_bar_alone_is_refused(client, folder):
    client.post("/fleets", {"title": "Wing", "pattern": "alder.toml", "aircraft": "N101HW\t1\tleft"})
    assert "only one" in printed(client, "paper=letter&bar_short=5.98").lower()
    page = Document(printed(client, "paper=letter&bar_short=5.98&bar_long=5.99"))
    whole = client.get(page.by_id("whole-set").attributes["href"])
    assert (whole.status_code, whole.content[:5]) == (200, b"%PDF-")
    assert "corrected" in whole["Content-Disposition"].lower()
