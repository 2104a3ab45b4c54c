"""Engraving: letters that can be told apart, strokes where they belong, and spoilt files that are refused."""

from __future__ import annotations

import math
import random
import string
from itertools import pairwise

import numpy as np
import pytest

from hatchwright.drawings.template_words import template_engraving
from hatchwright.errors import ExportError, JobError
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.making import making_of
from hatchwright.making.template.stroke_letters import lettered
from hatchwright.making.toolpath.ngc import ngc_of
from hatchwright.making.toolpath.retrace import retrace
from hatchwright.making.toolpath.retrace_check import Wanted, refuse_wrong_trace
from hatchwright.making.toolpath.toolpath import toolpath
from hatchwright.units import inches
from making.machines import ENGRAVER, TEXT, machine

SIGNS = string.ascii_uppercase + string.digits + ".,:;-+=/()#'\"*%"


def picture(sign):
    """The cells of a fine grid that a sign's strokes run through."""
    cells = set()
    for mark in lettered(sign, at=(0.0, 0.0), width_in=5.5, height_in=6.0):
        for (x, y), (u, v) in pairwise(mark):
            for share in np.linspace(0.0, 1.0, 60):
                cells.add((round(2 * (x + share * (u - x))), round(2 * (y + share * (v - y)))))
    return frozenset(cells)


def test_no_two_signs_look_alike():
    drawn = {sign: picture(sign) for sign in SIGNS}
    for sign, cells in drawn.items():
        for other, others in drawn.items():
            assert sign == other or len(cells ^ others) >= 2, (sign, other)
    assert {cell for cells in drawn.values() for cell in cells} <= {
        (x, y) for x in range(9) for y in range(13)
    }


def test_letters_of_mirror_images_are_told_by_their_halves():
    """Read from the back, a face that must lie out gives itself away: no asymmetric letter is its own mirror image."""
    for sign in "BCDEFGJKLNPQRSZ2345679":
        assert frozenset((8 - x, y) for x, y in picture(sign)) != picture(sign)


def test_small_letters_become_capitals_and_unknown_ones_a_box():
    room = {"at": (1.0, 2.0), "width_in": 1.1, "height_in": 0.3}
    assert lettered("fwd", **room) == lettered("FWD", **room)
    assert lettered("日", **room) == lettered("語", **room)
    assert len(lettered("日", **room)[0]) == 5
    assert lettered(" ", **room) == ()


@pytest.mark.parametrize("angle_deg", [0.0, 90.0, 37.0])
def test_a_line_takes_the_room_of_the_drawn_one(angle_deg):
    marks = lettered("HH", at=(1.0, 2.0), width_in=2.2, height_in=0.6, angle_deg=angle_deg)
    turn = np.exp(-1j * math.radians(angle_deg))
    places = [(complex(x, y) - (1 + 2j)) * turn for mark in marks for x, y in mark]
    assert min(p.real for p in places) == pytest.approx(0.0, abs=1e-12)
    assert max(p.real for p in places) == pytest.approx((5.5 + 4.0) * 0.2, abs=1e-12)
    assert (min(p.imag for p in places), max(p.imag for p in places)) == pytest.approx((0.0, 0.6), abs=1e-12)


@pytest.fixture(scope="module")
def engraved(alder, dogwood):
    return engravings(alder, dogwood)


def engravings(alder, dogwood, *, each=1):
    """File and what is wanted of it, of a window in inches and a plug in millimeters; of so many marks one."""
    made = []
    for job, mill, unit in ((alder, "1/8 in", "in"), (dogwood, "1/4 in", "mm")):
        template = job.template.model_copy(update={"blank": (inches(14.0), inches(14.0))})
        layout = lay_out(job.model_copy(update={"template": template}))
        shop = machine(units=unit, mill=mill, engraves=True)
        marks = template_engraving(making_of(layout), date="2026-03-01")[::each]
        path = toolpath(making_of(layout), shop, marks)
        run = next(run for run in path.runs if run.tool.kind == "engraver")
        text = ngc_of(run, unit=unit, safe_in=0.75, remarks=["A JOB"])
        made.append((text, Wanted(shop, run.tool, path.blank.thickness_in, (), (), run.marks), marks))
    return made


