"""No sentence that a person can be shown stands in code: each is an entry of the catalogue, told where it is shown.

Every string of every module outside `words` is looked at, those put together (f-strings) as a whole. What may hold
several words and yet is no sentence of ours is listed below, each kind with its reason.
"""

from __future__ import annotations

import ast
import csv
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from hatchwright.words.catalog import HOME, entries

SOURCE = Path(__file__).parents[2] / "src" / "hatchwright"
MODULES = sorted(path for path in SOURCE.rglob("*.py") if path.relative_to(SOURCE).parts[0] != "words")

SEVERAL_WORDS = re.compile(r"[A-Za-z]{2,}['’]?[,;:.]? +[A-Za-z]{2,}")
"""Two words beside each other, in capitals or not."""

FORMULAS = {
    "work_out", "looked_up", "Working", "working", "lengths", "resting_on", "Quantity", "Measure", "_working",
    "_critical", "_of_screw", "_stress", "_within", "lowest",
}  # fmt: skip
"""Steps of an arithmetic: symbols and formulas, such as `Fc cr` and `opening / bay`, which are read as they stand."""
PLACES = {"Source", "Cited", "Instruction", "_practice", "practice", "practised"}
"""Places of a source, as the document itself names them: `par. 4-57, single row`."""
BOUNDS = {"Bound", "bound", "reading"}
"""A bound: its formula, its unit and the place where it is published."""
PATTERNS = {"compile", "match", "fullmatch", "sub", "search", "findall", "matching"}
"""Regular expressions."""
OF_THE_PROGRAM = {"AssertionError", "ValueError", "TypeError", "RuntimeError", "NotImplementedError", "warn"}
"""A fault of the program itself, in a traceback that its developers read; people are told `HatchwrightError`s."""
ROUTES = {"path", "re_path"}
"""Addresses of the page."""
SUMS = {"einsum"}
"""Index letters of a sum over arrays."""
QUERIES = {"execute"}
"""Statements to a database."""
A_STATEMENT = re.compile(
    r"\s*(SELECT \S+(,|.* FROM )|INSERT INTO |DELETE FROM |CREATE (OR REPLACE )?[A-Z]+ |DROP |PRAGMA )"
)
"""The same by itself: it begins with a verb of the database in capitals and what it does that to."""
WHOLE = FORMULAS | PLACES | BOUNDS | PATTERNS | OF_THE_PROGRAM | ROUTES | SUMS | QUERIES
"""Calls whose arguments are no sentences."""

MARKUP = re.compile(r"<[a-zA-Z?/!]|^[a-z]+/[a-z+-]+; |, sans-serif$|^public, max-age=|^attachment; filename=")
"""Tags of XML and HTML, and heads of the web's protocol."""
UNITS = {"in", "in^2", "psi", "lbf", "lbf/in", "lb", "deg", ""}
"""`("least gap", .04, "in")` is the symbol of a measure with its value and its unit."""
NO_WORDS = {
    "Table": {"title"},
    "stated": {"cause"},
    "held": {"cause"},
    "rule": {"cause"},
    "replace": {"asks"},
}
"""A table's title is its place in its document: `notes of tables 4-9 to 4-11`; a cause is a key that ties findings;
what a bound asks is its formula.
"""
NO_WORDS_NAMED = {"formula", "equation", "cause", "_UNIT_WORDS", "KEY_HOLE"}
"""Variables that hold a formula in symbols, the cause of a finding, a unit such as `per in`, and the name by which code
knows one hole of a template among the others.
"""
FONTS = {"DejaVu Sans"}
"""Names of fonts that drawings ask for."""


def kept_names() -> set[str]:
    """Names that a file keeps and code compares: they are keys, told by an entry of the catalogue of their own.

    Words of a closed list in the job file (`Literal`), readings to choose from, edges of the layout, cells of our
    tables, and values of an enumeration that are readings too or have an entry each.
    """
    known = {one.id for one in entries(HOME)}
    names: set[str] = set()
    for path in SOURCE.rglob("*.csv"):
        with path.open(encoding="utf-8", newline="") as file:
            names |= {cell for row in csv.reader(file) for cell in row}
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            match node:
                case ast.Subscript(value=ast.Name(id="Literal"), slice=of):
                    names |= texts_in(of)
                case ast.Assign(targets=[ast.Name(id=name)], value=of) if name.endswith("_READINGS"):
                    names |= texts_in(of)
                case ast.Call(func=ast.Name(id="Edge"), args=[of, *_]):
                    names |= texts_in(of)
                case ast.ClassDef(name=name, bases=bases) if any("Enum" in ast.unparse(one) for one in bases):
                    is_reading = name.endswith("Reading")
                    for line in node.body:
                        if isinstance(line, ast.Assign) and isinstance(line.targets[0], ast.Name):
                            id = f"{name.lower()}.{line.targets[0].id.lower()}"
                            names |= texts_in(line.value) if is_reading or id in known else set()
    return names


