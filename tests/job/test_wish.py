"""What a proposal may choose from, as it is entered: what is read, and each impossible wish refused by its name."""

from __future__ import annotations

from pathlib import Path

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import read_job

BIRCH = (Path(__file__).parents[2] / "examples" / "birch.toml").read_text(encoding="utf-8")
"""Skin .025, rows at X 0 and 6."""


def refused(entries: str) -> str:
    with pytest.raises(JobError) as caught:
        read_job(f"{BIRCH}[wish]\n{entries}\n")
    return str(caught.value)


def test_without_a_wish_all_stays_as_the_job_has_it() -> None:
    wish = read_job(BIRCH).wish
    assert (wish.passes, wish.rivets, wish.sheets, wish.shift) == ((), (), (), None)
    assert (wish.most_rows, wish.margin, wish.short_holes) == (2, 0.0, 1.0)
    assert wish.step_in("in") == 0.005
    assert wish.step_in("mm") * 25.4 == pytest.approx(0.1)


def test_a_wish_is_read_and_kept_as_typed() -> None:
    text = 'rivets = ["MS20470AD4", "ms20470ad5"]\nsheets = [".032", "1 mm"]\nshift = "1/2"\nstep = ".01"\n'
    wish = read_job(f'{BIRCH}[wish]\n{text}[[wish.passes]]\nwhat = "hand"\n').wish
    assert wish.rivets == ("MS20470AD4", "MS20470AD5")
    assert [sheet.text for sheet in wish.sheets] == [".032", "1 mm"]
    assert wish.step_in("mm") == wish.step_in("in") == 0.01
    assert [one.what for one in wish.passes] == ["hand"]


@pytest.mark.parametrize(
    ("entries", "field", "why"),
    [
        ('rivets = ["MS20470AD44"]', "wish.rivets.0", "no rivet is 44/32 in across"),
        ('rivets = ["HATCH4"]', "wish.rivets.0", "not a solid rivet"),
        ('rivets = ["MS20470AD4-4"]', "wish.rivets.0", "leave the length off"),
        ('sheets = [".032", ".020"]', "wish.sheets.1", "thinner than the skin, .025"),
        ('sheets = ["-.032"]', "wish.sheets.0", "can't be negative"),
        ("most_rows = 3", "wish.most_rows", "more than 2 rows"),
        ('width_from = "4"\nwidth_to = "3"', "wish", "ends before it begins"),
        ('height_from = "4.01"\nheight_to = "4"', "wish", "ends before it begins"),
        ('width_to = "-3"', "wish.width_to", "can't be negative"),
        ('width_from = "6.01"', "wish.width_from", "larger than the bay, 6.000"),
        ('shift = "0"', "wish.shift", "zero"),
        ('step = "nan"', "wish.step", "not a length"),
        ('margin = "-0.1"', "wish.margin", "0 or more"),
        ('short_holes = "0"', "wish.short_holes", "0.001 or more"),
        ('short_holes = "nan"', "wish.short_holes", "number"),
        ('[[wish.passes]]\nwhat = "tool"', "wish.passes.0", "a tool that must go through has no size"),
        (
            '[[wish.passes]]\nwhat = "hand"\nwidth = "3"',
            "wish.passes.0",
            "one of width and height is missing",
        ),
        (
            '[[wish.passes]]\nwhat = "ring"\nwidth = "3"\nheight = "3"',
            "wish.passes.0",
            "as large as the layout",
        ),
        ('[[wish.passes]]\nwhat = "foot"', "wish.passes.0.what", "'hand', 'tool', 'ring' or 'part'"),
    ],
)
def test_an_impossible_wish_is_refused_by_its_name_and_with_what_would_do(entries, field, why) -> None:
    told = refused(entries)
    assert field in told
    assert why in told
    assert told.rstrip().endswith("."), "says what would do instead"


def test_a_range_of_one_size_and_a_sheet_as_thick_as_the_skin_are_sound() -> None:
    wish = read_job(f'{BIRCH}[wish]\nwidth_from = "4"\nwidth_to = "4"\nsheets = [".025"]\n').wish
    assert wish.width_from == wish.width_to
