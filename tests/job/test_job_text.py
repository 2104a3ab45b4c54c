"""The text of a job changes only where it is meant to, and comments stay."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchwright.errors import JobError
from hatchwright.job.as_typed import raw_data
from hatchwright.job.job_text import added, retyped, taken

TEXT = """# head
schema = 2  # number
[skin]
thickness = ".032"  # as bought
size = ["1", "2"] # a pair
# before the rows
[[bay.rows]]
name = "one"

[[bay.rows]]
name = "two"  # the second
# about the opening
[opening]
shape = "circle"
points = [
  ["1", "2"],  # first
  ["3", "4"],
]
"""


def lines_changed(before: str, after: str) -> list[str]:
    old, new = before.splitlines(), after.splitlines()
    return [f"-{line}" for line in old if line not in new] + [f"+{line}" for line in new if line not in old]


def test_a_text_is_retyped_on_its_own_line():
    assert lines_changed(TEXT, retyped(TEXT, "skin.thickness", '5" x') or "") == [
        '-thickness = ".032"  # as bought',
        '+thickness = "5\\" x"  # as bought',
    ]
    assert lines_changed(TEXT, retyped(TEXT, "skin.size.1", "9") or "")[1] == '+size = ["1", "9"] # a pair'
    assert (
        lines_changed(TEXT, retyped(TEXT, "bay.rows.1.name", "zwei") or "")[1]
        == '+name = "zwei"  # the second'
    )


@pytest.mark.parametrize(
    "field", ["schema", "opening.points.1.0", "skin.none", "nothing", "bay.rows.7.name", "skin.size.5"]
)
def test_what_takes_more_than_its_own_line_is_left_to_the_thorough_way(field):
    assert retyped(TEXT, field, "x") is None


@pytest.mark.property
@given(st.text(max_size=30))
@settings(deadline=None)
def test_any_text_that_is_retyped_reads_back_and_changes_nothing_else(value):
    changed = retyped(TEXT, "skin.thickness", value)
    wanted = tomllib.loads(TEXT)
    wanted["skin"]["thickness"] = value
    assert changed is None or tomllib.loads(changed) == wanted


def test_fields_sections_and_lines_are_added():
    text = added(
        TEXT,
        {
            "skin.measured": ".031",
            "bay.rows.2": {"name": "three"},
            "doubler": {"alloy": "", "outer": {"shape": "circle"}},
        },
    )
    data = tomllib.loads(text)
    assert data["skin"] == {"thickness": ".032", "size": ["1", "2"], "measured": ".031"}
    assert [row["name"] for row in data["bay"]["rows"]] == ["one", "two", "three"]
    assert data["doubler"] == {"alloy": "", "outer": {"shape": "circle"}}
    assert [line for line in TEXT.splitlines() if line not in text.splitlines()] == []


def test_containers_that_are_missing_are_made():
    text = added(
        "schema = 2\n",
        {"bay.keep_outs.0": {"name": "cable"}, "as_made.holes.0": [1, "2", "3"], "gate.tank": False},
    )
    assert tomllib.loads(text) == {
        "schema": 2,
        "bay": {"keep_outs": [{"name": "cable"}]},
        "as_made": {"holes": [[1, "2", "3"]]},
        "gate": {"tank": False},
    }


@pytest.mark.parametrize("place", ["bay.rows.9", "skin.thickness.deeper", "bay.rows.x"])
def test_a_place_that_cannot_take_anything_is_refused(place):
    with pytest.raises(JobError):
        added(TEXT, {place: "x"})


def test_taking_away_keeps_the_comments_of_what_follows():
    text = taken(TEXT, ["bay.rows.1", "skin.size", "opening.points.0"])
    assert "# about the opening" in text
    assert "# before the rows" in text
    assert "the second" not in text
    data = tomllib.loads(text)
    assert data["bay"]["rows"] == [{"name": "one"}]
    assert "size" not in data["skin"]
    assert data["opening"]["points"] == [["3", "4"]]


def test_a_whole_section_goes_with_all_its_parts():
    text = added(TEXT, {"doubler": {"alloy": "", "outer": {"shape": "circle"}}})
    assert tomllib.loads(taken(text, ["doubler"])) == tomllib.loads(TEXT)
    assert tomllib.loads(taken(TEXT, ["bay.rows"])).get("bay") is None


def test_what_is_not_there_is_left_alone():
    assert taken(TEXT, ["nothing", "skin.none", "bay.rows.9", "opening.points.7"]) == TEXT


def test_text_that_is_not_toml_is_refused_with_its_place():
    with pytest.raises(JobError, match="line 2"):
        raw_data('a = 1\nb = "\n')


def test_a_new_key_stands_in_its_section_before_the_comments_of_the_next():
    changed = added(TEXT, {"skin.measured": ".031", "bay.rows.1.x": "1 3/8"})
    assert lines_changed(TEXT, changed) == ['+measured = ".031"', '+x = "1 3/8"']
    lines = changed.splitlines()
    assert lines[lines.index('measured = ".031"') + 1] == "# before the rows"
    assert lines[lines.index('x = "1 3/8"') + 1] == "# about the opening"


def test_a_key_that_is_commented_out_is_opened_where_it_stands():
    text = TEXT.replace("# before", '# pilot = "#40"  # a drill\n#stressed = false\n# before')
    changed = added(text, {"skin.pilot": "#30", "skin.stressed": True})
    assert lines_changed(text, changed) == [
        '-# pilot = "#40"  # a drill',
        "-#stressed = false",
        '+pilot = "#30"  # a drill',
        "+stressed = true",
    ]
    assert tomllib.loads(changed)["skin"]["pilot"] == "#30"
