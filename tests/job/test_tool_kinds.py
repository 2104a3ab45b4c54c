"""A kind of tool is what its row says; a row that leaves a question open is refused, never taken for another kind."""

from __future__ import annotations

from importlib.resources import files

import pytest

from hatchwright.errors import JobError
from hatchwright.job.cutter import Cutter, HandTool
from hatchwright.job.file import read_job
from hatchwright.job.tool_kinds import BY_HAND, GUIDED, KINDS, read_kinds
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.named import kind_named
from hatchwright.making.cutter.cutter_fit import tool_findings
from hatchwright.making.making import making_of
from hatchwright.making.pins.runs import way_round
from hatchwright.tables.limits import limit
from hatchwright.words.tell import tell
from tests.told import remedy_of

TABLE = files("hatchwright.job").joinpath("tool_kinds.csv").read_text(encoding="utf-8")
SAW = "oscillating saw,yes,no,no,yes,no,no,measured"
"""A kind that is not there: guided, without bites and without a spindle, set in anywhere."""


def test_a_kind_that_is_described_in_full_is_taken():
    saw = read_kinds(f"{TABLE}{SAW}\n")["oscillating saw"]
    assert (saw.guided, saw.bites, saw.spindle_turns, saw.sets_in_anywhere) == (True, False, False, True)


@pytest.mark.parametrize("column", range(1, 8))
def test_a_half_described_kind_is_refused_with_its_name_and_what_is_missing(column):
    cells = SAW.split(",")
    cells[column] = ""
    name = TABLE.splitlines()[0].split(",")[column]
    with pytest.raises(ValueError, match=f"'oscillating saw' is not described in full: {name}"):
        read_kinds(f"{TABLE}{','.join(cells)}\n")


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("oscillating saw,yes,no", "not described in full"),  # the row ends early
        (SAW.replace("yes", "perhaps"), "yes or no"),
        (f"{SAW},more", "not one row"),
        (SAW.replace("oscillating saw", "router"), "not one row"),  # there is one already
        (SAW.replace("oscillating saw", ""), "not one row"),
    ],
)
def test_other_slips_of_a_row_are_refused(row, why):
    with pytest.raises(ValueError, match=why):
        read_kinds(f"{TABLE}{row}\n")


def test_a_column_that_is_missing_or_strange_is_refused():
    with pytest.raises(ValueError, match="the columns must be"):
        read_kinds(TABLE.replace(",bites", "", 1))


def test_every_kind_can_be_entered_and_has_a_name_in_the_catalogue():
    assert set(GUIDED) | set(BY_HAND) == set(KINDS)
    assert set(Cutter.model_json_schema()["properties"]["kind"]["enum"]) == set(GUIDED)
    assert set(HandTool.model_json_schema()["properties"]["kind"]["enum"]) == set(BY_HAND)
    for kind, what in KINDS.items():
        assert tell(kind_named(kind)) == kind
        if what.thickness != "measured":
            assert limit(what.thickness).value > 0.0


def test_code_asks_what_a_kind_is_and_never_which_it_is(alder):
    """Each kind of cutter on the same job behaves as its row says."""
    asked = {}
    for kind in GUIDED:
        cutter = alder.cutter.model_copy(update={"kind": kind, "advance": None, "reach": None})
        layout = lay_out(alder.model_copy(update={"cutter": cutter}))
        sizes = next(one.enter for one in tool_findings(layout, cutter) if one.code == "T306")
        asked[kind] = ("cutter.advance" in sizes, way_round(making_of(layout)))
    for kind, (asks_for_advance, way) in asked.items():
        assert asks_for_advance is KINDS[kind].bites
        if KINDS[kind].spindle_turns:
            assert way == "clockwise"  # in a window, against the turn of the spindle


def test_no_code_names_a_kind():
    sources = files("hatchwright")
    for name in KINDS:
        for folder in ("making", "job", "drawings", "documents", "workflow", "page", "web", "cli"):
            for path in sorted(sources.joinpath(folder).rglob("*.py")):
                if name in ("file", "snips"):
                    continue  # words of everyday code
                assert f'"{name}"' not in path.read_text(encoding="utf-8"), (path, name)


def test_a_tool_that_is_led_by_hand_is_sent_to_its_own_section(alder_text):
    with pytest.raises(JobError) as caught:
        read_job(alder_text.replace('kind = "round-punch nibbler"', 'kind = "snips"'))
    (fault,) = caught.value.faults
    assert (fault.field, remedy_of(fault)) == (
        "cutter.kind",
        "Enter it as the hand tool; a template is not needed then.",
    )
    with pytest.raises(JobError) as caught:
        read_job(alder_text.replace("[template]\n", '[hand_tool]\nkind = "snips"\n\n[template]\n'))
    assert [fault.field for fault in caught.value.faults] == ["hand_tool"]
