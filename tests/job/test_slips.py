"""A text that is not TOML is told line by line, each with its field, what was given and what would do."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchwright.errors import JobError
from hatchwright.job.as_typed import raw_data
from tests.told import remedy_of, what_of

HEAD = "schema = 2\n[skin]\n"


def faults(text: str):
    with pytest.raises(JobError) as caught:
        raw_data(text)
    return caught.value.faults


@pytest.mark.parametrize(
    ("line", "given", "remedy"),
    [
        ("thickness = .032", ".032", 'Write thickness = ".032".'),
        ("thickness = 0,8", "0,8", 'Write thickness = "0,8".'),
        ("thickness = 4 1/2", "4 1/2", 'Write thickness = "4 1/2".'),
        ("thickness = #30", "#30", 'Write thickness = "#30".'),
        ("thickness = 35 mm  # measured", "35 mm", 'Write thickness = "35 mm".'),
        ("thickness = “.032”", "“.032”", 'Write thickness = ".032".'),
        ("stressed = yes", "yes", "Write stressed = true."),
        ("stressed = False", "False", "Write stressed = false."),
        ("thickness =", "", "Write one in quotes, or delete the line."),
        ('thickness = ".032', '".032', "on one line."),
        ("size = [.5, 3]", "[.5, 3]", 'Write it as ["5.50", "4 1/2"].'),
        ('alloy: "2024"', 'alloy: "2024"', 'Write it as thickness = ".032".'),
        ('file = "C:\\jobs\\bay.dxf"', '"C:\\jobs\\bay.dxf"', "Write / instead."),
    ],
)
def test_a_slip_is_named_with_its_line_and_what_would_do(line, given, remedy):
    (fault,) = faults(HEAD + line)
    assert fault.line == 3
    assert fault.given == given
    assert remedy_of(fault).endswith(remedy)
    assert fault.field.removeprefix("skin.") == line.split()[0].strip(":=")


def test_what_would_do_does():
    (fault,) = faults(HEAD + "thickness = 4 1/2")
    mended = remedy_of(fault).removeprefix("Write ").removesuffix(".")
    assert raw_data(HEAD + mended)["skin"]["thickness"] == "4 1/2"


def test_all_slips_are_told_together():
    found = faults(HEAD + 'thickness = .032\nalloy = "2024"\nstressed = yes\nalloy = "7075"')
    assert [(fault.line, fault.field) for fault in found] == [
        (3, "skin.thickness"), (5, "skin.stressed"), (6, "skin.alloy"),
    ]  # fmt: skip
    assert "on line 4" in what_of(found[-1])


def test_a_section_that_stands_twice_is_named():
    (fault,) = faults('[skin]\nalloy = "2024"\n[frame]\n[skin]\n')
    assert (fault.field, fault.line) == ("skin", 4)


def test_lines_inside_a_list_or_a_long_text_are_no_slips():
    text = 'a = [\n  "1",\n  2.5,\n]\nb = """\nno entry here\n"""\nc = .5\n'
    (fault,) = faults(text)
    assert (fault.field, fault.line) == ("c", 8)


def test_an_open_bracket_is_told_with_its_line():
    (fault,) = faults('points = [\n["1", "2"],\n["3" "4"]\n]\n')
    assert fault.line == 3
    assert "bracket" in remedy_of(fault)


@pytest.mark.property
@given(st.text(alphabet="ab =.,\"'[]#\n\\0123/-{}", max_size=60))
def test_whatever_is_typed_it_is_read_or_told(text):
    try:
        tomllib.loads(text, parse_float=str)
    except tomllib.TOMLDecodeError:
        assert all(what_of(fault) and remedy_of(fault) for fault in faults(text))
    else:
        raw_data(text)
