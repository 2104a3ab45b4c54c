"""Public functions and classes say what they do; what a docstring says of arguments, it says of the function's own.

An argument whose name and type say all has no line.
"""

from __future__ import annotations

import ast
import re
from functools import cache
from pathlib import Path

SOURCE = Path(__file__).parents[2] / "src" / "hatchwright"
FILES = sorted(path for path in SOURCE.rglob("*.py") if path.stat().st_size)

_ARGUMENT = re.compile(r"^ {4}(\*{0,2}\w+):", re.MULTILINE)


@cache
def public(path: Path):
    return list(_public(path))


def _public(path: Path):
    tree = ast.parse(path.read_text(encoding="utf-8"))
    yield "module", tree
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            yield node.name, node
            if isinstance(node, ast.ClassDef):
                for inner in node.body:
                    if isinstance(inner, ast.FunctionDef) and not inner.name.startswith("_"):
                        yield f"{node.name}.{inner.name}", inner


def everything_public():
    """Every public module, class and function, with its place in words."""
    for path in FILES:
        for name, node in public(path):
            yield f"{path.relative_to(SOURCE)}: {name}", node


def test_everything_public_has_a_docstring():
    everything = list(everything_public())
    assert len(everything) > 1000
    assert [place for place, node in everything if not ast.get_docstring(node)] == []


def named_arguments(docstring: str) -> list[str]:
    found = re.search(r"^Args:\n((?: {4,}.*\n?|\n)+)", docstring, re.MULTILINE)
    return [name.lstrip("*") for name in _ARGUMENT.findall(found[1])] if found else []


def taken_arguments(function: ast.FunctionDef) -> list[str]:
    arguments = function.args
    given = [a.arg for a in (*arguments.posonlyargs, *arguments.args)]
    given += [arguments.vararg.arg] if arguments.vararg else []
    given += [a.arg for a in arguments.kwonlyargs]
    return [g for g in given if g not in ("self", "cls")]


def test_docstrings_name_the_arguments_of_the_function():
    faults, told_of = [], 0
    for place, node in everything_public():
        if not isinstance(node, ast.FunctionDef):
            continue
        told, given = named_arguments(ast.get_docstring(node) or ""), taken_arguments(node)
        told_of += bool(told)
        if told != [one for one in given if one in told]:
            faults.append(f"{place}: the docstring names {told}, the function takes {given}")
    assert faults == []
    assert told_of > 100
