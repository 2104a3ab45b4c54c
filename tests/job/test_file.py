"""Reading and editing job files: all faults at once, comments kept, and nothing ends in a traceback."""

from __future__ import annotations

import json
import os
import re
import stat

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchwright.errors import JobError
from hatchwright.job.file import edited, load_job, read_job
from hatchwright.job.text_file import load_text, save_text
from hatchwright.layout.lay_out import lay_out
from tests.told import remedy_of


def faults_of(text: str) -> dict[str, tuple[int | None, str, str]]:
    with pytest.raises(JobError) as caught:
        read_job(text)
    return {fault.field: (fault.line, fault.given, remedy_of(fault)) for fault in caught.value.faults}


def line_of(text: str, part: str) -> int:
    return next(number for number, line in enumerate(text.splitlines(), start=1) if part in line)


def test_all_faults_are_reported_together_with_line_field_given_and_remedy(alder_text):
    bad = (
        alder_text.replace('width = "5.00"', 'width = "1,000"')
        .replace('thickness = ".040"', 'thickness = "-.040"')
        .replace('alloy = "2024"', "alloy = 2024", 1)
        .replace('serial = "0001"', "serial = 5")
        .replace('reference = "M-101"', 'referense = "M-101"')
    )
    faults = faults_of(bad)
    assert set(faults) == {
        "opening.width",
        "doubler.thickness",
        "skin.alloy",
        "aircraft.serial",
        "mandate.referense",
    }
    assert faults["opening.width"][:2] == (line_of(bad, '"1,000"'), "1,000")
    assert faults["doubler.thickness"][0] == line_of(bad, '"-.040"')
    assert faults["mandate.referense"][0] == line_of(bad, "referense")
    assert all(remedy for _, _, remedy in faults.values())


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('pitch = ".62"', 'pitch = "0"', "rows.0.pitch"),
        ('thickness = ".032"', "thickness = nan", "skin.thickness"),
        ('thickness = ".032"', "thickness = inf", "skin.thickness"),
        ('thickness = ".032"', "thickness = -1", "skin.thickness"),
        ('width = "5.00"', 'width = "12"', "opening"),
        ('width = "5.00"', 'width = "5 kg"', "opening.width"),
        ('radius = ".75"', 'radius = "2.5"', "opening.radius"),
        ('thickness = ".032"', 'thickness = "-30"', "skin.thickness"),
        ('width = "5.00"', 'width = "F"', "opening.width"),
        ('center = ["5.50"', 'center = ["#30"', "opening.center"),
        ('side = "left"', 'side = "port"', "aircraft.side"),
        ('x = "OUTBD"', 'x = "UP"', "frame.x"),
        ('y = "AFT"', 'y = "INBD"', "frame.y"),
        ('lay = "line"', 'lay = "arc"', "rows.0"),
        ('end = ["8.28", "6.98"]', 'end = ["8.280", "2.02"]', "rows.0.end"),
        ("first_number = 1\n", "first_number = 0\n", "rows.0.first_number"),
        ('lay = "line"', 'lay = "points"\npoints = [["1", "2"], ["1"]]', "rows.0.points.1"),
        ('guide = ".500"', 'guide = ".1"', "cutter.guide"),
        ("[template]\n", "[template]\nflexed = true\n", "template.flexed"),
        ('gap = ".030"', 'lap = ".030"', "cover"),
        ("schema = 2", "schema = 99", "schema"),
        ("schema = 2", "", "schema"),
        ("[skin]", "[skins]", "skins"),
        ('[1, "8.283", "2.020"]', '[2, "8.283", "2.020"]', "as_made.holes"),
        ('[1, "8.283", "2.020"]', '[1, "8.283"]', "as_made.holes.0"),
        ('width = "7.00"', 'width = "4.00"', "doubler.outer"),
    ],
)
def test_each_fault_names_its_field(alder_text, old, new, field):
    assert old in alder_text
    assert field in faults_of(alder_text.replace(old, new, 1))


def test_a_diameter_may_be_a_drill(alder_text):
    job = read_job(
        alder_text.replace('guide = ".500"', 'guide = "F"').replace('end_mill = "1/8"', 'end_mill = "-30"')
    )
    assert job.cutter.guide.inch == 0.257
    assert job.template.end_mill.inch == 0.1285


