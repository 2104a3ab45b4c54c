"""`hatchwright check JOB` on a mount with everything entered."""

from __future__ import annotations

from hatchwright.job.gate import Gate
from tests.conftest import EXAMPLES


def test_with_the_gate_answered_and_the_next_antenna_entered_nothing_stops(tmp_path, shell):
    text = (EXAMPLES / "cypress.toml").read_text(encoding="utf-8")
    gate = "\n".join(f"{question} = false" for question in Gate.model_fields)
    antennas = 'nearest_antenna = "40"\nleast_distance = "36"\n'
    job = tmp_path / "antenna.toml"
    job.write_text(f"{text}{antennas}\n[gate]\n{gate}\n", encoding="utf-8")
    status, told, _ = shell("check", job)
    assert status == 0, told
    assert "No STOP found" in told
    assert "NOT SHOWN" not in told
