"""A job beside an earlier state: what differs by the names of its entries, and put back as a step that undo undoes."""

from __future__ import annotations

from hatchwright.page.compared import differences
from web.job_pages import Document, JobPage


def rows(client, **asked) -> dict[str, list[str]]:
    page = client.get("/job/alder.toml/compare", asked).content.decode()
    found, field = {}, ""
    for one in Document(page).elements:
        if one.tag == "tr" and "data-field" in one.attributes:
            field = one.attributes["data-field"]
            found[field] = []
        elif field and one.tag in ("th", "td"):
            found[field].append(one.text)
    return found


def changed(client) -> JobPage:
    page = JobPage.opened(client)
    page.type("opening.width", "5.5")
    page.step += 1
    page.type("rows.1.pitch", ".6")
    return page


def test_a_job_that_nobody_changed_has_nothing_to_compare_with(client):
    assert "No earlier state of this job is kept" in client.get("/job/alder.toml/compare").content.decode()
    assert client.get("/job/none.toml/compare").status_code == 404


def test_each_state_shows_what_differs_from_now(client, folder):
    before = (folder / "alder.toml").read_text()
    changed(client)
    now = (folder / "alder.toml").read_text()
    listed = Document(client.get("/job/alder.toml/compare").content.decode())
    states = [one.attributes["value"] for one in listed.elements if one.tag == "option"]
    assert len(states) == 2
    latest, first = rows(client), rows(client, state=states[-1])
    assert list(latest) == ["rows.1.pitch"]
    assert first == {
        "opening.width": ["Opening, Width", "5.00", "5.5"],
        "rows.1.pitch": ["Rivet rows 2, Pitch", latest["rows.1.pitch"][1], ".6"],
    }
    assert (folder / "alder.toml").read_text() == now != before
    assert rows(client, state="no such") == latest


def test_an_earlier_state_is_put_back_as_a_step_and_undo_undoes_it(client, folder):
    before = (folder / "alder.toml").read_text()
    page = changed(client)
    now = (folder / "alder.toml").read_text()
    state = Document(client.get("/job/alder.toml/compare").content.decode())
    first = [one.attributes["value"] for one in state.elements if one.tag == "option"][-1]
    base = page.form["base"]
    assert client.post("/job/alder.toml/compare", {"state": first, "base": "older"}).status_code == 409
    assert (folder / "alder.toml").read_text() == now
    assert client.post("/job/alder.toml/compare", {"state": first, "base": base}).status_code == 302
    assert (folder / "alder.toml").read_text() == before
    shown = JobPage.opened(client)
    client.post("/job/alder.toml/undo", {"base": shown.form["base"], "way": "back"})
    assert (folder / "alder.toml").read_text() == now


def test_a_state_that_is_kept_no_longer_is_told_and_nothing_is_put_back(client, folder):
    page = changed(client)
    now = (folder / "alder.toml").read_text()
    answer = client.post("/job/alder.toml/compare", {"state": "no such", "base": page.form["base"]})
    assert answer.status_code == 409
    assert "no longer kept" in answer.content.decode()
    assert (folder / "alder.toml").read_text() == now


def test_what_is_entered_in_one_state_alone_is_told(alder_text):
    more = f'{alder_text}\n[[choices]]\nrule = "R601"\nreading = "x"\nreason = "as told"\n'
    field = f"choices.{alder_text.count('[[choices]]')}.rule"

    def told(before: str, now: str) -> tuple[str, str]:
        return next((one.before, one.now) for one in differences(before, now) if one.field == field)

    assert told(alder_text, more) == ("", "R601")
    assert told(more, alder_text) == ("R601", "")
    assert differences(alder_text, f"{alder_text}# a comment\n") == ()
