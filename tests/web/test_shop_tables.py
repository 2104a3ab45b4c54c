"""The shop's own tables on the page: jobs are judged by them, and the page says so."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest

from hatchwright.tables.shop import load_shop_tables
from hatchwright.web.site import SITE
from tests.patience import PATIENCE_S
from tests.workflow.test_open_job import strange_sheet
from web.conftest import listed, site_behind

LIMITS = "key,value,unit,note,source,place,edition,basis"
OURS = "OUR-HANDBOOK,page 12,2024,the shop's own"


@pytest.fixture
def tables(tmp_path: Path) -> Path:
    place = tmp_path / "tables"
    place.mkdir()
    (place / "rule_limits.csv").write_text(f"{LIMITS}\ncover_gap_max,.025,in,,{OURS}\n", encoding="utf-8")
    return place


def judge_by(client, tables: Path) -> None:
    """Let the server of a client judge by a shop's own tables."""
    client.defaults[SITE] = replace(site_behind(client), shop=load_shop_tables(tables))


def test_findings_rest_on_the_shops_rows_and_the_page_names_them(client, folder, tables):
    assert "OUR-HANDBOOK" not in client.get("/job/alder.toml/").content.decode()
    judge_by(client, tables)
    page = unescape(client.get("/job/alder.toml/").content.decode())
    assert "The shop's own rows: 1 of rule_limits (OUR-HANDBOOK, 2024)." in page
    passed = client.get("/job/alder.toml/passed").content.decode()
    assert "OUR-HANDBOOK, page 12" in page + passed


def test_a_job_of_a_sheet_that_only_the_shop_knows_is_drawn_and_listed_as_sound(client, folder, tmp_path):
    text = (folder / "alder.toml").read_text(encoding="utf-8")
    head, mark, rest = text.partition("[doubler]")
    rest = rest.replace('alloy = "2024"', 'alloy = "6013"', 1).replace('temper = "T3"', 'temper = "T4"', 1)
    strange = head + mark + rest.replace("clad = true", "clad = false", 1)
    (folder / "alder.toml").write_text(strange, encoding="utf-8")
    unknown = "6013-T4 isn't in the tables"
    assert unknown in unescape(client.get("/job/alder.toml/").content.decode())
    judge_by(client, strange_sheet(tmp_path))
    page = unescape(client.get("/job/alder.toml/").content.decode())
    assert unknown not in page
    assert 'class="code">R101<' in page
    assert "entries to fix" not in listed(client)


def test_a_refused_table_ends_the_program_before_anything_is_served(folder, tables):
    (tables / "rule_limits.csv").write_text(f"{LIMITS}\nedge_max,50,D,,{OURS}\n", encoding="utf-8")
    start = [sys.executable, "-c", "from hatchwright.cli.main import main; main()"]
    call = [*start, "run", str(folder / "alder.toml"), "--shop", str(tables)]
    ended = subprocess.run(call, capture_output=True, text=True, timeout=PATIENCE_S)
    assert ended.returncode == 2
    assert ended.stdout == ""
    assert "rule_limits.csv, line 2" in ended.stderr
    assert "Traceback" not in ended.stderr