@pytest.mark.parametrize("file", ["../secret.dxf", "/etc/passwd", "a\\\\b.dxf"])
def test_a_dxf_outside_the_folder_is_refused(alder_text, file, tmp_path):
    start, end = alder_text.index("[opening]"), alder_text.index("[doubler]")
    text = alder_text[:start] + f'[opening]\nshape = "dxf"\nfile = "{file}"\n\n' + alder_text[end:]
    with pytest.raises(JobError) as caught:
        read_job(text, folder=tmp_path)
    assert caught.value.faults[0].field == "opening.file"


def test_a_fault_of_the_text_itself_names_its_line():
    with pytest.raises(JobError, match="line 2"):
        read_job('schema = 2\ntitle = "never closed\n')


def test_missing_file_folder_binary_and_huge_file_are_refused(tmp_path):
    (tmp_path / "binary.toml").write_bytes(bytes(range(256)))
    (tmp_path / "nul.toml").write_bytes(b"a = 1\0")
    with open(tmp_path / "huge.toml", "wb") as huge:
        huge.truncate(100_000_000)
    for name in ("missing.toml", "binary.toml", "nul.toml", "huge.toml", "."):
        with pytest.raises(JobError) as caught:
            load_job(tmp_path / name)
        assert remedy_of(caught.value.faults[0])


def test_editing_keeps_comments_order_and_typed_text(alder_text):
    changed = edited(
        alder_text, {"opening.width": "5 1/64", "rows.0.pitch": "15 mm", "opening.center.0": "5.52"}
    )
    before, after = alder_text.splitlines(), changed.splitlines()
    assert len(before) == len(after)
    differing = [(old, new) for old, new in zip(before, after, strict=True) if old != new]
    assert differing == [
        ('width = "5.00"', 'width = "5 1/64"'),
        ('center = ["5.50", "4.50"]', 'center = ["5.52", "4.50"]'),
        ('pitch = ".62"', 'pitch = "15 mm"'),
    ]
    job = read_job(changed)
    assert job.opening.width.text == "5 1/64"
    assert job.opening.width.inch == 5.015625


def test_editing_a_field_that_is_not_there_is_refused(alder_text):
    with pytest.raises(JobError, match="no such entry"):
        edited(alder_text, {"window.width": "5"})


def test_what_was_typed_goes_back_as_it_came(alder):
    dumped = alder.model_dump(by_alias=True)
    assert dumped["skin"]["thickness"] == ".032"
    assert dumped["opening"]["center"] == ["5.50", "4.50"]


