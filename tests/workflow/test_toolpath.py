"""Toolpath files of a job: both sides, names, remarks; the machine's drawing and the paper's are the same part."""

from __future__ import annotations

import io
import re
from datetime import UTC, datetime
from functools import cache
from pathlib import PurePath

import ezdxf
import pytest

from hatchwright.drawings.writers import Paper
from hatchwright.errors import ExportError, JobError
from hatchwright.job.machine import Machine
from hatchwright.making.toolpath.retrace import DrilledHole
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.template_files import template_files
from hatchwright.workflow.toolpath import feed_minutes, machine_files, toolpath_values
from tests.conftest import EXAMPLES

STAMP = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)
MACHINE = EXAMPLES / "machines" / "machine.toml"


examined = cache(examine_file)  # each test writes its jobs to a folder of its own


def text_of(file):
    return file.made.content.decode("ascii")


def toolpath_files(job, machine, *, stamp):
    used = Machine.load(machine)
    return used, machine_files(examined(job), used, stamp=stamp, stem=job.stem, name=machine.name)


@pytest.fixture(scope="module")
def made():
    return toolpath_files(EXAMPLES / "alder.toml", MACHINE, stamp=STAMP)


def test_names_tell_job_side_order_tool_and_unit(made):
    assert [file.made.name for file in made[1]] == [
        f"alder_TOOLPATH_{side}_{tool}_IN.ngc"
        for side in ("LEFT", "RIGHT")
        for tool in ("1_DRILL_T1", "2_ENGRAVER_T3", "3_END_MILL_T2")
    ]


def test_remarks_tell_the_person_what_to_set_up(made):
    for file in made[1]:
        remarks = "\n".join(re.findall(r"^\(- (.*)\)$", text_of(file), re.MULTILINE))
        for words in (
            "NOT APPROVED DATA",
            f"{file.made.side.upper()} SIDE",
            "2026-03-01 10:00 UTC",
            "12.000 x 12.000 in, .125 in THICK",
            "X0 Y0 AT THE LOWER LEFT CORNER OF THE BLANK",
            f"TOOL {file.run.tool.number}",
        ):
            assert words in remarks


def test_remarks_are_in_the_unit_of_the_file(tmp_path):
    """A blank of 12 x 12 x 1/8 in and an end mill of 1/8 in: 304.80 mm and 3.175 mm in a file that says G21."""
    text = MACHINE.read_text(encoding="utf-8")
    metric = tmp_path / "metric.toml"
    metric.write_text(metric_machine(text), encoding="utf-8")
    _, files = toolpath_files(EXAMPLES / "alder.toml", metric, stamp=STAMP)
    for file in files:
        head = text_of(file).split("\nG17 G21 ")[0]
        assert "304.80 x 304.80 mm, 3.175 mm THICK" in head
        assert "G91.1: I AND J COUNT FROM THE START OF EACH ARC" in head
        assert not re.search(r"\d in\b", head, re.IGNORECASE)
    assert "END MILL 3.175 mm, ITS RADIUS IS IN THE PATH" in text_of(files[-1])


def metric_machine(text):
    """The same machine file in millimeters, its bare numbers said to be inches."""
    text, count = re.subn(r'^units = "in"', 'units = "mm"', text, flags=re.MULTILINE)
    assert count == 1
    return re.sub(r'(?<!ramp = )"([\d./ -]+)"', r'"\1 in"', text)


def test_what_stops_stands_at_the_top_of_every_file_in_the_words_of_the_language(made):
    """ALDER as made has two rivets too near an edge and one that cannot be told; of the right side nobody has seen the
    bay (R915). A remark is plain ASCII, has no bracket within it, and no line has more than 256 letters."""
    for file in made[1]:
        head = text_of(file).split("\nG17")[0].split("\n")[1:]
        assert all(re.fullmatch(r"\(- [^()]*\)", line) and line.isascii() for line in head)
        assert max(map(len, head)) <= 256
        assert "DO NOT CUT, DRILL OR RIVET:" in head[1]
        said = " ".join(line[3:-1] for line in head)
        if file.made.side == "left":
            assert "2 STOP, 1 NOT SHOWN. R101. SEE THE CARRY CARD." in said
        else:
            assert re.search(r"NOT SHOWN\. [^.]*R915", said)


@pytest.fixture(scope="module")
def drawn(tmp_path_factory):
    """The same job before anything was made."""
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    job = tmp_path_factory.mktemp("drawn") / "drawn.toml"
    job.write_text(text[: text.index("# What was really made")], encoding="utf-8")
    return toolpath_files(job, MACHINE, stamp=STAMP)


def test_a_job_with_nothing_to_stop_for_has_no_such_remark(drawn):
    files = drawn[1]
    assert [("DO NOT CUT" in text_of(file), file.made.side) for file in files] == [
        *[(False, "left")] * 3,
        *[(True, "right")] * 3,
    ]


def test_the_right_template_is_the_mirror_of_the_left(drawn):
    files = drawn[1]
    left, right = ([complex(*hole.at) for hole in files[k].trace.actions] for k in (0, 3))
    assert len(left) == len(right) == 64
    for hole, other in zip(left, right, strict=True):
        assert abs(complex(12.0 - hole.real, hole.imag) - other) < 2e-5


@pytest.fixture(scope="module")
def drawings(alder, made_once):
    return made_once(template_files, alder, stamp=STAMP, stem="alder", paper=Paper.LETTER)


