"""What the strength report says of a mounted part, with loads of the skin and without."""

from __future__ import annotations

from pathlib import Path

import pytest

from hatchwright.job.file import load_job
from hatchwright.job.loads import Loads
from hatchwright.judged import Status
from hatchwright.words.tell import tell
from hatchwright.workflow.strength import strength_of, strength_values
from tests.conftest import EXAMPLES
from told import lines_of


@pytest.fixture
def cypress():
    return load_job(EXAMPLES / "cypress.toml")


def test_with_loads_the_mount_stands_among_the_findings(cypress):
    job = cypress.model_copy(update={"loads": Loads(basis="restore")})
    answer = strength_of(job, elements=None)
    mount = {finding.code: finding for finding in answer.report.findings if finding.code in ("R924", "R925")}
    assert set(mount) == {"R924", "R925"}
    assert {finding.status for finding in mount.values()} == {Status.CAUTION}
    told = [finding["code"] for finding in strength_values(answer)["findings"]]
    assert {"R924", "R925"} <= set(told)


def test_without_loads_it_is_only_named_among_what_is_not_analyzed(cypress):
    report = strength_of(cypress, elements=None).report
    assert report.findings == ()
    named = [line for line in lines_of(report.not_analyzed) if line.startswith("Mounted part")]
    assert named[0] == (
        "Mounted part, R924: static test loads: 4.95 lbf down, 2.5 lbf up, 4.95 lbf forward, 0.825 lbf to the side"
    )
    assert named[1].startswith("Mounted part, R925: antenna drag 2 lbf, at ultimate load: 3 lbf aft")


def test_a_job_without_a_mount_says_nothing_of_it(alder):
    report = strength_of(alder.model_copy(update={"loads": Loads(basis="none")}), elements=None).report
    assert not any("Mounted part" in line for line in lines_of(report.not_analyzed))


def test_the_inputs_name_the_shops_rows(tmp_path: Path):
    from hatchwright.tables.shop import load_shop_tables

    row = "edge_break_max,.010,in,,OUR-HANDBOOK,page 12,2024,the shop's own"
    heading = "key,value,unit,note,source,place,edition,basis"
    (tmp_path / "rule_limits.csv").write_text(f"{heading}\n{row}\n", encoding="utf-8")
    job = load_job(EXAMPLES / "alder.toml").model_copy(update={"loads": Loads(basis="restore")})
    report = strength_of(job, load_shop_tables(tmp_path), elements=None).report
    assert tell(report.inputs[-1]) == "The shop's own rows: 1 of rule_limits (OUR-HANDBOOK, 2024)"