def texts_in(node: ast.AST) -> set[str]:
    return {
        one.value for one in ast.walk(node) if isinstance(one, ast.Constant) and isinstance(one.value, str)
    }


KEPT = kept_names()


def text_of(node: ast.Constant | ast.JoinedStr) -> str:
    """A string as a whole; what is put into it stands as a mark."""
    if isinstance(node, ast.JoinedStr):
        return "".join(str(one.value) if isinstance(one, ast.Constant) else "…" for one in node.values)
    return node.value if isinstance(node.value, str) else ""


def called(node: ast.Call) -> str:
    return getattr(node.func, "id", "") or getattr(node.func, "attr", "")


def sentences(source: str) -> Iterator[str]:
    """Every string of a module that reads like a sentence."""
    tree = ast.parse(source)
    spared: set[int] = set()
    for node in ast.walk(tree):
        match node:
            case ast.Expr(value=ast.Constant()):  # a docstring of a module, class, function or value
                spare = [node.value]
            case ast.Call() if called(node) in WHOLE:
                spare = [*node.args, *(one.value for one in node.keywords)]
            case ast.Call() if called(node) in NO_WORDS:
                spare = [one.value for one in node.keywords if one.arg in NO_WORDS[called(node)]]
            case ast.Assign(targets=[ast.Name(id=name)], value=value) if name in NO_WORDS_NAMED:
                spare = [value]
            case ast.Tuple(elts=[ast.Constant() as symbol, _, ast.Constant(value=unit)]) if unit in UNITS:
                spare = [symbol]
            case ast.Assert(msg=ast.AST() as message):  # a fault of the program itself
                spare = [message]
            case ast.Compare():  # what is only compared is shown to nobody
                spare = [one for one in (node.left, *node.comparators) if isinstance(one, ast.Constant)]
            case ast.JoinedStr():  # looked at as a whole
                spare = [one for one in node.values if isinstance(one, ast.Constant)]
            case _:
                continue
        spared |= {id(one) for part in spare for one in ast.walk(part)}
    for node in ast.walk(tree):
        if not isinstance(node, ast.Constant | ast.JoinedStr) or id(node) in spared:
            continue
        text = text_of(node)
        if (
            SEVERAL_WORDS.search(text)
            and text not in KEPT | FONTS
            and not MARKUP.search(text)
            and not A_STATEMENT.match(text)
        ):
            yield f"line {node.lineno}: {text[:90]!r}"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_a_module_holds_no_sentence(path):
    assert list(sentences(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize(
    "line",
    [
        'raise TableError("there is no such row", where="some table")',
        'yield f"Not analyzed: {topics}."',
        'NOTE = "Drill out bad rivets."',
        'sketches_pdf("TEMPLATE SHEET", sheets)',
        'Fault("skin", said("job.no_unit"), remedy=f"Write {unit} there, please.")',
        'stated(code, status, "edge distance short", cause="edge distance")',
        'words = {"drill": ", and no other"}',
        'def told():\n    return "the hole is too large" if large else ""',
    ],
)
def test_a_sentence_would_be_seen(line):
    assert list(sentences(line))


@pytest.mark.parametrize(
    "line",
    [
        '"""What a module is for."""',
        'said("R101.move", hole=hole)',
        'work_out(1.0, "opening / bay = opening over bay")',
        'Source("AC43.13-1B", "par. 4-57, single row")',
        're.compile(r"to be seen (once|twice)")',
        'if head == "100 degree flush": pass',
        'assert template, "a toolpath comes from a template"',
    ],
)
def test_what_is_no_sentence_of_ours_is_spared(line):
    assert not list(sentences(line))


@pytest.mark.parametrize("path", MODULES[:: max(1, len(MODULES) // 12)], ids=lambda path: path.stem)
def test_a_sentence_put_into_a_module_would_be_seen(path):
    written = path.read_text(encoding="utf-8") + '\n_NOTE = "Ask the engineer first."\n'
    assert [one for one in sentences(written) if "Ask the engineer first." in one]
