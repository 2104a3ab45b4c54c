"""Toolpath files as a real control reads them: the stand-alone rs274 interpreter of Debian's linuxcnc-uspace.

It is a general-purpose interpreter of RS-274/NGC that this project did not write; `tools/rs274` unpacks it. Every move
that it prints is compared with the tracer's, within the four decimals that it prints.
"""

from __future__ import annotations

import math
import re
import subprocess
from itertools import pairwise
from pathlib import Path

import pytest

from hatchwright.drawings.template_words import template_engraving
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.making import making_of
from hatchwright.making.toolpath.ngc import ngc_of
from hatchwright.making.toolpath.retrace import DrilledHole, retrace
from hatchwright.making.toolpath.toolpath import toolpath
from hatchwright.units import inches
from making.machines import machine
from tests.patience import PATIENCE_S

pytestmark = pytest.mark.outside

TOOL = Path(__file__).parents[3] / "tools" / "rs274"
PRINTED = 1.001e-4
STOPPED = f"DO NOT CUT, DRILL OR RIVET. {', '.join(f'R{code} x 2' for code in range(101, 160))}. (MSG, (nested)) %; M3"
"""A remark as long as any, with what a control could take for something else."""
MOVE = re.compile(r"(STRAIGHT_TRAVERSE|STRAIGHT_FEED|ARC_FEED)\(([^)]*)\)")


@pytest.fixture(scope="module")
def interpret(tmp_path_factory):
    done = subprocess.run([TOOL], capture_output=True, text=True, timeout=PATIENCE_S)
    if done.returncode == 3:
        pytest.skip(done.stdout.strip())
    assert done.returncode == 0, done.stderr
    command, folder = done.stdout.strip(), tmp_path_factory.mktemp("rs274")

    def run(text):
        (folder / "tools.tbl").write_text("T1 P1 D0.098\nT2 P2 D0.125\nT3 P3 D0.010\n", encoding="ascii")
        (folder / "path.ngc").write_text(text, encoding="ascii")
        call = [command, "-t", "tools.tbl", "-g", "path.ngc", "said.txt"]
        told = subprocess.run(call, cwd=folder, capture_output=True, text=True, timeout=PATIENCE_S)
        assert told.returncode == 0, told.stdout + told.stderr
        said = (folder / "said.txt").read_text(encoding="utf-8")
        assert "PROGRAM_END()" in said
        return said

    return run


def moves_of(said):
    return [(name, [float(value) for value in values.split(",")]) for name, values in MOVE.findall(said)]


@pytest.fixture(scope="module")
def files(alder, dogwood):
    made = {}
    for job, mill in ((alder, "1/8 in"), (dogwood, "1/4 in")):
        blank = (inches(14.0), inches(14.0))
        layout = lay_out(
            job.model_copy(update={"template": job.template.model_copy(update={"blank": blank})})
        )
        for unit in ("in", "mm"):
            shop = machine(units=unit, mill=mill, engraves=True)
            for run in toolpath(
                making_of(layout), shop, template_engraving(making_of(layout), date="2026-03-01")
            ).runs:
                made[f"{job.title}, {run.tool.kind}, {unit}"] = ngc_of(
                    run, unit=unit, safe_in=shop.safe_height.inch, remarks=["A JOB", STOPPED]
                )
    return made


def test_every_move_is_the_tracers(interpret, files):
    assert (
        len(files) == 10
    )  # a window has pilot holes to drill, a plug's key hole is milled; both are engraved
    for name, text in files.items():
        trace = retrace(text)
        per_in = 25.4 if trace.unit == "mm" else 1.0
        said = interpret(text)
        assert f"USE_LENGTH_UNITS(CANON_UNITS_{'MM' if trace.unit == 'mm' else 'INCHES'})" in said
        assert f"SELECT_TOOL({trace.tool})" in said
        assert f"SET_SPINDLE_SPEED(0, {trace.spindle:.4f})" in said
        holes = [action for action in trace.actions if isinstance(action, DrilledHole)]
        strokes = [action for action in trace.actions if not isinstance(action, DrilledHole)]
        lift, *moves, last = moves_of(said)
        assert (lift[0], lift[1][2]) == ("STRAIGHT_TRAVERSE", pytest.approx(0.75 * per_in, abs=PRINTED))
        assert (last[0], last[1]) == ("STRAIGHT_TRAVERSE", moves[-1][1]), "the last word draws the tool up"
        cut = moves[len(moves) - len(strokes) :]
        drilled = moves[: len(moves) - len(strokes)]
        if not holes:
            ((kind, values),) = drilled  # from wherever the tool was to its first place
            assert kind == "STRAIGHT_TRAVERSE"
            assert values[:3] == pytest.approx([value * per_in for value in strokes[0].start], abs=PRINTED)
        else:
            assert_drilled(drilled, holes, per_in)
        for (kind, values), stroke in zip(cut, strokes, strict=True):
            end = [value * per_in for value in stroke.end]
            if stroke.center is not None:
                assert kind == "ARC_FEED", name
                x, y, hub_x, hub_y, turn, z = values[:6]
                assert (x, y, z) == pytest.approx(end, abs=PRINTED), name
                assert (hub_x, hub_y) == pytest.approx(
                    [value * per_in for value in stroke.center], abs=PRINTED
                ), name
                assert turn == math.copysign(1, stroke.sweep_rad), name
            else:
                assert kind == ("STRAIGHT_TRAVERSE" if stroke.is_rapid else "STRAIGHT_FEED"), name
                assert values[:3] == pytest.approx(end, abs=PRINTED), name


def assert_drilled(moves, holes, per_in):
    """The interpreter takes each cycle apart: across, down to R, feeds that end deeper and deeper, up."""
    bottoms = [(values[:3], k) for k, (kind, values) in enumerate(moves) if kind == "STRAIGHT_FEED"]
    for hole in holes:
        at = [value * per_in for value in hole.at]
        feeds = [place for place, _ in bottoms if place[:2] == pytest.approx(at, abs=PRINTED)]
        assert feeds, hole
        depths = [place[2] for place in feeds]
        assert depths == sorted(depths, reverse=True)
        assert depths[-1] == pytest.approx(hole.bottom_in * per_in, abs=PRINTED)
        pecks = math.ceil((hole.approach_in - hole.bottom_in) / hole.peck_in - 1e-9) if hole.peck_in else 1
        assert len(depths) == pecks
    assert len({tuple(place[:2]) for place, _ in bottoms}) == len(holes)
    across = [after[2] for (_, before), (_, after) in pairwise(moves) if before[:2] != after[:2]]
    assert across == pytest.approx([0.75 * per_in] * (len(holes) - 1), abs=PRINTED)


def test_the_interpreter_refuses_an_arc_that_is_not_round(interpret):
    """That it does refuse something: one end moved by .02 in, and the same file is not carried out."""
    lines = (
        "G17 G20 G40 G49 G54 G80 G90 G91.1 G94",
        "S1000 M3",
        "G0 X0 Y0 Z1",
        "G3 X-1 Y{} Z1 I-1 J0 F1",
        "M2",
    )
    text = "\n".join(("%", *lines, "%", ""))
    assert "ARC_FEED(-1.0000, 1.0000, -1.0000, 0.0000, 1," in interpret(text.format("1"))
    with pytest.raises(AssertionError):
        interpret(text.format("1.02"))
