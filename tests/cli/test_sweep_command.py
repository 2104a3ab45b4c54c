"""`hatchwright sweep`: what it prints, what it says was left out, and what it refuses before it runs."""

from __future__ import annotations

import re
from functools import partial

import pytest

from tests.strength.jobs import ANSWERED, SYMMETRIC, running

PRESSED = SYMMETRIC + ANSWERED + running({"q": 60.0})
SAME = "doubler.thickness=.040"


@pytest.fixture(scope="module")
def sweep_into(tmp_path_factory, shell):
    """Sweep the job in a pipe."""
    job = tmp_path_factory.mktemp("pressed") / "pressed.toml"
    job.write_text(PRESSED, encoding="utf-8")

    def run(folder, *more: object) -> tuple[int, str, str]:
        return shell("sweep", job, "--processes", 1, "--out", folder, *more)

    return run


@pytest.fixture
def sweep(sweep_into, tmp_path):
    return partial(sweep_into, tmp_path / "out")


@pytest.fixture(scope="module")
def looked_for(sweep_into, tmp_path_factory):
    """The folder of a sweep that looks for buckling, and what was printed."""
    folder = tmp_path_factory.mktemp("looked") / "out"
    return folder, sweep_into(folder, "--vary", SAME)[1]


def test_it_writes_table_and_picture_and_goes_on(sweep, tmp_path):
    for _ in range(2):
        status, out, _ = sweep("--vary", "doubler.thickness=.032:.040", "--no-buckling")
        assert status == 0
        assert "2 of 2 variants" in out
        assert "not approved data" in out
    assert (tmp_path / "out" / "sweep.csv").read_text(encoding="utf-8").count("\n") == 3
    assert (tmp_path / "out" / "sweep.svg").stat().st_size < 30_000


def test_buckling_is_looked_for_unless_it_is_left_out_and_then_named(sweep_into, looked_for):
    folder, out = looked_for
    assert "STOP" in out
    assert "STOP: S803." in out
    assert "Not checked" not in out.lower()
    _, out, _ = sweep_into(folder, "--vary", SAME, "--no-buckling", "--overwrite")
    assert "S803" not in out.split("Lowest:")[1].split(".")[0]
    assert "Not checked: buckling of the reinforced panel (S803, S812)." in out
    assert "NOT LOOKED FOR, though strength does: buckling of the reinforced panel" in out


def test_each_variant_is_one_line_of_a_pipe(looked_for):
    _, out = looked_for
    (row,) = (line for line in out.splitlines() if "doubler.thickness" in line)
    assert "Buckling of the reinforced panel" in row
    assert not re.search("[\u2500-\u257f]", out)


@pytest.mark.parametrize(
    ("vary", "said"),
    [
        ("doubler.thickness", "can't be read"),
        ("rows.pitch=1:2", "can't be read"),
        ("hatch.size=1", "the job has no section 'hatch'"),
        ("rows.ptch=.5,.6", "rows.0 has no 'ptch'. Did you mean pitch?"),
        ("doubler.thicknes=.032,.040", "doubler has no 'thicknes'. Did you mean thickness?"),
        ("cover.thickness=.032", "the job has no section 'cover'"),
    ],
)
def test_what_the_job_has_not_is_refused_before_anything_runs(sweep, tmp_path, vary, said):
    status, out, err = sweep("--vary", vary)
    assert status == 2
    assert "--vary" in err
    assert said in err
    assert out == ""
    assert not (tmp_path / "out").exists()


def test_when_every_variant_is_refused_nothing_was_done(sweep):
    status, out, err = sweep("--vary", "rows.rivet=MS20470AD4-4,MS20470AD4-5")
    assert status == 2
    assert "Every variant was refused." in err
    assert "leave the length off: it follows from the grip (given: MS20470AD4-4)" in out


def test_what_is_not_shown_for_a_rivet_that_no_table_lists_is_not_refused(sweep):
    status, out, err = sweep("--vary", "rows.rivet=ZZ,YY")
    assert status == 0
    assert "refused" not in err
    assert "rivet ZZ isn't in the tables: size not known" in out
    assert "S100" in out
