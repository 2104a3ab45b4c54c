"""`hatchwright survey` run as a person runs it: what it says, what it writes, what it refuses, and both sides.

The surveys are those of `surveys.py`; what is expected of the two bays is told by the examples they were read off.
"""

from __future__ import annotations

import json
import re

import pytest

from hatchwright.job.file import load_job
from surveys import ALDER, BIRCH, EXAMPLES, with_survey

WITHOUT_SITE = EXAMPLES / "alder.toml"


@pytest.fixture
def job(tmp_path):
    """Write an example with a survey, and without the bay."""

    def written(name, survey, *, file="job.toml", **changes):
        text = with_survey(name, survey)
        for old, new in changes.values():
            assert old in text
            text = text.replace(old, new)
        path = tmp_path / file
        path.write_text(text, encoding="utf-8")
        return path

    return written


def told_of(shell, *arguments):
    status, out, err = shell("survey", *arguments, "--json")
    return status, json.loads(out) if out else {}, err


def test_wrong_bay_is_the_first_line(shell, job):
    """S2 of the scenarios, 4 and 5: the question comes before anything else."""
    status, out, _ = shell("survey", job("birch", BIRCH))
    assert status == 1
    assert out.splitlines()[0].startswith("STOP  R908  bay along X, found 5.990, mandate shows 8.000")
    assert "Wrong bay, wrong side or wrong serial number?" in out.splitlines()[1]
    assert "SIDE SHOWS" not in out


def test_the_right_bay_is_asked_first_where_the_data_s_own_is_not_entered(shell, job):
    _, out, _ = shell("survey", job("alder", ALDER))
    assert out.startswith("Is this the right bay?")


def test_wrong_bay_is_the_first_line_of_a_check_too(shell, job):
    _, out, _ = shell("check", job("birch", BIRCH))
    assert re.findall(r"R\d{3}", out)[0] == "R908"


def test_a_bay_out_of_square_is_told_once_entered(shell, job):
    """S2, 6: sides differ by .12, diagonals by .13; the wider pair speaks."""
    path = job("birch", BIRCH)
    assert shell("survey", path, "--enter")[0] == 1
    _, out, _ = shell("check", path, "--all")
    assert "Diagonals of the bay, 8.930 and 9.060: .130 off" in " ".join(out.split())


def test_a_directive_keeps_its_size_whatever_was_surveyed(shell, job):
    """S2, 5: the opening stays as mandated, and what doesn't fit is asked, not solved."""
    path = job("birch", BIRCH)
    shell("survey", path, "--enter")
    entered, drawn = load_job(path), load_job(EXAMPLES / "birch.toml")
    assert entered.opening.width == drawn.opening.width
    assert entered.opening.height == drawn.opening.height
    _, out, _ = shell("check", path, "--more")
    assert "design approval holder" in " ".join(out.split())


def test_the_bay_of_alder_is_clear_on_all_sides(shell, job):
    """S1, 1: the ring lies in X 2.00 to 9.00, Y 1.50 to 7.50; smallest gap .95 in Y."""
    path = job("alder", ALDER)
    shell("survey", path, "--enter")
    _, out, _ = shell("check", path, "--json")
    gaps = {one["subject"]: one["value"] for one in json.loads(out)["findings"] if one["code"] == "R701"}
    assert len(gaps) == 4
    assert min(gaps.values()) == pytest.approx(0.95, abs=0.01)
    assert "stringer flange" in min(gaps, key=gaps.get)


def test_center_routes_tapes_and_what_the_job_lacks(shell, job):
    status, out, _ = shell("survey", job("alder", ALDER))
    assert status == 1
    spoken = " ".join(out.split())
    assert "from rib 3  5.503 u .008  4.498 u .008" in out
    assert "Center, best estimate of 2 routes: X 5.503 Y 4.499, u .007 along X and .007 along Y." in spoken
    assert "11 things surveyed and not in the job" in spoken
    assert out.count("not entered") == 11  # and each is a row of the table
    assert out.count("R945") == 1


