"""A flush patch as it is entered: what it takes, and each combination that cannot be, named with its entry."""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import read_job
from job_text import job_text
from tests.rules.cases import FLUSH, PATCH, changed
from tests.told import remedy_of, what_of

OUTLINE = {"shape": "rounded rectangle", "width": "2", "height": "2", "radius": ".5"}
BAY = {"bay.rows": [{"name": "rib 1", "x": "-2.9"}, {"name": "rib 2", "x": "2.9"}]}


def faults(changes):
    with pytest.raises(JobError) as refused:
        read_job(job_text(changed(PATCH, changes)))
    return {fault.field: f"{what_of(fault)} {remedy_of(fault)}" for fault in refused.value.faults}


def test_what_was_typed_is_kept():
    patch = read_job(job_text(PATCH)).patch
    assert patch is not None
    assert [at.text for at in patch.extent[1].at] == ["1", "0"]
    assert patch.extent[1].uncertainty.inch == pytest.approx(0.06)
    assert patch.model_dump()["plug"]["gap"] == ".03125"
    assert patch.split is None


def test_a_job_without_a_patch_is_read_as_ever():
    assert read_job(job_text(FLUSH)).patch is None


@pytest.mark.parametrize(
    ("changes", "field", "said"),
    [
        pytest.param({"cover": FLUSH["cover"]}, "cover", "a flush patch has no cover", id="cover"),
        pytest.param(
            {"mount": {"kind": "antenna", "base": ["5", "2"]}}, "mount", "nothing is mounted", id="mount"
        ),
        pytest.param({"doubler": None}, "doubler", "needs a doubler to rivet to", id="no doubler"),
        pytest.param(
            {"doubler.inner": OUTLINE}, "doubler.inner", "the doubler of a flush patch is solid", id="inner"
        ),
        pytest.param({"doubler.face": "outside"}, "doubler.face", "lies inside", id="outside"),
        pytest.param(
            {"aircraft.both_sides": True}, "aircraft.both_sides", "on one side only", id="both sides"
        ),
        pytest.param({"patch.plug.thickness": None}, "patch.plug.thickness", "missing", id="no thickness"),
        pytest.param({"patch.plug.gap": None}, "patch.plug.gap", "missing", id="no gap"),
        pytest.param({"patch.plug.gap": "-.03"}, "patch.plug.gap", "negative", id="negative gap"),
        pytest.param({"patch.plug": None}, "patch.plug", "missing", id="no plug"),
        pytest.param({"patch.damage": "scratch"}, "patch.damage", "not one of the words", id="no such kind"),
        pytest.param(
            {"patch.extent": [{"at": ["0", "0"], "uncertainty": ".06"}]},
            "patch",
            "a crack has two ends",
            id="one end",
        ),
        pytest.param({"patch.damage": "dent"}, "patch", "takes three points", id="two points of a dent"),
        pytest.param(
            {"patch.extent.1": {"at": ["1", "0"]}}, "patch.extent.1.uncertainty", "missing", id="no u"
        ),
        pytest.param(
            {"patch.extent.1": {"at": ["25.4", "0"], "uncertainty": ".06"}},
            "patch.extent.1.at",
            "not under the patch",
            id="damage elsewhere",
        ),
        pytest.param(BAY, "doubler.outer", "larger than the bay along X", id="larger than its bay"),
        pytest.param(
            {"patch.split": {"along": "y", "at": "2.9", "gap": ".5"}},
            "patch.split.at",
            "a piece of the doubler on each side",
            id="split beside the doubler",
        ),
        pytest.param(
            {"patch.split": {"along": "y", "at": "0", "gap": "0"}}, "patch.split.gap", "zero", id="no strip"
        ),
    ],
)
def test_what_cannot_be_is_refused_and_named(changes, field, said):
    found = faults(changes)
    assert list(found) == [field]
    assert said in found[field]


def test_a_row_follows_only_what_is_there():
    row = {"name": "round", "lay": "offset", "rivet": "MS20470AD4", "distance": ".3", "pitch": ".6"}
    assert "no inner edge" in faults({"rows.1": {**row, "edge": "doubler inner"}})["rows.1.edge"]
    assert "no plug to follow" in faults({"patch": None, "rows.1": {**row, "edge": "plug"}})["rows.1.edge"]


def test_a_doubler_just_as_wide_as_the_bay_is_not_refused():
    """6 between rows at -3 and 3; what then fails is clearance, which a rule judges."""
    rows = [{"name": "rib 1", "x": "-3"}, {"name": "rib 2", "x": "3"}]
    assert read_job(job_text(changed(PATCH, {"bay.rows": rows}))).patch
