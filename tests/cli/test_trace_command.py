"""`hatchwright trace`, run as a person runs it: an invented old ring, traced askew in millimeters, entered in a job.

What is true are the sizes and places that the drawing is made from here.
"""

from __future__ import annotations

import json
import tomllib

import numpy as np
import pytest

from hatchwright.errors import ExportError, JobError
from hatchwright.job.dxf_loop import read_loop
from hatchwright.workflow.trace import HowTraced, enter_trace, traced_job

HOLES = [(-2.5, 2.6), (0.0, 2.6), (2.5, 2.6), (2.5, -2.6), (0.4, -2.6), (-2.5, -2.6)]
"""Of the ring, clockwise from the upper left, from the middle of its opening, Y up [in]; not the same in a mirror."""

ROUND = 0.5522847498
"""Of a radius, to the control points of a Bezier quarter circle: (4/3)(sqrt 2 - 1) [-]."""


def rounded(width, height, radius):
    """A rounded rectangle as Bezier curves and lines [in], Y down."""
    path, corners = [], [(1, -1), (1, 1), (-1, 1), (-1, -1)]
    for number, (sx, sy) in enumerate(corners):
        x, y, free = sx * width / 2, sy * height / 2, radius * (1 - ROUND)
        along_x = [(x - sx * radius, y), (x - sx * free, y), (x, y - sy * free), (x, y - sy * radius)]
        a, b, c, d = along_x if number % 2 == 0 else along_x[::-1]
        path.append(f"{'L' if number else 'M'}{a[0]:.5f},{a[1]:.5f} C{b[0]:.5f},{b[1]:.5f} "
                    f"{c[0]:.5f},{c[1]:.5f} {d[0]:.5f},{d[1]:.5f}")  # fmt: skip
    return " ".join(path) + "Z"


def ring(*edges):
    holes = "".join(f'<circle cx="{x}" cy="{-y}" r=".0643"/>' for x, y in HOLES)
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="200mm" viewBox="0 0 300 200">'
        '<g transform="translate(140 100) rotate(7) scale(25.4)">'
        f'{"".join(f"""<path d="{edge}"/>""" for edge in edges)}{holes}</g></svg>'
    )


D_SHAPE = "M-2,-1.5 H1 A1.5,1.5 0 0 1 1,1.5 H-2 Z"


@pytest.fixture(scope="module")
def drawings(tmp_path_factory):
    folder = tmp_path_factory.mktemp("drawings")
    (folder / "old ring.svg").write_text(ring(rounded(7, 6, 1), rounded(4.97, 3.97, 0.72)), encoding="utf-8")
    (folder / "d.svg").write_text(ring(rounded(7, 6, 1), D_SHAPE), encoding="utf-8")
    return folder


def test_a_traced_ring_goes_level_on_the_opening(shell, alder_file, drawings):
    how = ("--as", "ring", "--as", "holes", "--row", "old ring", "--rivet", "MS20470AD4", "--json")
    status, out, _ = shell("trace", alder_file, drawings / "old ring.svg", *how)
    assert status == 1  # rivets on rivets: the job says stop
    told = json.loads(out)
    assert told["turned_deg"] == pytest.approx(7.0, abs=0.01)
    outer, inner = told["entries"]
    assert (outer["field"], inner["field"]) == ("doubler.outer", "doubler.inner")
    for entry, sizes in ((outer, (7, 6, 1)), (inner, (4.97, 3.97, 0.72))):
        typed = [float(entry["values"][name]) for name in ("width", "height", "radius")]
        assert typed == pytest.approx(sizes, abs=0.001)
        assert entry["departure_in"] < 0.001
        assert (entry["lines"], entry["arcs"]) == (4, 4)
    points = np.array(told["row"]["points"], dtype=float) - (5.5, 4.5)
    assert points == pytest.approx(np.array(HOLES), abs=0.001)
    assert told["is_entered"] is False
    assert "old ring" not in alder_file.read_text(encoding="utf-8")


