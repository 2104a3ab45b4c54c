"""`hatchwright measure` run as a person runs it: what it says, what it writes, and what it refuses.

Readings are made from the drawing by a known shift, turn or mirror image; what is expected follows from that.
"""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path

import numpy as np
import pytest

from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out

U = ".003"
EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def drawn(alder_text):
    """Number of each hole of ALDER to its drawn place [in]."""
    return {hole.number: hole.drawn_in or hole.place for hole in lay_out(read_job(alder_text)).holes}


@pytest.fixture
def table(tmp_path):
    """Write rows of readings into a file."""

    def written(rows, head="No;X;Y;Dia"):
        path = tmp_path / "readings.csv"
        path.write_text("\n".join([head, *(";".join(map(str, row)) for row in rows)]), encoding="utf-8")
        return path

    return written


def rows_of(drawn, change=lambda x, y: (x, y), *, seed=1):
    rng = np.random.default_rng(seed)
    off = 0.002 * rng.normal(size=(len(drawn), 2))
    return [
        (number, *(f"{v:.4f}" for v in np.add(change(*place), off[k])), "")
        for k, (number, place) in enumerate(drawn.items())
    ]


def told_of(shell, *arguments):
    status, out, err = shell("measure", *arguments, "--json")
    return status, json.loads(out), err


def test_a_shifted_set_is_told_and_its_answers_change(shell, alder_file, drawn, table):
    path = table(rows_of(drawn, lambda x, y: (x + 0.03, y)))
    status, told, _ = told_of(shell, alder_file, path, "--u", U)
    assert told["fit"]["shift_in"] == pytest.approx([0.03, 0.0], abs=0.001)
    assert [one["kind"] for one in told["named"]] == ["shifted"]
    changed = [one for one in told["changes"] if one["is_of_status"]]
    assert {one["new"]["code"] for one in changed if one["new"]} >= {"R101"}
    assert status == 1
    assert told["after"]["holds_back"]
    for one in told["holes"]:
        assert np.add(one["template_in"], one["drilling_in"]) == pytest.approx(one["off_in"])
    edges = {one["what"]: one for one in told["numbers"] if one["group"] == "edge"}
    moved = edges["rivet 43 to opening edge (skin)"]  # west of the opening, where it moves toward the edge
    assert moved["change"] == pytest.approx(-0.03, abs=0.006)
    assert moved["new"] - moved["old"] == pytest.approx(moved["change"])
    assert (moved["was"], moved["now"]) == ("pass", "unknown")
    assert not told["is_entered"]
    assert "as_made" in alder_file.read_text(encoding="utf-8")


def test_words_for_people(shell, alder_file, drawn, table):
    path = table(rows_of(drawn, lambda x, y: (x + 0.03, y)))
    _, out, _ = shell("measure", alder_file, path, "--u", U)
    assert "80 readings, 80 of 80 holes matched. Pattern shifted X .030" in out
    assert "The whole pattern is shifted: X .030" in out
    assert "OK becomes STOP" in out
    assert "Edge distances that change" in out
    assert len(re.findall(r"^rivet \d+ to opening edge", out, re.M)) > 20
    assert "not approved data" in out


def test_entered_readings_stand_in_the_file_and_all_else_stays(shell, alder_file, drawn, table):
    before = alder_file.read_text(encoding="utf-8")
    rows = rows_of(drawn)
    rows[3] = (rows[3][0], rows[3][1], rows[3][2], "#30")
    rows.append(("", "5.5", "1.0", ".140"))
    status, out, _ = shell("measure", alder_file, table(rows), "--u", U, "--enter")
    assert "81 readings written" in out
    after = alder_file.read_text(encoding="utf-8")
    comments = [line for line in before.splitlines() if line.strip().startswith("#")]
    assert [line for line in after.splitlines() if line.strip().startswith("#")] == comments
    made = tomllib.loads(after)["as_made"]
    assert made["uncertainty"] == tomllib.loads(before)["as_made"]["uncertainty"]
    assert {line[0]: line[1:] for line in made["holes"]} == {
        row[0]: [row[1], row[2], row[3], U] for row in rows if row[0]
    }
    assert made["strays"] == [["5.5", "1.0", ".140", U]]
    held = [line[0] for line in tomllib.loads(before)["as_made"]["holes"]]
    assert [line[0] for line in made["holes"]][: len(held)] == held
    assert status == 1  # the job is held back


