"""Open a job file with the shop's own tables beside it."""

from __future__ import annotations

from pathlib import Path

import pytest

from hatchwright.errors import EntryError, TableError
from hatchwright.layout.unlisted import unlisted_names
from hatchwright.words.tell import tell
from hatchwright.workflow.open_job import open_job, own_tables
from tests.conftest import EXAMPLES

OURS = "OUR-HANDBOOK,page 12,2024,the shop's own"
ALLOWABLES = (
    "alloy,temper,clad,specification,statistical_basis,thickness_min_in,thickness_max_in,"
    "ftu_l_psi,ftu_lt_psi,fty_l_psi,fty_lt_psi,fcy_l_psi,fcy_lt_psi,fsu_psi,fbru_15_psi,fbru_20_psi,fbry_15_psi,"
    "fbry_20_psi,e_psi,e_secondary_psi,ec_psi,ec_secondary_psi,g_psi,poisson_ratio,source,place,edition,basis"
)
STRANGE_SHEET = (
    "6013,T4,no,,A,.010,.125,40000,40000,21000,20000,21000,21000,24000,60000,80000,31000,36000,"
    f"9900000,,10100000,,3800000,.33,{OURS}"
)
"""A sheet that no table of the program has; every number is made up for this test."""
DENSITY = f"6013,handbook,.098,{OURS}"


def strange_sheet(folder: Path) -> Path:
    """A shop's folder that knows one sheet more."""
    (folder / "sheet_allowables.csv").write_text(f"{ALLOWABLES}\n{STRANGE_SHEET}\n", encoding="utf-8")
    heading = "alloy,use,density_lb_per_in3,source,place,edition,basis"
    (folder / "densities.csv").write_text(f"{heading}\n{DENSITY}\n", encoding="utf-8")
    return folder


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job with a doubler of a sheet that only the shop knows."""
    path = tmp_path / "strange.toml"
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    head, mark, rest = text.partition("[doubler]")
    rest = rest.replace('alloy = "2024"', 'alloy = "6013"', 1).replace('temper = "T3"', 'temper = "T4"', 1)
    path.write_text(head + mark + rest.replace("clad = true", "clad = false", 1), encoding="utf-8")
    return path


def test_an_unknown_sheet_is_laid_out_and_told_with_what_would_do(job: Path) -> None:
    layout = open_job(job)
    (found,) = unlisted_names(layout.job, layout.shop)
    assert found.entry == "doubler.alloy"
    assert tell(found.what) == "doubler sheet 6013-T4 isn't in the tables: strength not known"
    assert "2024-T3" in tell(found.remedy)
    assert "the shop's own row" in tell(found.remedy)


def test_a_sheet_that_only_the_shop_knows_is_laid_out(job: Path, tmp_path: Path) -> None:
    layout = open_job(job, shop=strange_sheet(tmp_path))
    assert not unlisted_names(layout.job, layout.shop)
    doubler = layout.part("doubler")
    assert doubler
    assert (doubler.alloy, doubler.temper) == ("6013", "T4")
    assert layout.shop
    assert layout.shop.words == "1 of densities, 1 of sheet_allowables (OUR-HANDBOOK, 2024)"
    assert layout.shop.documents == {"OUR-HANDBOOK": "2024"}


def test_a_bad_folder_is_refused_before_the_job_is_read(tmp_path: Path) -> None:
    (tmp_path / "densities.csv").write_text("alloy\n", encoding="utf-8")
    with pytest.raises(TableError, match=r"densities\.csv, line 1"):
        open_job(tmp_path / "none.toml", shop=tmp_path)


def test_the_other_side_needs_a_side(tmp_path: Path) -> None:
    assert open_job(EXAMPLES / "alder.toml", other_side=True).job.aircraft.side == "right"
    with pytest.raises(EntryError, match="center line"):
        open_job(EXAMPLES / "cypress.toml", other_side=True)


def test_the_same_rows_have_the_same_digest_and_others_another(tmp_path: Path) -> None:
    first, again = own_tables(strange_sheet(tmp_path)), own_tables(tmp_path)
    (tmp_path / "densities.csv").unlink()
    fewer = own_tables(tmp_path)
    assert own_tables(None) is None
    assert first
    assert again
    assert fewer
    assert first.digest == again.digest != fewer.digest
