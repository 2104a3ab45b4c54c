"""The shop's own tables through every command that reads a table: used, shown as theirs, or refused whole."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from hatchwright.workflow.examine import examine_file
from tests.cards import card_of
from tests.conftest import EXAMPLES
from tests.search.test_sweep import BY_HAND as SQUARE

OURS = "OUR-HANDBOOK,page 12,2024,the shop's own"
CITATION = "source,place,edition,basis"
LIMITS = f"key,value,unit,note,{CITATION}"

COMMANDS = {
    "check": (),
    "fasteners": (),
    "papers": ("--out", "OUT"),
    "template": ("--out", "OUT"),
    "strength": ("--hand-only", "--out", "OUT"),
    "pins": (),
    "sweep": ("--vary", "doubler.thickness=.032:.040", "--processes", "1", "--out", "OUT"),
    "toolpath": ("--machine", str(EXAMPLES / "machines" / "machine.toml"), "--out", "OUT"),
    "trial": (),
    "cutters": ("shelf.toml",),
}
"""Every command that reads a table for a job, with what it cannot do without; OUT is a folder that is not there yet."""


@pytest.fixture
def tables(tmp_path: Path) -> Path:
    folder = tmp_path / "tables"
    folder.mkdir()
    return folder


def write(folder: Path, name: str, *lines: str) -> None:
    (folder / f"{name}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")


@pytest.mark.parametrize("command", COMMANDS)
def test_a_bad_table_is_refused_whole_and_nothing_is_written(shell, tables, tmp_path, command):
    write(tables, "rule_limits", LIMITS, f"edge_max,50,D,,{OURS}", f"transverse_pitch_min_fig4_5,2,D,,{OURS}")
    out = tmp_path / "out"
    options = [str(out) if word == "OUT" else word for word in COMMANDS[command]]
    status, said, err = shell(command, EXAMPLES / "alder.toml", *options, "--shop", tables)
    assert (status, said) == (2, "")
    assert "rule_limits.csv, line 2, value: this is more than 3 times away" in err
    assert "Nothing in the folder" in err
    assert not out.exists()


def test_check_names_the_shops_rows(shell, tables):
    write(tables, "rule_limits", LIMITS, f"transverse_pitch_min_fig4_5,2,D,,{OURS}")
    _, said, _ = shell("check", EXAMPLES / "alder.toml", "--shop", tables)
    assert "The shop's own rows: 1 of rule_limits (OUR-HANDBOOK, 2024)." in said
    _, said, _ = shell("check", EXAMPLES / "alder.toml", "--shop", tables, "--json")
    assert json.loads(said)["shop"] == "1 of rule_limits (OUR-HANDBOOK, 2024)"
    _, said, _ = shell("check", EXAMPLES / "alder.toml", "--json")
    assert json.loads(said)["shop"] == ""


DRILLS = f"size,fit,drill,{CITATION}"


def test_the_shops_drill_is_the_one_to_order_and_the_one_on_the_papers(shell, tables, tmp_path):
    """Clearance of No. 8 screws is common practice without a source, so a shop's drill takes its place."""
    write(tables, "screw_clearance_drills", DRILLS, f"8,close,16,{OURS}")
    _, said, _ = shell("fasteners", EXAMPLES / "alder.toml", "--json", "--shop", tables)
    for layer in json.loads(said)["cover"]["layers"]:
        (final,) = [one for one in layer["steps"] if one["operation"] == "final"]
        assert (final["drill"], final["source"], final["grade"]) == (
            "#16",
            "OUR-HANDBOOK, page 12",
            "the shop's own",
        )
    out = tmp_path / "out"
    job = EXAMPLES / "alder.toml"
    status, _, _ = shell("papers", job, "--only", "layout", "--shop", tables, "--out", out)
    assert status == 1  # two rivets of the example are short, whatever the drill
    for side in ("LEFT", "RIGHT"):
        (drawing,) = out.glob(f"alder_LAYOUT_{side}*.svg")
        assert "FINAL #16 .1770" in drawing.read_text(encoding="utf-8")


def test_the_annex_tells_which_tables_are_the_shops(tables):
    write(tables, "rule_limits", LIMITS, f"edge_break_max,.010,in,,{OURS}")
    found = examine_file(EXAMPLES / "alder.toml", shop=tables)
    card = card_of(found)
    assert dict(card.summary)["Shop's own tables"] == "1 of rule_limits (OUR-HANDBOOK, 2024)"
    (edges,) = [step for step in card.steps if any("Break edges" in line for line in step.lines)]
    assert any("to .010 in" in line for line in edges.lines)
    assert "OUR-HANDBOOK, page 12: the shop's own" in edges.rests_on


def test_a_stock_gauge_that_only_the_shop_has_is_swept(shell, tables, tmp_path):
    write(tables, "sheet_stock", f"thickness_in,{CITATION}", f".036,{OURS}")
    job = tmp_path / "square.toml"
    job.write_text(SQUARE, encoding="utf-8")
    options = ("--vary", "doubler.thickness=.032:.040", "--processes", "1", "--out", tmp_path / "out")
    status, _, err = shell("sweep", job, *options, "--shop", tables)
    assert status == 0, err
    assert json.loads((tmp_path / "out" / "sweep.json").read_text())["vary"] == {
        "doubler.thickness": ["0.032 in", "0.036 in", "0.040 in"]
    }
    status, _, err = shell("sweep", job, *options)
    assert status == 2
    assert "another sweep" in err


FLUSH = f"preparation,property,diameter_in,thickness_in,load_lbf,{CITATION}"
CONFIRMED = (
    f"countersunk,ultimate,.09375,.016,98,{OURS}",
    f"countersunk,ultimate,.09375,.020,120,{OURS}",
    f"countersunk,yield,.09375,.016,80,{OURS}",
    f"countersunk,yield,.09375,.020,100,{OURS}",
)


def joints(shell, job: Path, *options: object) -> list[dict]:
    """The margins of the flush rivets."""
    _, said, _ = shell("strength", job, "--hand-only", "--json", *options)
    return [m for m in json.loads(said)["margins"] if m["code"] == "S201"]


def test_joint_values_from_memory_feed_no_claim_until_the_shop_confirms_them(shell, tables, tmp_path):
    text = (EXAMPLES / "elder.toml").read_text(encoding="utf-8")
    job = tmp_path / "elder.toml"
    job.write_text(f'{text}\n[loads]\nbasis = "restore"\n', encoding="utf-8")
    unconfirmed = joints(shell, job)
    assert unconfirmed
    assert all(margin["margin"] is None and margin["status"] == "unknown" for margin in unconfirmed)
    write(tables, "flush_rivet_strength", FLUSH, *CONFIRMED)
    confirmed = joints(shell, job, "--shop", tables)
    assert confirmed
    assert all(margin["margin"] is not None for margin in confirmed)
    assert {step["source"]["key"] for margin in confirmed for step in margin["working"]} >= {"OUR-HANDBOOK"}
    assert not any("memory" in margin["grade"] for margin in confirmed)
