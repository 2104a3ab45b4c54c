"""Public functions and classes say what they do; what a docstring says of arguments, it says of the function's own.

An argument whose name and type say all has no line.
"""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[2] / "src" / "hatchwright"
FILES = sorted(path for path in SOURCE.rglob("*.py") if path.stat().st_size)

_ARGUMENT = re.compile(r"^ {4}(\*{0,2}\w+):", re.MULTILINE)


def public(path: Path):
    tree = ast.parse(path.read_text(encoding="utf-8"))
    yield "module", tree
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            yield node.name, node
            if isinstance(node, ast.ClassDef):
                for inner in node.body:
                    if isinstance(inner, ast.FunctionDef) and not inner.name.startswith("_"):
                        yield f"{node.name}.{inner.name}", inner


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_everything_public_has_a_docstring(path):
    missing = [name for name, node in public(path) if not ast.get_docstring(node)]
    assert not missing, f"no docstring: {missing}"


def named_arguments(docstring: str) -> list[str]:
    found = re.search(r"^Args:\n((?: {4,}.*\n?|\n)+)", docstring, re.MULTILINE)
    return [name.lstrip("*") for name in _ARGUMENT.findall(found[1])] if found else []


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_docstrings_name_the_arguments_of_the_function(path):
    for name, node in public(path):
        if not isinstance(node, ast.FunctionDef):
            continue
        told = named_arguments(ast.get_docstring(node) or "")
        arguments = node.args
        given = [a.arg for a in (*arguments.posonlyargs, *arguments.args)]
        given += [arguments.vararg.arg] if arguments.vararg else []
        given += [a.arg for a in arguments.kwonlyargs]
        given = [g for g in given if g not in ("self", "cls")]
        known = [one for one in given if one in told]
        assert told == known, f"{name}: the docstring names {told}, the function takes {given}"