def test_saving_replaces_the_file_whole_and_keeps_its_mode(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text("old")
    os.chmod(path, 0o640)
    save_text(path, "new")
    assert path.read_text() == "new"
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    assert [p.name for p in tmp_path.iterdir()] == ["job.toml"]


def test_a_bare_number_takes_the_unit_of_the_job(alder_text):
    fractions_marked = re.sub(r'"(\d+/\d+)"', r'"\1 in"', alder_text)
    fractions_marked = fractions_marked.replace("1/16 in", ".06")
    for thin in (".032", ".0315", ".193", ".500"):  # no sheet, and no cut, in millimeters
        fractions_marked = fractions_marked.replace(f'"{thin}"', f'"{thin} in"')
    metric = read_job(fractions_marked.replace('units = "in"', 'units = "mm"').replace('".040"', '"1,0"'))
    assert metric.doubler.thickness.inch == pytest.approx(1.0 / 25.4)


LINES = st.sampled_from(
    [
        "[skin]",
        "[[rows]]",
        "thickness = ",
        'alloy = "2024"',
        "= 5",
        "[opening",
        "center = [1",
        '"""',
        "}",
        "a.b.c = {x = 1}",
    ]
)


@pytest.mark.property
@settings(deadline=None, max_examples=600)
@given(st.lists(st.one_of(LINES, st.text(max_size=20)), max_size=8))
def test_any_text_is_read_or_refused(lines):
    text = "schema = 2\n" + "\n".join(lines)
    with pytest.raises(JobError) as caught:
        read_job(text)
    assert caught.value.faults


SHORT = """
schema = 2
title = "short"
aircraft = { side = "left", surface = "lower" }
frame = { origin = "here", x = "OUTBD", y = "AFT" }
skin = { alloy = "2024", temper = "T3", thickness = ".032", stressed = true }
opening = { shape = "rounded rectangle", width = "4", height = "4", radius = "1", center = ["0", "0"] }
rows = [{ name = "row", lay = "offset", rivet = "MS20470AD4", edge = "opening", distance = ".3", pitch = ".6" }]
"""
LENGTHS = ('"4", height', ".032", '".3"', '".6"', '"1", center', '["0", "0"]')
VALUES = st.one_of(
    st.text(max_size=12), st.floats().map(str), st.integers().map(str), st.text('#./-+, 0159٣"', max_size=6)
)


@pytest.mark.property
@settings(deadline=None, max_examples=1000)
@given(place=st.sampled_from(LENGTHS), value=VALUES)
def test_any_value_of_a_length_is_read_or_refused(place, value):
    quoted = json.dumps(value)
    new = (
        place.replace('"0"', quoted, 1)
        if "[" in place
        else place.replace(re.findall(r'"?[\d.]+"?', place)[0], quoted)
    )
    text = SHORT.replace(f'"{place}"' if place == ".032" else place, new, 1)
    try:
        job = read_job(text)
        lay_out(job)
    except JobError as error:
        assert all(fault.field and remedy_of(fault) for fault in error.faults)


def test_a_byte_order_mark_does_not_matter(tmp_path, alder_text):
    path = tmp_path / "job.toml"
    path.write_bytes(b"\xef\xbb\xbf" + alder_text.encode())
    assert load_text(path) == alder_text


def test_a_bare_drill_number_is_asked_about(alder_text):
    with pytest.raises(JobError) as refused:
        read_job(edited(alder_text, {"template.pin": "40"}))
    (fault,) = refused.value.faults
    assert (fault.field, remedy_of(fault)) == ("template.pin", "Write #40, or 40 in.")


def test_an_unknown_unit_is_told_with_those_that_are_known(alder_text):
    with pytest.raises(JobError) as refused:
        read_job(edited(alder_text, {"units": "inch"}))
    (fault,) = refused.value.faults
    assert (fault.field, fault.given, remedy_of(fault)) == ("units", "inch", "Use in or mm.")


@pytest.mark.parametrize(
    ("opening", "fields"),
    [
        ('shape = "obround"\nlength = "3"\nwidth = "4"', {"opening.center", "opening.length"}),
        (
            'shape = "D"\nwidth = "1.5"\nheight = "4"\nradius = ".2"',
            {"opening.center", "opening.width"},
        ),
        ('shape = "circle"\ndiameter = "0"', {"opening.center", "opening.diameter"}),
    ],
)
def test_all_faults_of_an_opening_are_told_together(alder_text, opening, fields):
    """A D wants at least half its height and its corner radius in width: 2.2 in here."""
    start, end = alder_text.index("[opening]"), alder_text.index("[doubler]")
    assert set(faults_of(f"{alder_text[:start]}[opening]\n{opening}\n\n{alder_text[end:]}")) == fields


def test_faults_of_both_outlines_of_a_doubler_are_told_together_and_beside_a_missing_center(alder_text):
    text = alder_text.replace('center = ["5.50", "4.50"]\n', "", 1)
    start, end = text.index("[doubler.outer]"), text.index("[[rows]]")
    outlines = "".join(
        f'[doubler.{name}]\nshape = "rounded rectangle"\nwidth = "4"\nheight = "4"\nradius = "9"\n'
        for name in ("outer", "inner")
    )
    faults = faults_of(text[:start] + outlines + text[end:])
    assert set(faults) == {"opening.center", "doubler.outer.radius", "doubler.inner.radius"}


def test_a_measured_outline_tells_its_shape_beside_its_missing_center(alder_text):
    start = alder_text.index("[as_made.opening]")
    measured = '[as_made.opening]\nshape = "obround"\nlength = "3"\nwidth = "4"\n'
    faults = faults_of(alder_text[:start] + measured)
    assert set(faults) == {"as_made.opening.center", "as_made.opening.length"}