def test_entered_in_one_go_and_nothing_more_to_enter(shell, job):
    path = job("alder", ALDER)
    before = path.read_text(encoding="utf-8")
    status, told, _ = told_of(shell, path, "--enter")
    assert (told["is_entered"], told["may_enter"], told["contradictions"]) == (True, True, [])
    assert "R945" not in {one["code"] for one in told["checks"] if one["status"] != "pass"}
    after = path.read_text(encoding="utf-8")
    kept = [line for line in before.splitlines() if line.startswith("#")]
    assert all(line in after for line in kept)
    status, told, _ = told_of(shell, path, "--enter")
    assert not [one for one in told["differences"] if one["is_beyond"]]
    assert path.read_text(encoding="utf-8") == after
    assert status == 0


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ('name = "rib 3"\nmember', 'name = "rib 4"\nmember', "R936"),  # rib 4 at 0 and at 11
        ('ac = "14.213"', 'ac = "14.60"', "R935"),
        ('ac = "14.213"', 'ac = "24.60"', "R934"),
        ('x = "5.497"', 'x = "5.40"', "R938"),
        ('up = "FWD"', "", "R933"),
        ('up = "FWD"', 'up = "FWD"\nright = "INBD"', "R933"),
        ('up = "FWD"', 'up = "FWD"\ntapes = [["rib 4", "5.7"]]', "R940"),
    ],
)
def test_a_survey_that_contradicts_itself_is_not_entered(shell, job, old, new, code):
    path = job("alder", ALDER, change=(old, new))
    before = path.read_text(encoding="utf-8")
    status, out, err = shell("survey", path, "--enter")
    assert (status, out) == (2, "")
    assert f"the survey contradicts itself, {code}" in err
    assert path.read_text(encoding="utf-8") == before
    status, told, _ = told_of(shell, path)
    assert code in told["contradictions"]
    assert not told["may_enter"]


def test_an_empty_survey_says_what_is_missing(shell, job):
    status, out, _ = shell("survey", job("alder", '[site]\nu = ".03"\n'))
    assert status == 1
    assert "survey without a rivet row" in out
    assert "found by no route" in out


def test_a_hazard_outside_is_named(shell, job):
    path = job("alder", ALDER, out=('x_from = "8.2"\nx_to = "8.2"', 'x_from = "18.2"\nx_to = "18.2"'))
    _, out, _ = shell("survey", path)
    assert "aileron push-pull tube, beyond the outermost landmark" in " ".join(out.split())


def test_a_job_without_a_survey_is_refused(shell):
    status, _, err = shell("survey", WITHOUT_SITE)
    assert status == 2
    assert "holds no site survey" in err


def test_left_beside_right(shell, job):
    left = job("alder", ALDER, file="left.toml")
    alike = job("alder", ALDER, file="alike.toml", side=('side = "left"', 'side = "right"'))
    right = job(
        "alder",
        ALDER,
        file="right.toml",
        side=('side = "left"', 'side = "right"'),
        tube=('name = "aileron push-pull tube"', 'name = "fuel line"'),
        row=('y = "9.005"', 'y = "9.105"'),
        way=('y = "4.503"', 'y = "4.603"'),
    )
    status, out, _ = shell("survey", left, alike)
    assert (status, "Both surveys say the same" in " ".join(out.split())) == (0, True)
    status, out, _ = shell("survey", left, right)
    assert status == 1
    assert "stringer" in out
    assert "fuel line" in out
    assert "not there" in out
    _, told, _ = told_of(shell, left, right)
    found = {(one["name"], one["what"]): one for one in told["differences"]}
    assert found["stringer", "Y"]["off_in"] == pytest.approx(0.1)
    fuel = found["fuel line", "hazard"]
    assert (fuel["is_on_one"], fuel["is_on_other"]) == (False, True)
    assert shell("survey", left, right, "--enter")[0] == 2


def test_every_key_of_the_output_is_in_its_page(shell, job):
    page = (EXAMPLES.parent / "docs" / "survey-json.md").read_text(encoding="utf-8")
    left = job("alder", ALDER, file="left.toml")
    right = job("alder", ALDER, file="right.toml", y=('y = "9.005"', 'y = "9.105"'))
    _, told, _ = told_of(shell, left)
    _, both, _ = told_of(shell, left, right)
    lists = ("routes", "tapes", "corners", "differences", "changes", "sketch")
    inner = [told["center"], *(told[name][0] for name in lists), both["differences"][0]]
    keys = {key for one in (told, both, *inner) for key in one}
    assert len(keys) > 30
    assert sorted(key for key in keys if f"`{key}`" not in page) == []