def test_an_outline_of_lines_and_arcs_is_entered_beside_the_job(shell, alder_file, drawings):
    before = alder_file.read_text(encoding="utf-8")
    status, out, err = shell("trace", alder_file, drawings / "d.svg", "--as", "opening", "--enter")
    assert status == 1
    assert err == ""
    assert "[opening]" in out
    text = alder_file.read_text(encoding="utf-8")
    entered = tomllib.loads(text)["opening"]
    loop = read_loop(alder_file.parent / entered["file"], layer=entered["layer"])
    assert loop.area_sq_in == pytest.approx(9 + np.pi * 1.5**2 / 2, abs=0.01)
    x_min, _, x_max, _ = loop.bounds
    middle = float(entered["place"][0]) + (x_min + x_max) / 2
    assert middle == pytest.approx(5.5, abs=1e-3)
    kept = [line for line in before.splitlines() if "#" in line]
    assert [line for line in text.splitlines() if "#" in line] == kept
    assert shell("check", alder_file)[0] == 1


def test_what_was_traced_is_a_sample_no_more(shell, tmp_path, drawings):
    job = tmp_path / "new.toml"
    assert shell("new", job, "--units", "mm")[0] == 0
    found = traced_job(job, drawings / "d.svg", HowTraced(("opening",), within="0.1"))
    assert [file.name for file in found.files] == ["d_OPENING_MM.dxf"]
    enter_trace(job, found)
    assert not [
        name for name in tomllib.loads(job.read_text(encoding="utf-8"))["samples"] if "opening" in name
    ]


def test_another_outline_of_that_name_is_not_written_over(alder_file, drawings):
    other = alder_file.parent / "d_OPENING_IN.dxf"
    other.write_text("mine", encoding="utf-8")
    before = alder_file.read_bytes()
    found = traced_job(alder_file, drawings / "d.svg", HowTraced(("opening",)))
    with pytest.raises(ExportError, match=r"d_OPENING_IN\.dxf"):
        enter_trace(alder_file, found)
    assert (other.read_text(encoding="utf-8"), alder_file.read_bytes()) == ("mine", before)


def test_a_job_that_changed_meanwhile_is_not_written(alder_file, drawings):
    found = traced_job(alder_file, drawings / "d.svg", HowTraced(("opening",)))
    changed = alder_file.read_text(encoding="utf-8").replace('revision = "A"', 'revision = "B"')
    alder_file.write_text(changed, encoding="utf-8")
    with pytest.raises(JobError):
        enter_trace(alder_file, found)
    assert alder_file.read_text(encoding="utf-8") == changed
    assert not list(alder_file.parent.glob("*.dxf"))


def test_a_zero_that_is_given_is_where_the_drawing_lies(shell, alder_file, drawings):
    """The ring's middle is at (140, 100) mm of the page, Y down, so at (140, -100) from its upper left."""
    zero = (f"{5.5 - 140 / 25.4:.5f}", f"{4.5 + 100 / 25.4:.5f}")
    how = ("--as", "holes", "--row", "outboard, outer", "--zero", *zero, "--json")
    told = json.loads(shell("trace", alder_file, drawings / "old ring.svg", *how)[1])
    z = np.array(HOLES) @ (1, 1j) * np.exp(-1j * np.radians(7)) + (5.5 + 4.5j)
    points = np.array(told["row"]["points"], dtype=float) @ (1, 1j)
    assert np.sort_complex(points) == pytest.approx(np.sort_complex(z), abs=0.001)
    assert told["row"]["rivet"] == "MS20470AD4"  # the row's own
    flipped = ("--as", "holes", "--row", "outboard, outer", "--zero", "0", "0", "--flip", "--json")
    told = json.loads(shell("trace", alder_file, drawings / "old ring.svg", *flipped)[1])
    points = np.array(told["row"]["points"], dtype=float) @ (1, 1j)
    page = (np.array(HOLES) @ (1, 1j) * np.exp(-1j * np.radians(7)) + (140 - 100j) / 25.4).conj()
    assert np.sort_complex(points) == pytest.approx(np.sort_complex(page), abs=0.001)


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--as", "holes"), "--row"),
        (("--as", "holes", "--row", "new"), "--rivet"),
        (("--as", "opening", "--within", "5 in"), "--within"),
        (("--as", "opening", "--within", "0,0001 mm"), "--within"),
        (("--as", "opening", "--zero", "1", "here"), "--zero"),
        (("--as", "opening", "--unit", "in"), "--unit"),
        (("--as", "opening", "--layer", "notes"), "notes"),
        ((), "--as"),
    ],
)
def test_what_is_missing_or_makes_no_sense_is_refused(shell, alder_file, drawings, options, told):
    status, out, err = shell("trace", alder_file, drawings / "old ring.svg", *options)
    assert (status, out) == (2, "")
    assert told in err
    assert "Traceback" not in err
