"""Where rows of holes lie: offsets with even bays and forced corners, lines, points, and screws."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.errors import JobError, UnlistedError
from hatchwright.job.file import edited, read_job
from hatchwright.layout import fastener_pattern
from hatchwright.layout.lay_out import lay_out
from hatchwright.shapes.stations import stations
from tests.told import remedy_of, what_of

JOB = """
schema = 2
title = "pattern"
[aircraft]
side = "left"
surface = "lower"
[frame]
origin = "here"
x = "OUTBD"
y = "AFT"
[skin]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".032"
stressed = true
[opening]
shape = "rounded rectangle"
width = "6"
height = "4"
radius = "1"
center = ["0", "0"]
[doubler]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".040"
[doubler.outer]
shape = "rounded rectangle"
width = "8"
height = "6"
radius = "2"
[[rows]]
name = "ring"
lay = "offset"
rivet = "MS20470AD4"
edge = "opening"
distance = ".5"
pitch = "1.0"
"""


def laid(text=JOB, **changes):
    fields = {key.replace("__", "."): value for key, value in changes.items()}
    return lay_out(read_job(edited(text, fields)))


def points(layout, row="ring"):
    return np.array([(hole.x_in, hole.y_in) for hole in layout.rows()[row]])


def corner_gap(point, *, half_x, half_y, radius):
    """Distance from a point to a rounded rectangle about the origin, by its closed form."""
    q = np.abs(point) - np.array([half_x - radius, half_y - radius])
    return float(np.hypot(*np.maximum(q, 0.0)) + min(max(q), 0.0) - radius)


def test_a_row_follows_the_offset_and_no_bay_is_longer_than_the_pitch():
    found = points(laid())
    assert all(corner_gap(p, half_x=3, half_y=2, radius=1) == pytest.approx(0.5, abs=1e-9) for p in found)
    along = 2 * (4.0 + 2.0) + 2 * math.pi * 1.5
    assert len(found) == math.ceil(along)
    chords = np.hypot(*(found - np.roll(found, 1, axis=0)).T)
    assert chords.max() <= along / len(found) + 1e-12


def test_forced_corner_middles_and_tangents_carry_holes():
    middle = (2.0 + 1.5 / math.sqrt(2), 1.0 + 1.5 / math.sqrt(2))
    found = points(laid(JOB + 'corners = "middles"\n'))
    for sign_x in (1, -1):
        for sign_y in (1, -1):
            assert np.min(np.hypot(*(found - np.array(middle) * [sign_x, sign_y]).T)) < 1e-9
    found = points(laid(JOB + 'corners = "tangents"\n'))
    for place in ((2.0, 2.5), (3.5, 1.0), (-2.0, -2.5), (-3.5, 1.0)):
        assert np.min(np.hypot(*(found - np.array(place)).T)) < 1e-9


def test_forced_rows_are_symmetric_about_both_axes():
    found = points(laid(JOB + 'corners = "middles"\n'))
    for mirror in ([-1, 1], [1, -1]):
        apart = np.hypot(*(found[:, None, :] - (found * mirror)[None, :, :]).transpose(2, 0, 1))
        assert apart.min(axis=0).max() < 1e-9


def test_a_staggered_row_lies_half_a_bay_on():
    plain, moved = points(laid(JOB + "stagger = false\n")), points(laid(JOB + "stagger = true\n"))
    assert len(plain) == len(moved)
    bay = (2 * (4.0 + 2.0) + 2 * math.pi * 1.5) / len(plain)
    nearest = np.hypot(*(moved[:, None, :] - plain[None, :, :]).transpose(2, 0, 1)).min(axis=1)
    assert nearest.max() <= bay / 2 + 1e-9
    assert nearest.min() > 0.45 * bay


def test_a_row_follows_the_doubler_s_edges():
    found = points(laid(rows__0__edge="doubler outer"))
    assert all(corner_gap(p, half_x=4, half_y=3, radius=2) == pytest.approx(-0.5, abs=1e-9) for p in found)


LINE = """
[[rows]]
name = "line"
lay = "line"
rivet = "MS20470AD4"
start = ["5", "-1"]
end = ["5", "1"]
pitch = ".62"
"""


def test_a_line_is_divided_evenly_both_ends_included():
    found = points(laid(JOB + LINE), "line")
    assert len(found) == math.ceil(2 / 0.62) + 1
    assert found[0].tolist() == [5, -1]
    assert found[-1].tolist() == [5, 1]
    assert np.ptp(np.diff(found[:, 1])) < 1e-12
    counted = points(laid(JOB + LINE.replace('pitch = ".62"', "count = 3")), "line")
    assert counted.tolist() == [[5, -1], [5, 0], [5, 1]]


def test_numbers_run_on_unless_a_row_gives_its_own():
    layout = laid(JOB + LINE + "first_number = 101\n")
    ring = layout.rows()["ring"]
    assert [hole.number for hole in ring] == list(range(1, len(ring) + 1))
    assert layout.rows()["line"][0].number == 101
    with pytest.raises(JobError, match="already used") as caught:
        laid(JOB + LINE + "first_number = 3\n")
    assert caught.value.faults[0].field == "rows.1.first_number"


def test_a_row_that_falls_off_is_refused_with_its_field():
    with pytest.raises(JobError) as caught:
        laid(rows__0__edge="doubler outer", rows__0__distance="4")
    assert caught.value.faults[0].field == "rows.0.distance"


def test_a_rivet_that_no_table_lists_keeps_its_places_and_has_no_size():
    layout = laid(rows__0__rivet="BOLT")
    listed = laid()
    assert [(hole.x_in, hole.y_in) for hole in layout.holes] == [
        (hole.x_in, hole.y_in) for hole in listed.holes
    ]
    assert {(hole.fastener, hole.nominal_in) for hole in layout.holes} == {("BOLT", None)}
    with pytest.raises(UnlistedError, match="BOLT isn't in the tables"):
        _ = layout.holes[0].diameter_in


COVER = """
[cover]
fit = "lapped"
alloy = "2024"
temper = "T3"
thickness = ".040"
lap = ".75"
[cover.screws]
size = "8-32"
head = "pan"
nut = "clip nut"
inset = ".375"
pitch = "2"
"""


@pytest.mark.parametrize("pitch", [".0005", ".00002"])
@pytest.mark.parametrize(
    ("text", "field"),
    [
        pytest.param(JOB, "rows.0.pitch", id="all round"),
        pytest.param(JOB + LINE, "rows.1.pitch", id="on a line"),
        pytest.param(JOB + COVER, "cover.screws.pitch", id="screws all round"),
        pytest.param(JOB + COVER + "straights_only = true\n", "cover.screws.pitch", id="screws on straights"),
    ],
)
def test_a_tiny_pitch_is_refused_before_a_hole_is_laid(monkeypatch, text, field, pitch):
    def no_more_than_any_opening_has(bays):
        assert bays <= 2001
        return range(bays)

    def at_a_sound_pitch(path, *, pitch_in, **others):
        assert pitch_in > 0.001
        return stations(path, pitch_in=pitch_in, **others)

    monkeypatch.setattr(fastener_pattern, "stations", at_a_sound_pitch)
    monkeypatch.setattr(fastener_pattern, "range", no_more_than_any_opening_has, raising=False)
    with pytest.raises(JobError, match="Check the pitch and its unit") as caught:
        laid(text, **{field: pitch})
    assert [(fault.field, fault.given) for fault in caught.value.faults] == [(field, pitch)]
    assert "2000 holes" in what_of(caught.value.faults[0])


@pytest.mark.parametrize(
    ("text", "field"),
    [
        (JOB + LINE.replace('pitch = ".62"', "count = 2001"), "rows.1.count"),
        (JOB + COVER.replace('pitch = "2"', "count = 2001"), "cover.screws.count"),
    ],
)
def test_a_count_beyond_any_opening_is_refused_at_the_count(text, field):
    with pytest.raises(JobError) as caught:
        laid(text)
    assert [(fault.field, fault.given) for fault in caught.value.faults] == [(field, "2001")]


def test_many_rows_of_many_holes_are_refused_too():
    unlisted = LINE.replace("MS20470AD4", "BOLT-4")  # of which nobody knows how large its hole is
    rows = "".join(unlisted.replace("line", f"line {n}", 1).replace('".62"', '".002"') for n in range(3))
    with pytest.raises(JobError, match="more than 2000 holes") as caught:
        laid(JOB + rows)
    assert caught.value.faults[0].field == "rows.2"


def test_a_screw_that_no_table_lists_keeps_its_places_and_has_no_size():
    screws = laid(JOB + COVER.replace("8-32", "99-99")).holes_of("screw")
    assert len(screws) == len(laid(JOB + COVER).holes_of("screw"))
    assert {hole.nominal_in for hole in screws} == {None}


def test_dogwood_answer_3_twelve_screws_on_the_straights(dogwood):
    screws = np.array([(hole.x_in, hole.y_in) for hole in lay_out(dogwood).holes_of("screw")])
    assert len(screws) == 12
    long_side = np.sort(screws[np.abs(screws[:, 1] - 1.875) < 1e-9][:, 0])
    assert np.diff(long_side) == pytest.approx([2.29, 2.29, 2.29], abs=0.005)
    short_side = np.sort(screws[np.abs(screws[:, 0] - 4.375) < 1e-9][:, 1])
    assert np.diff(short_side) == pytest.approx([1.875])


def test_alder_screws_are_even_and_symmetric(alder_drawn):
    layout = lay_out(alder_drawn)
    screws = np.array([(hole.x_in, hole.y_in) for hole in layout.holes_of("screw")]) - layout.center_in
    assert len(screws) == 16
    for mirror in ([-1, 1], [1, -1]):
        apart = np.hypot(*(screws[:, None, :] - (screws * mirror)[None, :, :]).transpose(2, 0, 1))
        assert apart.min(axis=0).max() < 1e-9
    gaps = [corner_gap(p, half_x=2.47, half_y=1.97, radius=0.72) for p in screws]
    assert gaps == pytest.approx([-0.31] * 16, abs=1e-9)


def test_stacks_from_outside(alder_drawn, dogwood):
    layout = lay_out(alder_drawn)
    assert {hole.stack for hole in layout.holes_of("rivet")} == {("skin", "doubler")}
    assert {hole.stack for hole in layout.holes_of("screw")} == {("cover", "doubler")}
    assert {hole.stack for hole in lay_out(dogwood).holes} == {("cover", "skin")}


def test_measured_holes_stand_in_the_place_of_drawn_ones(alder):
    layout = lay_out(alder)
    hole = next(hole for hole in layout.holes if hole.number == 4)
    assert (hole.x_in, hole.y_in, hole.uncertainty_in, hole.is_made) == (8.260, 3.884, 0.005, True)
    assert sum(hole.is_made for hole in layout.holes) == 17
    assert layout.opening.bounds == pytest.approx((2.996, 2.497, 8.012, 6.508))
    assert layout.wanted.bounds == pytest.approx((3.0, 2.5, 8.0, 6.5))


def test_a_measured_hole_that_the_job_does_not_know_is_refused(alder_text):
    with pytest.raises(JobError, match="no hole 999"):
        lay_out(read_job(alder_text.replace('[4, "8.260"', '[999, "8.260"')))


def test_measured_holes_that_a_shortened_row_lost_are_told_in_one_fault_with_the_rows(alder_text):
    """ALDER's first row runs 4.96 in at a pitch of .62: holes 1 to 9; at 2.0 it has 1 to 4."""
    with pytest.raises(JobError) as caught:
        lay_out(read_job(alder_text.replace('pitch = ".62"', 'pitch = "2"', 1)))
    (fault,) = caught.value.faults
    assert fault.field == "as_made.holes"
    assert "hole 5, 6, 7, 8, 9" in what_of(fault)
    assert "outboard, inner 1 to 4;" in remedy_of(fault)