def test_a_job_begins_with_a_survey(shell, tmp_path):
    sheet, path = tmp_path / "sheet.toml", tmp_path / "new.toml"
    head = '[aircraft]\nside = "left"\nsurface = "lower"\n[frame]\norigin = "rib 3 x spar"\nx = "OUTBD"\ny = "AFT"\n'
    sheet.write_text(head + ALDER, encoding="utf-8")
    status, out, _ = shell("new", path, "--survey", sheet)
    assert (status, "started from the survey" in out) == (0, True)
    job = load_job(path)
    assert [row.name for row in job.bay.rows] == ["rib 3", "rib 4", "spar, aft row", "stringer"]
    assert job.opening.center[0].inch == pytest.approx(5.503, abs=0.002)
    assert job.skin.measured.text == ".0315"
    given = ("bay", "site", "aircraft", "frame", "skin.measured", "opening.center")
    assert not [name for name in job.samples if name.startswith(given)]
    assert "opening.width" in job.samples
    assert shell("new", path, "--survey", sheet)[0] == 2  # it is there
    _, told, _ = told_of(shell, path)
    assert not [one for one in told["differences"] if one["is_beyond"]]


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("[frame]", "[framed]", "frame"),
        ('u = ".01"', 'u = "nan"', "site.u"),
        ('side = "left"', 'side = "port"', "aircraft.side"),
    ],
)
def test_a_survey_that_is_no_sheet_starts_nothing(shell, tmp_path, old, new, says):
    sheet, path = tmp_path / "sheet.toml", tmp_path / "new.toml"
    head = '[aircraft]\nside = "left"\nsurface = "lower"\n[frame]\norigin = "rib 3 x spar"\nx = "OUTBD"\ny = "AFT"\n'
    sheet.write_text((head + ALDER).replace(old, new, 1), encoding="utf-8")
    status, _, err = shell("new", path, "--survey", sheet)
    assert (status, says in err, path.exists()) == (2, True, False)


def test_a_survey_of_a_narrow_bay_starts_with_a_small_opening(shell, tmp_path):
    """Rows 3 apart: a sample opening of 5.7 would be refused."""
    sheet, path = tmp_path / "sheet.toml", tmp_path / "new.toml"
    rows = [("a", "x", "0"), ("b", "x", "3"), ("c", "y", "0"), ("d", "y", "4")]
    site = '[site]\nu = ".03"\n' + "".join(f'[[site.rows]]\nname = "{n}"\n{k} = "{v}"\n' for n, k, v in rows)
    head = '[aircraft]\nside = "left"\nsurface = "lower"\n[frame]\norigin = "a x c"\nx = "OUTBD"\ny = "AFT"\n'
    sheet.write_text(head + site, encoding="utf-8")
    status, out, err = shell("new", path, "--survey", sheet)
    assert (status, err) == (0, "")
    job = load_job(path)
    assert job.opening.width.inch < 3.0
    assert "nothing entered from it" in out  # a sketch without an arrow


def test_a_survey_of_rib_rows_alone_has_its_opening_at_the_center_that_was_taped(shell, tmp_path):
    """BIRCH's has no row along X; without an arrow nothing is entered, and the sample lies in the bay all the same."""
    sheet, path = tmp_path / "sheet.toml", tmp_path / "new.toml"
    head = (
        '[aircraft]\nside = "right"\nsurface = "lower"\n[frame]\norigin = "rib 5"\nx = "OUTBD"\ny = "AFT"\n'
    )
    sheet.write_text(head + BIRCH.replace('up = "FWD"\n', ""), encoding="utf-8")
    _, out, _ = shell("new", path, "--survey", sheet)
    assert "nothing entered from it" in out
    assert [at.inch for at in load_job(path).opening.center] == pytest.approx((3.005, 3.8), abs=0.03)
