"""What was measured beside what was drawn, on the page: the readings of the invented job."""

from __future__ import annotations

from web.job_pages import Document


def cells(client) -> list[list[str]]:
    found: list[list[str]] = []
    for one in Document(client.get("/job/alder.toml/measured").content.decode()).elements:
        if one.tag == "tr":
            found.append([])
        elif found and one.tag in ("th", "td"):
            found[-1].append(one.text)
    return found


def test_each_hole_stands_with_its_verdict_and_each_number_old_and_new(client):
    rows = cells(client)
    four = ["4", "outboard, inner", "8.280, 3.880", "8.260, 3.884", "-.020, +.004", ".005", "", "NOT SHOWN"]
    assert next(row[:8] for row in rows if row[0] == "4") == four
    assert ["rivet 6 to opening edge (skin)", ".280", ".243", "-.037", ".005", "OK", "STOP"] in rows


def test_a_job_of_which_nothing_was_measured_says_so(client, folder):
    path = folder / "alder.toml"
    text = path.read_text()
    path.write_text(text.partition("[as_made]")[0])
    assert "Nothing measured is entered yet" in client.get("/job/alder.toml/measured").content.decode()
    assert client.get("/job/none.toml/measured").status_code == 404


def test_a_job_that_is_not_sound_says_why(client, folder):
    path = folder / "alder.toml"
    path.write_text(path.read_text().replace('[1, "8.283", "2.020"]', '[1, "8.283"]'))
    answer = client.get("/job/alder.toml/measured")
    assert answer.status_code == 409
    assert "A drilled hole is its number, X and Y" in answer.content.decode()


def test_the_job_page_leads_there(client):
    assert 'href="/job/alder.toml/measured"' in client.get("/job/alder.toml/").content.decode()
