"""The figures that a new job asks for: few, each shown in its picture; what is typed is confirmed, the rest follows."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import read_job
from hatchwright.judged import Status
from hatchwright.layout.base_screws import base_screw_holes
from hatchwright.layout.lay_out import lay_out
from hatchwright.page.first_figures import FirstFigures, tile_picture
from hatchwright.workflow.examine import examine
from hatchwright.workflow.new_job import NEW_JOBS, Start, shapes_of, starting_text

STARTS = [Start(kind, shape) for kind in NEW_JOBS for shape in shapes_of(kind)]
_SVG = "{http://www.w3.org/2000/svg}"


def begun(start: Start, **typed: str):
    return read_job(
        FirstFigures(start, {name.replace("__", "."): text for name, text in typed.items()}).text()
    )


@pytest.mark.parametrize("start", STARTS, ids=lambda start: f"{start.kind} {start.shape}")
def test_a_picture_asks_for_few_figures_and_shows_a_letter_for_each(start):
    first = FirstFigures(start, {})
    figures = first.figures()
    assert 5 <= len(figures) <= 9
    letters = [figure.letter for figure in figures]
    drawing = ET.fromstring(first.picture())
    lettered = list(drawing.iter(f"{_SVG}text"))
    assert sorted(one.text for one in lettered) == letters
    at = np.array([[float(one.get("x")), float(one.get("y"))] for one in lettered])
    apart = np.hypot(*(at[:, None] - at[None, :]).transpose(2, 0, 1)) + 1e9 * np.eye(len(at))
    assert apart.min() > 34  # no letter lies on another
    _, _, width, height = map(float, drawing.get("viewBox").split())
    assert ((at > 0) & (at < (width, height))).all()


@pytest.mark.parametrize("kind", NEW_JOBS)
def test_a_picture_shows_every_hole_of_its_layout_and_no_letter_where_none_is_asked(kind):
    layout = lay_out(read_job(starting_text(Start(kind))))
    drawing = ET.fromstring(tile_picture(kind))
    assert len(list(drawing.iter(f"{_SVG}circle"))) == len(layout.holes) + len(base_screw_holes(layout))
    assert list(drawing.iter(f"{_SVG}text")) == []
    assert len(tile_picture(kind)) < 14_000


def test_what_is_typed_is_confirmed_also_where_it_is_what_was_proposed():
    first = FirstFigures(Start(), {"opening.width": "5.7", "opening.center.0": "6"})
    samples = read_job(first.text()).samples
    assert "opening.width" not in samples
    assert {"opening.height", "opening.center"} <= set(samples)  # Y of the center was not typed
    both = FirstFigures(Start(), {"opening.center.0": "6", "opening.center.1": "4"})
    assert "opening.center" not in read_job(both.text()).samples


def test_the_doubler_keeps_its_land_and_the_screws_their_spacing_as_the_opening_grows():
    before, after = (
        read_job(starting_text(Start())),
        begun(Start(), opening__width="6.7", opening__radius="1"),
    )
    for edge in ("outer", "inner"):
        old, new = getattr(before.doubler, edge), getattr(after.doubler, edge)
        assert (new.width.inch - old.width.inch, new.radius.inch - old.radius.inch) == pytest.approx(
            (1.0, 0.25)
        )
        assert new.height == old.height
    assert (before.cover.screws.count, after.cover.screws.count) == (14, 15)  # 20.6 in of edge, then 22.6
    assert "doubler.outer.width" in after.samples


def test_rivets_and_sheets_that_go_together_follow_the_one_that_was_typed():
    job = begun(
        Start("flush-patch"), skin__thickness=".032", rows__0__rivet="MS20470AD5", opening__center__0="7"
    )
    assert {row.rivet for row in job.rows} == {"MS20470AD5"}
    assert (job.skin.measured.text, job.patch.plug.thickness.text) == (".032", ".032")
    assert [point.at[0].text for point in job.patch.extent] == ["6.2", "7.8"]
    assert {"skin.measured", "rows.1.rivet", "patch.plug.thickness", "patch.extent.0.at"} <= set(job.samples)
    assert not {"skin.thickness", "rows.0.rivet"} & set(job.samples)


def test_a_patch_goes_with_a_center_on_the_other_side_of_the_origin():
    job = begun(Start("flush-patch"), opening__center__0="-6.2", opening__center__1="-4")
    before = read_job(starting_text(Start("flush-patch")))
    center = [at.inch for at in before.opening.center]
    for point, old in zip(job.patch.extent, before.patch.extent, strict=True):
        assert [at.inch for at in point.at] == pytest.approx(
            [old.at[0].inch - 6.2 - center[0], old.at[1].inch - 4 - center[1]]
        )


def test_a_metric_job_takes_bare_millimeters():
    job = begun(Start("lapped-cover", "round", "mm"), opening__diameter="100", skin__thickness="0,8")
    assert job.opening.diameter.inch == pytest.approx(100 / 25.4)
    assert job.doubler.outer.diameter.text == "184"
    assert job.skin.thickness.inch == pytest.approx(0.8 / 25.4)


def test_a_begun_job_is_not_shown_to_pass():
    findings = examine(begun(Start(), opening__width="5"), with_strength=False).findings
    assert [one.status for one in findings if one.code == "R930"] == [Status.UNKNOWN]


@pytest.mark.parametrize("text", ["wide", "-3", "0", "1e9", "5" * 300])
def test_what_is_no_length_is_refused_at_its_box_and_the_picture_stays(text):
    first = FirstFigures(Start(), {"opening.width": text, "opening.height": "4"})
    with pytest.raises(JobError) as refused:
        first.text()
    by_box, others = first.faults_by_box(refused.value.faults)
    assert list(by_box) == ["opening.width"]
    assert first.picture() == FirstFigures(Start(), {}).picture()
    assert all("opening.width" not in fault.field for fault in others)


def test_the_picture_follows_what_is_typed():
    def width_over_height(**typed: str) -> float:
        drawn = (
            FirstFigures(Start(), {f"opening.{name}": text for name, text in typed.items()})
            .picture()
            .decode()
        )
        ((_, steps),) = re.findall(
            r'd="(M[-\d ]+)l([-\d ]+)z" fill="none" stroke="#000" stroke-width="4"', drawn
        )
        steps = np.array(list(map(int, re.findall(r"-?\d+", steps)))).reshape(-1, 2).cumsum(axis=0)
        across, up = np.ptp(np.vstack([steps, [[0, 0]]]), axis=0)
        return across / up

    assert width_over_height() == pytest.approx(5.7 / 4.6, rel=0.02)
    assert width_over_height(width="4.6") == pytest.approx(1.0, rel=0.02)
