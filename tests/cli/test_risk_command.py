"""`hatchwright risk`: its figures, what it says without scatter, readings entered, and what it refuses."""

from __future__ import annotations

import json
import tomllib

import pytest
from click.testing import CliRunner

from hatchwright.cli.risk import command
from hatchwright.errors import HatchwrightError, JobError
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.search.risk.own_scatter import scatter_made
from search.risk_jobs import OWN

AS_MADE = "# What was really made on the left wing"


@pytest.fixture
def job(tmp_path, alder_text):
    path = tmp_path / "own.toml"
    path.write_text(alder_text[: alder_text.index(AS_MADE)] + OWN, encoding="utf-8")
    return path


def run(*arguments):
    return CliRunner().invoke(command, [str(one) for one in arguments], catch_exceptions=False)


def test_figures_culprits_orders_and_the_proof(job):
    told = run(job, "--trials", 20_000, "--seed", 3)
    assert told.exit_code == 0
    output = " ".join(told.output.split())  # however wide the window is
    assert "at least one hole ends short is 29.1%" in output
    assert "32.6 holes are short in a hundred such jobs. Both are really higher." in output
    assert "Not entered: edges of the other sheets." in output
    assert "These figures are for this side alone." in told.output  # both wings are drilled
    assert "A chance is no permission" in output
    assert "Holes about their marks: half the scatter saves 23.5 short holes" in output
    assert "own edges, skin drilled through it: 18.4 short holes" in output
    assert "20,000 jobs, seed 3" in output
    assert "60 other holes: under 0.1% each." in output
    assert output.index("Holes about their marks") < output.index("Place and rotation of the doubler:")


def test_for_programs(job):
    values = json.loads(run(job, "--json", "--trials", 4_000, "--seed", 9).output)
    assert (values["schema"], values["simulated"]["seed"], values["simulated"]["trials"]) == (1, 9, 4_000)
    assert values["risk"]["chance"] == pytest.approx(0.2907, abs=0.001)
    assert values["risk"]["holes"][0]["number"] == 11
    assert {one["code"] for one in values["risk"]["rules"]} >= {"R101", "R201", "R202", "R204", "R208"}
    again = json.loads(run(job, "--json", "--trials", 4_000, "--seed", 9).output)
    assert again == values
    assert json.loads(run(job, "--json", "--no-trials").output)["simulated"] is None


def test_every_name_of_its_json_is_documented(job):
    from pathlib import Path

    page = (Path(__file__).parents[2] / "docs" / "risk-json.md").read_text(encoding="utf-8")
    values = json.loads(run(job, "--json", "--trials", 2_000).output)
    names = {
        *values,
        *values["risk"],
        *values["simulated"],
        *values["risk"]["errors"],
        *values["risk"]["holes"][0],
    }
    assert [name for name in sorted(names) if f"`{name}`" not in page] == []


def test_without_scatter_it_says_what_to_measure_and_how(tmp_path, alder_text):
    path = tmp_path / "bare.toml"
    path.write_text(alder_text, encoding="utf-8")
    told = run(path)
    assert told.exit_code == 2
    assert "there is no default" in told.output
    assert "drill 10 or more through the template into scrap" in told.output
    assert json.loads(run(path, "--json").output)["risk"] is None