def test_engraving_comes_after_drilling_and_before_anything_is_cut_free(alder):
    template = alder.template.model_copy(update={"blank": (inches(14.0), inches(14.0))})
    layout = lay_out(alder.model_copy(update={"template": template}))
    marks = template_engraving(making_of(layout), date="2026-03-01")
    path = toolpath(making_of(layout), machine(engraves=True), marks)
    assert [run.tool.kind for run in path.runs] == ["drill", "engraver", "end mill"]
    assert len(path.runs[1].marks) == len(marks)
    bare = toolpath(making_of(layout), machine(), marks)
    assert [run.tool.kind for run in bare.runs] == ["drill", "end mill"]


def test_every_mark_is_followed_at_one_depth(engraved):
    for text, wanted, marks in engraved:
        trace = retrace(text)
        refuse_wrong_trace(trace, wanted)
        fed = [stroke for stroke in trace.actions if not stroke.is_rapid and stroke.run_in]
        assert {round(stroke.end[2], 5) for stroke in fed} == {-0.006}
        length = sum(math.dist(a, b) for mark in marks for a, b in pairwise(mark))
        assert sum(stroke.run_in for stroke in fed) == pytest.approx(length, abs=1e-3)


def test_spoilt_files_are_refused(alder, dogwood):
    """One number of one line changed by more than noise, one line left out, or one said twice, in 300 short files."""
    engraved = engravings(alder, dogwood, each=6)
    assert all(len(marks) > 40 for *_, marks in engraved)
    chance = random.Random(5)
    missed = []
    for count in range(300):
        text, wanted, _ = engraved[count % 2]
        lines = text.splitlines()
        first = next(k for k, line in enumerate(lines) if line.startswith("G0 X"))
        place = chance.randrange(first, len(lines) - 4)
        words = lines[place].split()
        kind = count % 3
        if kind == 0:
            index = chance.randrange(1, len(words))
            letter, value = words[index][0], float(words[index][1:])
            words[index] = f"{letter}{value + chance.choice((-1, 1)) * chance.uniform(0.01, 0.4):.5f}"
            lines[place] = " ".join(words)
        elif kind == 1:
            del lines[place]
        else:
            lines.insert(place, lines[place])
        try:
            refuse_wrong_trace(retrace("\n".join(lines) + "\n"), wanted)
        except ExportError:
            continue
        missed.append((kind, lines[place - 1 : place + 2]))
    assert missed == []


def test_a_mark_left_out_is_refused(engraved):
    text, wanted, _ = engraved[0]
    changed = Wanted(
        wanted.machine, wanted.tool, wanted.thickness_in, (), (), (*wanted.marks, wanted.marks[0])
    )
    with pytest.raises(ExportError, match="runs are cut"):
        refuse_wrong_trace(retrace(text), changed)


def test_marks_with_a_tool_that_does_not_engrave_are_refused(engraved):
    text, wanted, _ = engraved[0]
    shop = wanted.machine
    other = shop.tools[1].model_copy(update={"number": 3, "spindle": 9000})
    with pytest.raises(ExportError, match="does not engrave"):
        refuse_wrong_trace(retrace(text), Wanted(shop, other, wanted.thickness_in, (), (), wanted.marks))


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [('depth = ".006 in"', 'depth = ".063 in"', "half of the blank"), ('".25 in"', '".005 in"', "reach")],
)
def test_a_depth_that_will_not_do_is_refused(alder, old, new, words, monkeypatch):
    assert old in ENGRAVER
    assert "number = 3" not in TEXT
    monkeypatch.setattr("making.machines.ENGRAVER", ENGRAVER.replace(old, new))
    template = alder.template.model_copy(update={"blank": (inches(14.0), inches(14.0))})
    layout = lay_out(alder.model_copy(update={"template": template}))
    with pytest.raises(JobError, match=words):
        toolpath(making_of(layout), machine(engraves=True), template_engraving(making_of(layout), date=""))
