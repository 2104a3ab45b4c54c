"""Job files of earlier schemas: read for ever, and rewritten in the present one with comments, lines and values kept.

The old texts are written here by hand, as files of schema 1 were. What a rewritten text holds is read with the
standard library's TOML reader.
"""

from __future__ import annotations

import tomllib

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import edited, load_job, read_job
from hatchwright.job.schema import SCHEMA, older_depths, up_to_date
from hatchwright.layout.behind_skin import depth_in
from hatchwright.layout.lay_out import lay_out
from hatchwright.workflow.job_folder import Hand, JobFolder, version_of
from tests.told import what_of

FIRST = """\
# centre = "in a comment" stays, pressurised too
schema = 1  # number
title = 'the "centre" = of it'
notes = \"\"\"
side = "centre"
schema = 1
centre = ["1", "2"]
\"\"\"

[aircraft]
side = "centre"  # as the pilot sits, centre = middle
surface = "lower"
[frame]
origin = "centre"
x = "AFT"
y = "LEFT"
[skin]
alloy = "2024"
temper = "T3"
thickness = ".032"
stressed = true
pressurised = true # cabin
[opening]
shape = "circle"
diameter = "4"
"centre" = ["0", "0"] # on the centre line
[doubler]
alloy = "2024"
temper = "T3"
thickness = ".040"
outer = { shape = "circle", diameter = "8", centre = ["0", "0"] }
"""
"""A job of schema 1 with every place where a name may stand, and with the names where they are no names."""

SOUND = FIRST.replace(FIRST[FIRST.index("notes") : FIRST.index("[aircraft]")], "")
"""The same without the key that no job has."""


def test_a_job_of_schema_1_is_read():
    job = read_job(SOUND)
    assert job.aircraft.side == "center"
    assert job.skin.pressurized is True
    assert [length.text for length in job.opening.center] == ["0", "0"]
    assert [length.text for length in job.doubler.outer.center] == ["0", "0"]


def test_only_names_change_and_only_where_they_are_names():
    new = up_to_date(FIRST)
    changed = [
        (old, now) for old, now in zip(FIRST.splitlines(), new.splitlines(), strict=True) if old != now
    ]
    assert changed == [
        ("schema = 1  # number", "schema = 2  # number"),
        (
            'side = "centre"  # as the pilot sits, centre = middle',
            'side = "center"  # as the pilot sits, centre = middle',
        ),
        ("pressurised = true # cabin", "pressurized = true # cabin"),
        ('"centre" = ["0", "0"] # on the centre line', '"center" = ["0", "0"] # on the centre line'),
        (
            'outer = { shape = "circle", diameter = "8", centre = ["0", "0"] }',
            'outer = { shape = "circle", diameter = "8", center = ["0", "0"] }',
        ),
    ]
    data = tomllib.loads(new)
    assert data["notes"] == tomllib.loads(FIRST)["notes"]
    assert data["title"] == 'the "centre" = of it'
    assert data["frame"]["origin"] == "centre"


@pytest.mark.parametrize("dotted", ["opening.centre = ['1', '2']", "opening . centre=['1','2']"])
def test_dotted_keys_are_renamed(dotted):
    data = tomllib.loads(up_to_date(f"schema = 1\n{dotted}\naircraft.side = 'centre'\n"))
    assert data == {
        "schema": 2,
        "opening": {"center": ["1", "2"]},
        "aircraft": {"side": "center"},
    }


BEHIND = """\
[[bay.keep_outs]]
name = "cable"
x_to = "1"
depth = "1.4"  # measured
[[bay.keep_outs]]
name = "no depth = of it"
x_to = "1"
[[bay.keep_outs]]
name = "wires"
x_to = "1"
depth = ".5"
"""


def test_an_old_depth_is_kept_and_bears_a_note_that_its_face_was_not_said():
    """Schema 1 called it the distance behind the skin: R705 took it from the inner face, R803 and T303 from the outer.
    Taken from the outer face it leaves a skin's thickness less room than the other, and never more."""
    new = up_to_date(SOUND + BEHIND)
    note = "  # from an older file: verify it counts from the OUTER face of the skin"
    marked = [line for line in new.splitlines() if note in line]
    assert marked == [f'depth = "1.4"  # measured{note}', f'depth = ".5"{note}']
    assert len(new.splitlines()) == len((SOUND + BEHIND).splitlines())
    assert up_to_date(new) == new
    job = read_job(SOUND + BEHIND)
    assert [one.depth and one.depth.text for one in job.bay.keep_outs] == ["1.4", None, ".5"]
    room = [depth_in(one, lay_out(job)) for one in job.bay.keep_outs]
    assert room == [1.4, 0.032, 0.5]


def test_it_is_said_of_a_file_of_schema_1_with_depths_and_of_no_other():
    for text, is_said in (
        (SOUND + BEHIND, True),
        (up_to_date(SOUND + BEHIND), False),
        (SOUND, False),
        ("x", False),
    ):
        assert (older_depths(text) is not None) == is_said


def test_a_fault_of_an_old_file_names_its_line():
    with pytest.raises(JobError) as caught:
        read_job(SOUND.replace('"centre" = ["0", "0"]', '"centre" = ["0", "none"]'))
    lines = SOUND.splitlines()
    (fault,) = caught.value.faults
    assert fault.field.startswith("opening.center")
    assert "on the centre line" in lines[fault.line - 1]


@pytest.mark.parametrize(
    "text", ["", "schema = ", "schema = 2\ncentre = 1\n", "schema = 99\ncentre = 1\n", "[a]\n"]
)
def test_what_is_of_no_earlier_schema_stays_as_it_is(text):
    assert up_to_date(text) == text


def test_the_present_schema_knows_the_old_names_no_more():
    with pytest.raises(JobError) as caught:
        read_job(up_to_date(SOUND).replace("pressurized", "pressurised"))
    (fault,) = caught.value.faults
    assert (fault.field, what_of(fault)) == ("skin.pressurised", "unknown key")
    assert SOUND.splitlines()[fault.line - 1].startswith("pressurised")


def test_an_edited_old_file_is_written_in_the_present_schema():
    new = edited(SOUND, {"opening.center.0": "1/2"})
    data = tomllib.loads(new)
    assert data["schema"] == SCHEMA
    assert data["opening"]["center"] == ["1/2", "0"]
    assert "# on the centre line" in new
    assert "# cabin" in new


def test_a_folder_reads_an_old_file_and_the_next_entry_writes_it_anew(tmp_path):
    path = tmp_path / "old.toml"
    path.write_text(SOUND, encoding="utf-8")
    folder = JobFolder(tmp_path)
    text = folder.read("old.toml")
    assert path.read_text(encoding="utf-8") == SOUND, "nothing is written by reading"
    hand = Hand(page="a", serial=1, step="", base=version_of(text))
    folder.enter("old.toml", hand, lambda held: held.replace('"4"', '"4.5"'))
    written = path.read_text(encoding="utf-8")
    assert tomllib.loads(written)["schema"] == SCHEMA
    assert written.count("\n") == SOUND.count("\n")
    assert load_job(path).opening.diameter.text == "4.5"
