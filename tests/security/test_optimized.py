"""Under `python -O`, which leaves out every `assert`, the program says and writes the same."""

from __future__ import annotations

import ast
from pathlib import Path

from tests.conftest import EXAMPLES
from tests.security.commands import told, told_elsewhere

SOURCE = Path(__file__).parents[2] / "src"
LOOKS = {"isinstance", "hasattr"}


def test_no_assert_does_anything():
    """Each says to who reads what is so already: left out, nothing is missing."""
    asserts = [
        (file, node.test)
        for file in SOURCE.rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Assert)
    ]
    assert asserts
    for file, said in asserts:
        for part in ast.walk(said):
            does = isinstance(part, ast.NamedExpr | ast.Await | ast.Yield) or (
                isinstance(part, ast.Call) and getattr(part.func, "id", "") not in LOOKS
            )
            assert not does, f"{file}:{said.lineno}"


def test_answers_and_refusals_are_the_same_without_asserts(tmp_path):
    spoilt = {
        "no_job.toml": "[[[[",
        "no_pitch.toml": (EXAMPLES / "alder.toml").read_text(encoding="utf-8").replace("pitch =", "pich ="),
        "no_size.toml": (EXAMPLES / "dogwood.toml")
        .read_text(encoding="utf-8")
        .replace('width = "', 'width = "-'),
    }
    for name, text in spoilt.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    jobs = [EXAMPLES / "alder.toml", EXAMPLES / "dogwood.toml", *(tmp_path / name for name in spoilt)]
    calls = [["check", str(job), "--json"] for job in jobs]
    calls += [["pins", str(EXAMPLES / "juniper.toml")], ["pins", "none.toml"]]
    with_asserts = told(calls)
    assert {status for status, _, _ in with_asserts} == {0, 1, 2}
    assert told_elsewhere(calls, "-O", begins="assert False, 'left out'") == with_asserts