def test_the_machine_cuts_the_part_that_the_drawing_shows(made, drawings):
    """Windows and plate of the DXF file, read by ezdxf: same sizes, same distances between them, as the path has."""
    data = drawings["alder_TEMPLATE_LEFT_IN.dxf"]
    drawing = ezdxf.read(io.StringIO(data.decode("utf-8")))
    boxes = []
    for line in drawing.modelspace().query('LWPOLYLINE[layer=="TEMPLATE"]'):
        points = [(x, y) for x, y, *_ in line.get_points()]
        xs, ys = zip(*points, strict=True)
        boxes.append((max(xs) - min(xs), max(ys) - min(ys)))
    cut = [
        (edge.bounds[2] - edge.bounds[0], edge.bounds[3] - edge.bounds[1]) for edge in made[1][2].run.edges
    ]
    assert sorted(boxes) == [pytest.approx(box, abs=1e-6) for box in sorted(cut)]
    assert len(boxes) == 2
    holes = drawing.modelspace().query('CIRCLE[layer=="DRILL_PILOT"]')
    drawn = [complex(hole.dxf.center.x, hole.dxf.center.y) for hole in holes]
    drilled = [complex(*hole.at) for hole in made[1][0].trace.actions]
    shift = sum(drilled) / 64 - sum(drawn) / 64
    assert len(drawn) == len(drilled) == 64
    assert all(min(abs(a + shift - b) for b in drilled) < 2e-5 for a in drawn)


def test_report_for_programs(made):
    told = toolpath_values(*made, examine_file(EXAMPLES / "alder.toml"))
    drill, engraver, mill = told["files"][:3]
    assert told["is_engraved"]
    assert (engraver["holes"], engraver["edges"], engraver["deepest_in"]) == (0, 0, pytest.approx(0.006))
    assert engraver["marks"] > 400
    assert (drill["holes"], drill["edges"], mill["holes"], mill["edges"]) == (64, 0, 0, 2)
    assert mill["deepest_in"] == pytest.approx(0.135)
    assert drill["blank_in"] == [12.0, 12.0, 0.125]
    each = (0.1 + drill["deepest_in"]) / 6.0
    assert drill["feed_minutes"] == pytest.approx(64 * each, rel=1e-6)
    assert feed_minutes(made[1][0].trace) == drill["feed_minutes"]
    assert all(isinstance(action, DrilledHole) for action in made[1][0].trace.actions)


def test_the_marks_are_engraved_where_the_drawing_has_them(made, drawings):
    """Lines of the layer ENGRAVE, read by ezdxf: each is followed, and on the same place from the drilled holes."""
    for side, drill, engraver in (("LEFT", 0, 1), ("RIGHT", 3, 4)):
        data = drawings[f"alder_TEMPLATE_{side}_IN.dxf"]
        space = ezdxf.read(io.StringIO(data.decode("utf-8"))).modelspace()
        drawn = [
            complex(hole.dxf.center.x, hole.dxf.center.y)
            for hole in space.query('CIRCLE[layer=="DRILL_PILOT"]')
        ]
        drilled = [complex(*hole.at) for hole in made[1][drill].trace.actions]
        shift = sum(drilled) / 64 - sum(drawn) / 64
        fed = [
            {complex(*move.start[:2]), complex(*move.end[:2])}
            for move in made[1][engraver].trace.actions
            if not move.is_rapid and move.run_in
        ]
        lines = space.query('LINE[layer=="ENGRAVE"]')
        assert len(lines) >= 7
        for line in lines:
            ends = [complex(end.x, end.y) + shift for end in (line.dxf.start, line.dxf.end)]
            assert any(all(min(abs(end - place) for place in move) < 2e-5 for end in ends) for move in fed)
    assert {move.start[2] for move in made[1][1].trace.actions} == {0.75, 0.1, -0.006}


def changed(tmp_path, name, *changes):
    text = (EXAMPLES / name).read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    path = tmp_path / PurePath(name).name
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('blank = ["12", "12"]', 'blank = ["8.3", "8.3"]', "template.blank"),
        ('blank = ["12", "12"]', "", "template.blank"),
        ('end_mill = "1/8"', 'end_mill = "3/16"', "template.end_mill"),
    ],
)
def test_a_job_that_does_not_fit_is_refused(tmp_path, old, new, field):
    with pytest.raises(JobError) as caught:
        toolpath_files(changed(tmp_path, "alder.toml", (old, new)), MACHINE, stamp=STAMP)
    assert field in [fault.field for fault in caught.value.faults]


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('travel = ["24", "18", "3"]', 'travel = ["11", "18", "3"]', "travel.0"),
        ('x_to = ".75"', 'x_to = "2.5"', "clamps (left)"),
        ('spoil_board = "1/2"', 'spoil_board = ".030"', "spoil_board"),
        ('depth = ".006"', 'depth = ".070"', "tools (number 3).depth"),
        ('reach = "1/4"', 'reach = ".005"', "tools (number 3)"),
        ('diameter = "#40"', 'diameter = "#30"', "tools"),
    ],
)
def test_a_machine_without_room_is_refused(tmp_path, old, new, field):
    with pytest.raises(JobError) as caught:
        toolpath_files(
            EXAMPLES / "alder.toml", changed(tmp_path, "machines/machine.toml", (old, new)), stamp=STAMP
        )
    assert field in [fault.field for fault in caught.value.faults]


def test_a_cutter_that_does_not_fit_gets_no_toolpath(tmp_path):
    job = changed(
        tmp_path, "alder.toml", ('guide = ".500"', 'guide = "4.5"'), ('".193"', '"4.2"'), ('"9/16"', '"5"')
    )
    with pytest.raises(ExportError, match="no template is made"):
        toolpath_files(job, MACHINE, stamp=STAMP)
