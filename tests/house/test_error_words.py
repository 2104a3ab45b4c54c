"""No sentence of an error or a fault stands in the code: each is an entry of the catalogue, told where it is shown."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[2] / "src" / "hatchwright"
WORDED = ("units.py", "job", "tables", "shapes", "layout", "fem", "metrology", "search", "workflow")
RAISED = {
    "Fault", "EntryError", "JobError", "TableError", "GeometryError", "SolveError", "ExportError",
    "refusal", "matching", "saying", "about", "saying_at",
}  # fmt: skip
NO_SENTENCE = {"where", "given", "field", "line", "place", "unit"}


def words_of(node: ast.AST) -> str:
    """The literal text of a string, "" for anything else."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(str(one.value) for one in node.values if isinstance(one, ast.Constant))
    return ""


def sentences(source: str) -> Iterator[str]:
    """Each argument of an error that is more than one word."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and getattr(node.func, "id", getattr(node.func, "attr", "")) in RAISED:
            told = [*node.args, *(one.value for one in node.keywords if one.arg not in NO_SENTENCE)]
            yield from (
                f"line {node.lineno}: {words_of(one)}" for one in told if " " in words_of(one).strip()
            )


@pytest.mark.parametrize("place", WORDED)
def test_an_error_names_an_entry_of_the_catalogue(place):
    paths = [SOURCE / place] if place.endswith(".py") else sorted((SOURCE / place).rglob("*.py"))
    assert paths
    assert [f"{path.name} {one}" for path in paths for one in sentences(path.read_text("utf-8"))] == []


def test_a_sentence_in_code_would_be_seen():
    assert list(sentences('raise TableError("there is no such row", where="some table")'))
    assert list(sentences('Fault("skin", said("job.no_unit"), remedy=f"Write {unit} there.")'))
    assert not list(sentences('TableError(said("error.no_table"), where="the shop\'s tables")'))