def test_as_made_readings_become_scatter_and_are_entered(tmp_path, alder_text):
    """Alder's 17 holes: sd about the best fit by NumPy apart from the program, 2 n - 3 degrees of freedom."""
    import numpy as np

    made, bare = tmp_path / "alder.toml", tmp_path / "bare.toml"
    made.write_text(alder_text, encoding="utf-8")
    bare.write_text(alder_text[: alder_text.index(AS_MADE)], encoding="utf-8")
    told = run(bare, "--no-trials", "--readings", made, "--enter")
    assert told.exit_code == 0
    assert "Hole about its mark: .0103, from 17 readings, 31 degrees of freedom." in told.output
    entered = tomllib.loads(bare.read_text())["scatter"]
    holes = [hole for hole in lay_out(read_job(alder_text)).holes if hole.is_made]
    drawn = np.array([complex(*hole.drawn_in) for hole in holes])
    read = np.array([complex(*hole.place) for hole in holes])
    d, r = drawn - drawn.mean(), read - read.mean()
    turn = np.exp(1j * np.angle((d.conj() * r).sum()))
    deviation = np.sqrt((np.abs(r - turn * d) ** 2).sum() / (2 * len(holes) - 3))
    assert float(entered["drill"]) == pytest.approx(deviation, abs=1e-4)
    assert float(entered["drill"]) >= deviation  # never rounded down
    assert int(entered["freedom"]["drill"]) == 31
    assert run(bare, "--no-trials").exit_code == 0


def test_a_trial_becomes_the_cutters_offset(job, tmp_path, alder_text):
    """Ten widths: standard uncertainty of the next cut's offset by JCGM 100, worked out here by hand: that of the mean
    is smaller, and it is the next cut that is made in the skin."""
    widths = [3.0161, 3.0149, 3.0155, 3.0158, 3.0152, 3.0149, 3.0157, 3.0151, 3.0156, 3.0152]
    readings = tmp_path / "trial.txt"
    text = "\n".join(
        [
            'schema = 1', 'units = "in"', 'piece = "square"', 'size = "3"', 'template_x = "3.277"',
            'template_y = "3.277"', 'template_uncertainty = ".001"', 'gauge_limit = ".001"', "[[cuts]]",
            f"x = {[f'{one - .03:.4f}' for one in widths[:5]]}", f"y = {[f'{one - .03:.4f}' for one in widths[5:]]}",
        ]
    ).replace("'", '"')  # fmt: skip
    readings.write_text(text, encoding="utf-8")
    told = run(job, "--no-trials", "--readings", readings, "--json")
    assert told.exit_code == 0, told.output
    (found,) = json.loads(told.output)["found"]
    scatter = (sum((one - sum(widths) / 10) ** 2 for one in widths) / 9) ** 0.5
    standard = 0.5 * (scatter**2 * 1.1 + 0.001**2 / 3 + 0.001**2) ** 0.5
    assert found["entry"] == "offset"
    assert found["deviation_in"] == pytest.approx(standard, rel=1e-6)
    # Welch-Satterthwaite, JCGM 100, G.2b, cut down: only the readings have few degrees of freedom, 9.
    assert found["freedom"] == int(standard**4 / ((scatter**2 * 1.1 / 4) ** 2 / 9))


MADE = '[as_made]\nuncertainty = ".005"\nholes = [[1, "8.28", "2.02"], [2, "8.28", "2.64"], [3, "8.28", "3.26"]]\n'


def test_readings_that_agree_by_luck_are_no_sharper_than_what_they_were_read_with(job, tmp_path, alder_text):
    """Three holes read just as drawn: u = .005, so that no standard deviation under .0025 can be told."""
    made = tmp_path / "made.toml"
    made.write_text(alder_text[: alder_text.index(AS_MADE)] + MADE, encoding="utf-8")
    told = run(job, "--no-trials", "--readings", made).output
    assert "Hole about its mark: .0025, from 3 readings, 3 degrees of freedom." in told
    lines = told.splitlines()
    few = next(at for at, line in enumerate(lines) if "Your scatter comes from few readings." in line)
    assert few < next(
        at for at, line in enumerate(lines) if "What to tighten" in line
    )  # not behind the tables


def test_a_file_of_several_that_says_nothing_is_named(job, tmp_path, alder_text):
    made, bare = tmp_path / "made.toml", tmp_path / "bare.toml"
    made.write_text(alder_text, encoding="utf-8")
    bare.write_text(alder_text[: alder_text.index(AS_MADE)], encoding="utf-8")
    told = run(job, "--no-trials", "--readings", made, "--readings", bare).output
    assert "bare.toml says nothing about the scatter." in told
    assert "made.toml says nothing" not in told
    values = json.loads(run(job, "--no-trials", "--json", "--readings", made, "--readings", bare).output)
    assert values["silent"] == ["bare.toml"]


