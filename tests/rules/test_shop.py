"""A shop's own rows as the rules judge by them."""

from __future__ import annotations

from pathlib import Path

import pytest

from hatchwright.errors import TableError
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.rules.check import check
from hatchwright.tables.shop import load_shop_tables
from hatchwright.tables.table import ShopTables
from hatchwright.workflow.examine import examine_file
from hatchwright.workings import Grade
from rules.cases import CAUTION, FLUSH, PASS, PLAIN, RING, STOP, UNKNOWN, along_y, job_of
from rules.conftest import EXAMPLES

OURS = "OUR-HANDBOOK,page 12,2024,the shop's own"
LIMITS = "key,value,unit,note,source,place,edition,basis"


def shop(folder: Path, name: str, *lines: str) -> ShopTables:
    (folder / f"{name}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return load_shop_tables(folder)


def found(code: str, job: dict, own: ShopTables | None = None, **changes: object):
    return [f for f in check(lay_out(job_of(job, **changes), own)) if f.code == code]


def test_a_limit_from_memory_becomes_one_that_passes_and_stops(tmp_path):
    rows = [along_y(2.3, pitch=0.5, name="a"), along_y(2.55, pitch=0.5, start=-0.55, name="b")]
    figure = [{"rule": "R204", "reading": "circular's figure", "reason": "read in an Army manual"}]
    ours = shop(tmp_path, "rule_limits", LIMITS, f"transverse_pitch_min_fig4_5,2,D,seen,{OURS}")
    assert [f.status for f in found("R204", RING, rows=rows, choices=figure)] == [CAUTION]
    (finding,) = found("R204", RING, ours, rows=rows, choices=figure)
    assert (finding.status, finding.grade, finding.source.key) == (PASS, Grade.SHOP, "OUR-HANDBOOK")


def test_a_stricter_limit_of_the_shop_stops_what_ours_lets_pass(tmp_path):
    ours = shop(tmp_path, "rule_limits", LIMITS, f"corner_radius_patch_min,.6,in,,{OURS}")
    sharp = {"doubler__outer__radius": ".5"}
    assert [f.status for f in found("R302", RING, **sharp)] == [PASS]
    (finding,) = found("R302", RING, ours, **sharp)
    assert (finding.status, finding.limit) == (STOP, 0.6)
    assert "OUR-HANDBOOK" in str(finding.source)


def test_a_hole_range_that_only_the_shop_has(tmp_path):
    heading = "diameter_in,hole_min_in,hole_max_in,source,place,edition,basis"
    ours = shop(tmp_path, "rivet_hole_ranges", heading, f"0.3125,0.3125,0.328,{OURS}")
    changes = {
        "rows__0__rivet": "MS20470AD10",
        "as_made": {"uncertainty": ".001", "holes": [[1, "2.8", "0", ".32"]]},
    }
    assert [f.status for f in found("R404", PLAIN, **changes)] == [UNKNOWN]
    assert [f.status for f in found("R404", PLAIN, ours, **changes)] == [PASS]


def test_ears_that_only_the_shop_has(tmp_path):
    heading = "kind,thread,arrangement,nearest_in,spacing_in,source,place,edition,basis"
    ours = shop(tmp_path, "nutplate_ears", heading, f"miniature,10-32,each side,.25,.5,{OURS}")
    changes = {"cover__screws__nut": "miniature nutplate"}
    assert [f.status for f in found("R807", FLUSH, **changes)] == [UNKNOWN]
    assert {f.status for f in found("R807", FLUSH, ours, **changes)} == {PASS}


def test_a_thread_that_only_the_shop_has(tmp_path):
    heading = "thread,size,major_diameter_in,threads_per_in,source,place,edition,basis"
    ours = shop(tmp_path, "screw_sizes", heading, f"12-24,12,.216,24,{OURS}")
    (finding, *_) = found("R103", FLUSH, ours, cover__screws__size="12-24")
    assert finding.limit == pytest.approx(0.432)


def test_a_dimple_that_the_shop_has_measured(tmp_path):
    ours = shop(tmp_path, "dimple_spread", "drill,opens_to,source,place,edition,basis", f"42,40,{OURS}")
    changes = {
        "rows__0__rivet": "MS20426AD3",
        "rows__0__preparation": "dimple",
        "rows__0__pilot": "#42",
    }
    assert [f.status for f in found("R410", PLAIN, **changes)] == [UNKNOWN]
    (finding,) = found("R410", PLAIN, ours, **changes)
    assert (finding.status, finding.value) == (Status.PASS, 0.098)


def test_a_job_file_is_judged_by_the_folder_beside_it(tmp_path):
    shop(tmp_path, "rule_limits", LIMITS, f"corner_radius_patch_min,.3,in,,{OURS}")
    ours = examine_file(EXAMPLES / "alder.toml", shop=tmp_path)
    limits = [f.limit for f in ours.findings if f.code == "R302"]
    assert limits
    assert set(limits) == {0.3}


def test_a_faulty_table_refuses_the_job_and_names_file_line_and_reason(tmp_path):
    lines = [LIMITS, f"edge_max,50,D,,{OURS}"]
    (tmp_path / "rule_limits.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    with pytest.raises(TableError) as refused:
        examine_file(EXAMPLES / "alder.toml", shop=tmp_path)
    for said in (
        "rule_limits.csv",
        "line 2",
        "more than 3 times away",
        "Check the unit",
        "Nothing in the folder",
    ):
        assert said in str(refused.value)
