"""The page of the risk: figures, the proof by lot with its seed, what to measure, and own readings entered."""

from __future__ import annotations

import tomllib

import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from search.risk_jobs import OWN
from web.job_pages import Document


def own(folder, more=OWN):
    path = folder / "alder.toml"
    text = path.read_text()
    path.write_text(text[: text.index("# What was really made on the left wing")] + more)
    return path


def words(client, query=""):
    return client.get(f"/job/alder.toml/risk{query}").content.decode()


def test_figures_gains_and_drawing(client, folder):
    own(folder)
    page = words(client)
    assert "the chance that at least one hole ends short is 29.1%" in page
    assert "A chance is no permission" in page
    rows = [one.text for one in Document(page).elements if one.tag in ("th", "td")]
    assert rows[rows.index("11") : rows.index("11") + 4] == [
        "11",
        "8.2%",
        ".010",
        "to doubler outer edge (doubler), R101",
    ]
    assert "11: 8.2%" in page  # beside its hole in the drawing
    assert "Proved by lot" not in page


def test_a_seed_is_kept_and_shown(client, folder):
    own(folder)
    assert "seed 7:" in words(client, "?seed=7")
    assert 'name="seed" inputmode="numeric" value="7"' in words(client, "?seed=7")


@pytest.mark.parametrize("seed", ["-1", "nan", "1e9", "9" * 40])
def test_a_seed_that_is_none_is_named(client, folder, seed):
    own(folder)
    page = words(client, f"?seed={seed}")
    assert "A seed is a whole number" in page
    assert "Proved by lot" not in page


def test_without_scatter_it_says_what_to_measure_and_enters_own_readings(client, folder):
    page = words(client)
    assert "there is no default" in page
    assert "Hole about its mark: .0103, from 17 readings, 31 degrees of freedom." in page
    base = next(one for one in Document(page).elements if one.attributes.get("name") == "base").attributes[
        "value"
    ]
    answer = client.post("/job/alder.toml/risk/scatter", {"base": base})
    assert answer.status_code == 302
    assert 'drill = ".0104"' in (folder / "alder.toml").read_text()
    assert "By the part of your scatter that is entered" in words(client)
    client.post("/job/alder.toml/undo", {"way": "back", "base": version(client)})
    assert "[scatter]" not in (folder / "alder.toml").read_text()


def version(client):
    page = client.get("/job/alder.toml/").content.decode()
    return next(one for one in Document(page).elements if one.attributes.get("name") == "base").attributes[
        "value"
    ]


def test_a_job_without_readings_enters_nothing(client, folder):
    path = own(folder, more="")
    before = path.read_text()
    assert client.post("/job/alder.toml/risk/scatter", {"base": version(client)}).status_code == 409
    assert path.read_text() == before


TRIAL = """schema = 1
units = "in"
piece = "square"
size = "3"
template_x = "3.277"
template_y = "3.277"
template_uncertainty = ".001"
gauge_limit = ".001"
[[cuts]]
x = ["2.9861", "2.9849", "2.9855"]
y = ["2.9849", "2.9857", "2.9851"]
"""


def sent(client, text, name="trial.txt"):
    trial = SimpleUploadedFile(name, text.encode(), "text/plain")
    return client.post(
        "/job/alder.toml/risk/scatter", {"base": version(client), "of": "trial", "trial": trial}
    )


def test_a_trial_sheet_is_entered_and_taken_back(client, folder):
    """Six widths: u of the next cut by hand, .5 sqrt(s^2 7/6 + a^2/3 + u_T^2), rounded up to .0007."""
    path = own(folder)
    before = path.read_text()
    assert "Filled-in trial sheet" in words(client)
    assert sent(client, TRIAL).status_code == 302
    entered = tomllib.loads(path.read_text())["scatter"]
    widths = np.array([2.9861, 2.9849, 2.9855, 2.9849, 2.9857, 2.9851])
    u = 0.5 * np.sqrt(widths.var(ddof=1) * 7.0 / 6.0 + 0.001**2 / 3.0 + 0.001**2)
    assert u <= float(entered["offset"]) < u + 0.0001
    assert int(entered["freedom"]["offset"]) >= 5
    client.post("/job/alder.toml/undo", {"way": "back", "base": version(client)})
    assert path.read_text() == before


@pytest.mark.parametrize(
    "text",
    [
        "",
        "\0",
        "not = [",
        "schema = 1",
        TRIAL.replace('"in"', '"mm"'),
        TRIAL[: TRIAL.index("x = [")] + 'x = ["2.9861"]\n',  # one width says nothing of the scatter
    ],
)
def test_a_sheet_that_is_none_enters_nothing_and_says_so(client, folder, text):
    path = own(folder)
    before = path.read_text()
    answer = sent(client, text)
    assert answer.status_code == 409
    assert path.read_text() == before


def test_a_job_that_is_not_sound_says_why(client, folder):
    own(folder, OWN.replace('".006"', '"-.006"'))
    answer = client.get("/job/alder.toml/risk")
    assert answer.status_code == 409
    assert client.get("/job/none.toml/risk").status_code == 404


def test_the_tag_of_a_hole_tells_its_chance(client, folder):
    own(folder)
    tag = client.get("/job/alder.toml/hole/11").content.decode()
    assert (
        "8.2% or more, likeliest to doubler outer edge (doubler): part of your scatter is not entered" in tag
    )
    own_less = folder / "alder.toml"
    own_less.write_text(own_less.read_text().replace('offset = ".003"\n', ""))
    assert "or more" in client.get("/job/alder.toml/hole/11").content.decode()


def test_the_job_page_leads_there(client):
    assert 'href="/job/alder.toml/risk"' in client.get("/job/alder.toml/").content.decode()