def test_the_trial_of_another_cutter_is_not_taken(tmp_path, alder_text):
    """A cut .193 wide by a guide of .500 is .1535 off the template; this one is .0535 off and .015 is left to file."""
    job, readings = tmp_path / "own.toml", tmp_path / "trial.txt"
    job.write_text(alder_text[: alder_text.index(AS_MADE)] + OWN, encoding="utf-8")
    readings.write_text(
        'schema = 1\nunits = "in"\npiece = "square"\nsize = "3"\ntemplate_x = "3.277"\ntemplate_y = "3.277"\n'
        'template_uncertainty = ".001"\ngauge_limit = ".001"\n[[cuts]]\nx = ["3.170", "3.171"]\n',
        encoding="utf-8",
    )
    with pytest.raises(JobError, match="another cutter"):
        run(job, "--no-trials", "--readings", readings, "--enter")
    assert 'offset = ".003"' in job.read_text()


def test_a_file_of_readings_that_cannot_be_read_is_named(job, tmp_path):
    readings = tmp_path / "nonsense.txt"
    readings.write_text("hello", encoding="utf-8")
    with pytest.raises(JobError) as refused:
        run(job, "--no-trials", "--readings", readings)
    assert refused.value.where == "nonsense.txt"


def test_readings_that_say_nothing_change_nothing(job, tmp_path, alder_text):
    bare = tmp_path / "bare.toml"
    bare.write_text(alder_text[: alder_text.index(AS_MADE)], encoding="utf-8")
    before = job.read_text()
    told = run(job, "--no-trials", "--readings", bare, "--enter")
    assert "say nothing about the scatter" in told.output
    assert job.read_text() == before
    assert scatter_made(lay_out(read_job(before))) == ()


@pytest.mark.parametrize("trials", ["0", "-1", "1000000000000"])
def test_a_number_of_trials_that_cannot_be_is_named(job, trials):
    with pytest.raises(HatchwrightError, match="trials"):
        run(job, "--trials", trials)


@pytest.mark.parametrize(
    "typed", ['drill = "0"', 'drill = "-.003"', 'drill = "nan"', 'drill = ".006"\nturn = -0.1']
)
def test_a_scatter_that_cannot_be_is_named(tmp_path, alder_text, typed):
    path = tmp_path / "bad.toml"
    path.write_text(f"{alder_text}\n[scatter]\n{typed}\n", encoding="utf-8")
    with pytest.raises(JobError, match="scatter"):
        run(path)


def test_holes_of_unknown_fasteners_are_told_and_not_passed_over(job):
    job.write_text(job.read_text().replace("MS20470AD4", "XYZ-99", 2), encoding="utf-8")
    assert "17 holes aren't in these figures" in run(job, "--no-trials").output
    job.write_text(job.read_text().replace("MS20470AD4", "XYZ-99"), encoding="utf-8")
    told = " ".join(run(job, "--no-trials").output.split())
    assert told.startswith("Not entered:")
    assert "64 holes aren't in these figures" in told
    assert "nothing to count" not in told


def test_a_job_without_a_distance_that_stops_work_tells_no_chance(tmp_path):
    """Only screws, whose rule cautions: a chance of nothing would read as a permission."""
    from pathlib import Path

    path = tmp_path / "dogwood.toml"
    text = (Path(__file__).parents[2] / "examples" / "dogwood.toml").read_text(encoding="utf-8")
    path.write_text(text + OWN, encoding="utf-8")
    told = " ".join(run(path, "--trials", 2_000).output.split())
    assert "there is nothing to count" in told
    assert "no hole ended short" in told
    assert "the chance that at least one hole" not in told


def test_nothing_to_enter_without_readings(job):
    assert run(job, "--enter").exit_code == 2
