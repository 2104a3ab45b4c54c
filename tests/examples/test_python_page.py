"""The page on use from Python runs as it stands, and tells what the command tells."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_the_page_runs_and_tells_the_verdict_and_the_short_hole(monkeypatch, capsys):
    monkeypatch.chdir(ROOT)
    page = (ROOT / "docs" / "python.md").read_text(encoding="utf-8")
    code = "\n".join(re.findall(r"```python\n(.*?)```", page, re.S))
    exec(compile(code, "docs/python.md", "exec"), {})
    out = capsys.readouterr().out
    assert out.startswith("DO NOT CUT, DRILL OR RIVET: 2 STOP, 1 NOT SHOWN\n")
    assert "Rivet 6 to opening edge (skin)" in out
    # hole 6 of the job ALDER is .243 from the edge, 2 D of a 1/8 rivet is .250: scenario S1, answer 7
    assert re.search(r"^0\.24[23]\d* 0\.25 0\.00[67]\d* stop$", out, re.M)
    assert "6.35" in out or "mm" in out
    chance = float(out.strip().splitlines()[-1])
    assert 0.9 < chance <= 1.0  # two holes are short already; nearly every trial has one