def test_a_job_without_readings_gets_its_section(shell, tmp_path, table):
    job = tmp_path / "dogwood.toml"
    job.write_bytes((EXAMPLES / "dogwood.toml").read_bytes())
    places = {hole.number: hole.place for hole in lay_out(read_job(job.read_text(encoding="utf-8"))).holes}
    path = table(rows_of(places))
    status, _, err = shell("measure", job, path)
    assert (status, "nothing says how far off" in err) == (2, True)
    shell("measure", job, path, "--u", U, "--enter")
    made = tomllib.loads(job.read_text(encoding="utf-8"))["as_made"]
    assert made["uncertainty"] == U
    assert sorted(line[0] for line in made["holes"]) == sorted(places)
    assert all(len(line) == 3 for line in made["holes"])


DOUBTFUL = {
    "mirrored": lambda rows: [(n, f"{11.0 - float(x):.4f}", y, d) for n, x, y, d in rows],
    "turned": lambda rows: [(n, f"{11.0 - float(x):.4f}", f"{9.0 - float(y):.4f}", d) for n, x, y, d in rows],
    "swapped": lambda rows: [(rows[1][0], *rows[0][1:]), (rows[0][0], *rows[1][1:]), *rows[2:]],
}


@pytest.mark.parametrize("kind", DOUBTFUL)
def test_a_doubtful_set_is_not_entered_unless_a_person_says_so(shell, alder_file, drawn, table, kind):
    before = alder_file.read_text(encoding="utf-8")
    path = table(DOUBTFUL[kind](rows_of(drawn)))
    status, told, err = told_of(shell, alder_file, path, "--u", U)
    assert [one["kind"] for one in told["named"] if one["is_doubtful"]] == [kind]
    assert (status, told["may_enter"]) == (1, False)
    status, _, err = shell("measure", alder_file, path, "--u", U, "--enter")
    assert status == 2
    assert "doubtful and were not entered" in err
    assert alder_file.read_text(encoding="utf-8") == before
    shell("measure", alder_file, path, "--u", U, "--enter", "--as-they-are")
    made = tomllib.loads(alder_file.read_text(encoding="utf-8"))["as_made"]["holes"]
    typed = {row[0]: list(row[1:3]) for row in DOUBTFUL[kind](rows_of(drawn))}
    assert {line[0]: line[1:3] for line in made} == typed


def test_readings_in_another_frame_and_unit(shell, alder_file, drawn, table):
    """Measured in millimeters from (2, 1), X along the job's Y and Y along its X: flipped and turned."""
    rows = [(n, f"{25.4 * (y - 1.0):.3f}", f"{25.4 * (x - 2.0):.3f}", "") for n, (x, y) in drawn.items()]
    arguments = "--u", U, "--unit", "mm", "--zero", "2", "1", "--turn", "90", "--flip"
    _, told, _ = told_of(shell, alder_file, table(rows), *arguments)
    assert told["named"] == []
    assert told["fit"]["shift_in"] == pytest.approx([0.0, 0.0], abs=1e-4)
    shell("measure", alder_file, table(rows), *arguments, "--enter")
    made = tomllib.loads(alder_file.read_text(encoding="utf-8"))["as_made"]["holes"]
    for number, x, y, *_ in made:
        assert (float(x), float(y)) == pytest.approx(drawn[number], abs=1e-4)


def test_the_wrong_unit_is_refused(shell, alder_file, drawn, table):
    status, out, err = shell("measure", alder_file, table(rows_of(drawn)), "--u", U, "--unit", "mm")
    assert (status, out) == (2, "")
    assert "as inches read as millimeters do" in err


