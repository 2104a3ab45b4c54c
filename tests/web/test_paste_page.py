"""The page for pasting rows: what the list takes, what was entered, and nothing lost where it can't be read."""

from __future__ import annotations

from urllib.parse import urlencode

import pytest

from web.job_pages import Document


def at(list_: str) -> str:
    return f"/job/alder.toml/paste?{urlencode({'list': list_})}"


def shown(answer) -> str:
    return " ".join(e.text for e in Document(answer.content.decode()).elements if e.tag in ("p", "li", "h2"))


def base_of(client, list_: str) -> str:
    page = client.get(at(list_)).content.decode()
    return next(e.attributes["value"] for e in Document(page).elements if e.attributes.get("name") == "base")


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
    answer = client.post(at("as_made.holes"), posted)
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
    answer = client.post(at("as_made.holes"), {"base": base, "pasted": "21 7.36 6.78"})
    assert answer.status_code == 400
    assert Document(answer.content.decode()).by_id("pasted").text.strip() == "21 7.36 6.78"
    assert path.read_bytes() == before


def test_a_list_that_takes_no_rows_says_so(client):
    answer = client.get(at("title"))
    assert answer.status_code == 404
    assert "No rows can be pasted here" in answer.content.decode()
