"""The command line as a mechanic and as a program uses it."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from hatchwright.cli.main import _COMMANDS
from hatchwright.page.fill_in import with_unit
from hatchwright.workflow.new_job import NEW_JOBS, Start, starting_text
from tests.conftest import EXAMPLES
from tests.patience import PATIENCE_S


def run(*arguments):
    """Run it as a process of its own: what a program sees of it."""
    call = [sys.executable, "-m", "hatchwright", *map(str, arguments)]
    return subprocess.run(call, capture_output=True, text=True, timeout=PATIENCE_S)


def test_check_names_what_is_short_and_exits_1():
    done = run("check", EXAMPLES / "alder.toml")
    assert done.returncode == 1
    assert "Rivet 6 to opening edge (skin): 1.94D of 2D, .007 short." in " ".join(done.stdout.split())
    assert done.stdout.splitlines()[2] == "DO NOT CUT, DRILL OR RIVET: 2 STOP, 1 NOT SHOWN"
    assert "Not checked" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert "not approved data" in done.stdout


FINDING_KEYS = {
    "code", "status", "subject", "holes", "value", "limit", "unit", "shortfall", "uncertainty", "place", "source",
    "grade", "advice", "working",
}  # fmt: skip


def test_check_json_has_the_documented_form(shell):
    status, out, _ = shell("check", EXAMPLES / "alder.toml", "--json")
    report = json.loads(out)
    assert status == 1
    assert {"schema", "job", "findings", "summary", "not_checked"} <= set(report)
    assert report["job"]["side"] == "left"
    for finding in report["findings"]:
        assert set(finding) >= FINDING_KEYS
        assert finding["status"] in ("pass", "caution", "stop", "unknown")
    short = [
        f for f in report["findings"] if f["code"] == "R101" and f["holes"] == [6] and f["status"] == "stop"
    ]
    assert short[0]["value"] == pytest.approx(0.243)
    assert report["summary"]["must_stop"] is True
    assert sum(report["summary"][s] for s in ("pass", "caution", "stop", "unknown")) == len(
        report["findings"]
    )


def test_every_key_of_the_json_is_documented():
    page = (EXAMPLES.parent / "docs" / "check-json.md").read_text(encoding="utf-8")
    for key in FINDING_KEYS | {"schema", "job", "findings", "summary", "not_checked", "must_stop"}:
        assert f"`{key}`" in page, key


def test_a_job_with_nothing_to_stop_for_exits_0(tmp_path):
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    (tmp_path / "drawn.toml").write_text(text[: text.index("# What was really made")], encoding="utf-8")
    done = run("check", tmp_path / "drawn.toml")
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize("command", ["check", "template", "papers", "fasteners", "pins"])
def test_refused_input_exits_2_with_a_message_and_writes_nothing(command, tmp_path, shell):
    (tmp_path / "bad.toml").write_text('schema = 1\ntitle = "x"\nthicknes = "5 kg"\n', encoding="utf-8")
    extra = ["--out", tmp_path / "out"] if command in ("template", "papers") else []
    for name in ("bad.toml", "missing.toml"):
        status, out, err = shell(command, tmp_path / name, *extra)
        assert status == 2
        assert "Refused" in err
        assert "Traceback" not in err
        assert out == ""
    assert not (tmp_path / "out").exists()


def test_new_starts_a_sound_job_and_touches_no_file_that_is_there(shell, tmp_path):
    path = tmp_path / "wing.toml"
    assert shell("new", path)[0] == 0
    assert shell("check", path)[0] in (0, 1)
    path.write_text("mine", encoding="utf-8")
    assert shell("new", path)[0] == 2
    assert path.read_text(encoding="utf-8") == "mine"


def test_new_starts_a_job_of_each_kind_and_names_them_for_another(shell, tmp_path):
    for kind in NEW_JOBS:
        assert shell("new", tmp_path / f"{kind}.toml", "--kind", kind)[0] == 0
        assert (tmp_path / f"{kind}.toml").read_text(encoding="utf-8") == starting_text(Start(kind))
    status, out, err = shell("new", tmp_path / "other.toml", "--kind", "porthole")
    assert (status, out) == (2, "")
    assert all(kind in err for kind in ("porthole", *NEW_JOBS))
    assert not (tmp_path / "other.toml").exists()


@pytest.mark.parametrize(
    "command", [("check", "--more"), ("papers", "--only", "card,annex", "--out", "shop")], ids=" ".join
)
def test_a_new_job_is_answered_while_its_samples_stand(shell, tmp_path, command):
    path = tmp_path / "new.toml"
    shell("new", path)
    name, *options = command
    status, out, err = shell(name, path, *(tmp_path / one if one == "shop" else one for one in options))
    assert (status, err) == (1, "")
    assert "DO NOT CUT" in out


def test_rules_and_explain(shell):
    entries = json.loads(shell("rules", "--json")[1])
    assert len(entries) >= 45
    assert "2D from the center" in shell("explain", "R101")[1]
    assert shell("explain", "R000")[0] == 2


def test_help_of_every_command_reads(shell):
    for name in _COMMANDS:
        status, out, _ = shell(name, "--help")
        assert status == 0, name
        assert len(out) > 200, name


@pytest.mark.parametrize("arguments", [["weld"], ["check"], ["check", "--colour"], ["template", "x.toml"]])
def test_a_wrong_call_exits_2_without_a_traceback(shell, arguments):
    status, _, err = shell(*arguments)
    assert status == 2
    assert "Traceback" not in err


def test_a_process_of_its_own_exits_2_without_a_traceback():
    done = run("weld")
    assert done.returncode == 2
    assert "Traceback" not in done.stderr


def test_fasteners_json(shell):
    report = json.loads(shell("fasteners", EXAMPLES / "alder.toml", "--json")[1])
    assert report["rivets"][0]["part"] == "MS20470AD4"
    masses = {mass["name"]: mass["mass_lb"] for mass in report["masses"]}
    sheets = sum(masses.pop(name) for name in ("doubler", "cover", "skin taken away"))
    assert sheets == pytest.approx(0.125, abs=0.001)
    assert report["net_mass_lb"] == pytest.approx(sheets + sum(masses.values()))
    assert report["not_weighed"] == []


@pytest.mark.parametrize(
    ("command", "sheet"), [(("template",), "TEMPLATE"), (("papers", "--only", "layout,card"), "LAYOUT")]
)
def test_files_are_named_after_the_job_file_on_any_paper(shell, command, sheet, tmp_path):
    job = tmp_path / "port wing.toml"
    job.write_text((EXAMPLES / "alder.toml").read_text(encoding="utf-8"), encoding="utf-8")
    name, *options = command
    status, _, err = shell(name, job, *options, "--out", tmp_path / "out", "--paper", "11x17")
    assert status == 1, err  # R101 of this job stops, whichever command tells so
    names = {path.name for path in (tmp_path / "out").iterdir()}
    assert {f"port_wing_{sheet}_LEFT_IN.dxf", f"port_wing_{sheet}_RIGHT_11X17.pdf"} <= names
    assert all(name.startswith("port_wing_") for name in names)


def test_check_of_a_job_in_millimeters_speaks_in_millimeters(shell, tmp_path):
    """CYPRESS is curved: the findings of its making tell lengths, and those are told as the job does."""
    text = with_unit((EXAMPLES / "cypress.toml").read_text(encoding="utf-8"), "mm")
    (tmp_path / "metric.toml").write_text(text, encoding="utf-8")
    said = " ".join(shell("check", tmp_path / "metric.toml", "--all")[1].split())
    assert "pattern, 111.76 mm along" in said


def test_an_older_file_says_that_its_depths_count_from_the_outer_face(shell, tmp_path):
    """Schema 1 did not say from which face of the skin a depth counts."""
    text = (EXAMPLES / "heron.toml").read_text(encoding="utf-8")
    for schema, begins in ((1, "Older job file: its 2 depths behind the skin"), (2, "Access opening")):
        job = tmp_path / f"{schema}.toml"
        job.write_text(text.replace("schema = 2", f"schema = {schema}"), encoding="utf-8")
        status, out, _ = shell("check", job)
        assert (status, out.startswith(begins)) == (1, True)