def test_a_stray_hole_without_diameter_can_not_be_entered(shell, alder_file, drawn, table):
    path = table([*rows_of(drawn), ("", "5.5", "1.0", "")])
    status, told, _ = told_of(shell, alder_file, path, "--u", U)
    assert (status, told["after"], told["may_enter"]) == (1, None, False)
    assert "no diameter" in told["not_taken"][0]
    before = alder_file.read_text(encoding="utf-8")
    status, _, err = shell("measure", alder_file, path, "--u", U, "--enter")
    assert (status, "Measure its diameter" in err) == (2, True)
    assert alder_file.read_text(encoding="utf-8") == before


MIXED = """what;which;value;u
head;No;Dia;Height
head;1;.190;.062
hole;2;8.279;2.641;;.002
csk;101;;.030
edge;opening;x_to;8.022;.003
Edge;outer;INBD;2.005
edge;outer;OUTBD;9.001
edge;outer;FWD;1.498
edge;outer;AFT;7.503
corner;outer;all;1.00;.010
corner;opening;3;.745
thickness;doubler;.0395;.0005
thickness;skin;.0315
shop head;2;.188;.060;.002
"""


def test_rows_of_every_kind_are_read_from_one_file_and_entered_each_with_its_u(shell, alder_file, tmp_path):
    """Two holes are too few to lay on, and each bears its number; what stands there already is put in its place."""
    path = tmp_path / "readings.csv"
    path.write_text(MIXED, encoding="utf-8")
    status, told, _ = told_of(shell, alder_file, path)
    assert (told["fit"], status) == (None, 1)
    assert told["not_taken"] == []
    assert [one["kind"] for one in told["others"]].count("edge") == 5
    before = tomllib.loads(alder_file.read_text(encoding="utf-8"))
    shell("measure", alder_file, path, "--enter")
    after = tomllib.loads(alder_file.read_text(encoding="utf-8"))
    made = after["as_made"]
    assert made["heads"] == [[1, ".190", ".062"], [2, ".188", ".060", ".002"]]
    assert made["countersinks"] == [[101, "", ".030"]]
    assert [2, "8.279", "2.641", "", ".002"] in made["holes"]
    assert len(made["holes"]) == len(before["as_made"]["holes"])
    assert made["opening"] == before["as_made"]["opening"] | {
        "x_to": "8.022",
        "x_to_u": ".003",
        "radius_3": ".745",
    }
    outer = made["doubler_outer"]
    assert [outer[side] for side in ("x_from", "x_to", "y_from", "y_to")] == [
        "2.005",
        "9.001",
        "1.498",
        "7.503",
    ]
    assert (outer["shape"], outer["radius"]) == ("edges", "1.00")
    assert [outer[f"radius_{k}_u"] for k in range(1, 5)] == [".010"] * 4
    assert (after["doubler"]["measured"], after["doubler"]["measured_u"]) == (".0395", ".0005")
    assert (after["skin"]["measured"], "measured_u" in after["skin"]) == (".0315", False)
    path.write_text(
        "corner;opening;all;.752\nedge;opening;x_to;8.021\nthickness;doubler;.0397", encoding="utf-8"
    )
    shell("measure", alder_file, path, "--enter")
    again = tomllib.loads(alder_file.read_text(encoding="utf-8"))
    assert again["as_made"]["opening"] == before["as_made"]["opening"] | {"x_to": "8.021", "radius": ".752"}
    assert (again["doubler"]["measured"], "measured_u" in again["doubler"]) == (".0397", False)


