"""The pages of the job, machine and fleet file are those that the models make; every field says what it means."""

from __future__ import annotations

import importlib.util
from pathlib import Path

ROOT = Path(__file__).parents[2]


def builder():
    spec = importlib.util.spec_from_file_location("page", ROOT / "builders" / "build_job_file_page.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_page_is_up_to_date():
    made = builder()
    told = "run: python builders/build_job_file_page.py"
    assert made.PAGE.read_text(encoding="utf-8") == made.page(), told
    assert made.MACHINE_PAGE.read_text(encoding="utf-8") == made.machine_page(), told
    assert made.FLEET_PAGE.read_text(encoding="utf-8") == made.fleet_page(), told


def test_every_key_has_its_kind_and_its_meaning():
    made = builder()
    for line in (made.page() + made.machine_page() + made.fleet_page()).splitlines():
        if (
            line.startswith("| `")
            and "table, see" not in line
            and not line.startswith(("| `shape`", "| `lay`", "| `kind`"))
        ):
            cells = [cell.strip() for cell in line.strip("|").split("|")]
            assert cells[1] != "value", line
            assert cells[3], line