@pytest.mark.parametrize(
    ("rows", "says"),
    [
        ("edge;outer;outbd;9.001", "not measured all round: the side at the lowest X"),
        ("edge;opening;up;9.001", "Write one of inbd, outbd, fwd, aft"),
        ("thickness;plug;.040", "the job has no such sheet"),
        ("head;1;.190;.062\nhead;1;.188;.060", "this was read in row 1 too"),
        ("head;4999;.190;.062", "no hole of this number"),
        ("corner;opening;2;.7;1 ft", "."),
        ("head;1;30°;.062", "this is not a length"),
        ("head;1;.190;.062;9", "no reading is this uncertain"),
        (
            "rivet;1;.190\nhead;1;.190;.062",
            "Begin each row with what it is a reading of: hole, diameter, edge",
        ),
    ],
)
def test_bad_rows_of_other_kinds_are_refused_and_named(shell, alder_file, tmp_path, rows, says):
    before = alder_file.read_text(encoding="utf-8")
    path = tmp_path / "readings.csv"
    path.write_text(rows, encoding="utf-8")
    status, out, err = shell("measure", alder_file, path, "--enter")
    assert status == 2, out
    assert says in err
    assert "Traceback" not in err
    assert alder_file.read_text(encoding="utf-8") == before


def test_a_million_rows_are_refused_by_their_number(shell, alder_file, tmp_path):
    path = tmp_path / "readings.csv"
    path.write_text("head;1;.1;.1\n" * 1_000_000, encoding="utf-8")
    status, _, err = shell("measure", alder_file, path)
    assert (status, "1000000" in err) == (2, True)


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        (b"\x89PNG\r\n\x1a\n\0\0", "a picture"),
        (b"PK\x03\x04" + bytes(30), "packed"),
        ("No;X;Y\n1;2;3 Ø".encode("latin-1"), "character 7"),
        (b"No;X;Y\n1;2;3\n1;4;5", "stands in row 2 too"),
        (b"No;X;Y\n1;2;3\n2;?;5", "this is not a length"),
        (b"No;X;Y\n4999;2;3", "no hole of this number"),
    ],
)
def test_bad_tables_are_refused_by_row_and_column(shell, alder_file, tmp_path, raw, says):
    path = tmp_path / "readings.csv"
    path.write_bytes(raw)
    status, out, err = shell("measure", alder_file, path, "--u", U, "--enter")
    assert (status, out) == (2, "")
    assert "readings.csv" in err
    assert says in err
    assert "Traceback" not in err


@pytest.mark.parametrize("option", [("--u", "none"), ("--zero", "2..5", "2"), ("--zero-u", "much")])
def test_bad_options_are_refused_by_name(shell, alder_file, drawn, table, option):
    status, _, err = shell("measure", alder_file, table(rows_of(drawn)), "--u", U, *option)
    assert status == 2
    assert option[0].strip("-").replace("-", " ") in err
    assert "not a length" in err


@pytest.mark.parametrize(
    "command", [("measure", "--turn"), ("trace", "--as", "opening", "--turn"), ("scan", "--dpi")]
)
@pytest.mark.parametrize(
    ("typed", "says"),
    [("nan", "nan is not a number"), ("inf", "not in the range"), ("-1e999", "not in the range")],
)
def test_a_number_that_is_none_is_refused_by_name(shell, alder_file, command, typed, says):
    name, *options = command
    files = [alder_file] if name == "scan" else [alder_file, alder_file]
    status, _, err = shell(name, *files, *options, typed)
    assert (status, options[-1] in err, says in err) == (2, True, True)


def test_every_key_of_the_output_is_in_its_page(shell, alder_file, drawn, table):
    page = (EXAMPLES.parent / "docs" / "measure-json.md").read_text(encoding="utf-8")
    _, told, _ = told_of(shell, alder_file, table(rows_of(drawn, lambda x, y: (x + 0.03, y))), "--u", U)
    inner = [told["fit"], told["pose"], told["holes"][0], told["named"][0], told["changes"][0]]
    inner.append(told["numbers"][0])
    path = table([("thickness", "skin", ".0315")], head="")
    inner.append(told_of(shell, alder_file, path)[1]["others"][0])
    keys = {key for one in (told, *inner) for key in one}
    assert len(keys) > 50
    assert sorted(key for key in keys if f"`{key}`" not in page) == []
