"""Imports go only down the ladder; each outside library has one home."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

SOURCE = Path(__file__).parents[2] / "src" / "hatchwright"

GROUND = {
    "units", "errors", "number", "workings", "said", "judged", "ground", "finding", "remedy", "register", "verdict",
    "room", "words", "progress",
}  # fmt: skip
LEVEL_1 = {"tables", "shapes", "metrology"}
LEVEL_2 = {"job"}
LEVEL_3 = {"layout", "recipe"}
LEVEL_4 = {"rules", "making", "inspection", "airworthiness", "strength"}
LEVEL_5 = {"search"}
BELOW_4 = LEVEL_1 | LEVEL_2 | LEVEL_3
VALUES = BELOW_4 | LEVEL_4 | LEVEL_5
"""What a stage hands to those above it."""
MAY_IMPORT = {
    "errors": {"said", "words"},
    "number": {"errors"},
    "units": {"errors", "number", "said"},
    "workings": {"said"},
    "said": set(),
    "judged": {"workings"},
    "ground": {"judged", "workings"},
    "finding": {"judged", "said", "workings"},
    "remedy": {"finding", "said"},
    "room": {"errors"},
    "progress": {"said"},
    "register": {"remedy", "said"},
    "verdict": {"finding", "judged", "register"},
    "words": GROUND - {"words"},
    "tables": set(),
    "shapes": set(),
    "metrology": set(),
    "job": LEVEL_1,
    "layout": LEVEL_1 | LEVEL_2,
    "recipe": LEVEL_1 | LEVEL_2 | {"layout"},
    "fem": {"shapes"},
    "rules": BELOW_4,
    "making": BELOW_4,
    "inspection": BELOW_4,
    "airworthiness": BELOW_4,
    "strength": BELOW_4 | {"fem"},
    "search": BELOW_4 | LEVEL_4 | {"fem"},
    "drawings": VALUES,
    "documents": VALUES | {"drawings"},
    "records": VALUES,
    "workflow": VALUES | {"fem", "drawings", "documents", "records"},
    "page": VALUES | {"fem", "drawings", "documents", "records", "workflow"},
    "web": VALUES | {"records", "workflow", "page"},
    "cli": VALUES | {"records", "workflow", "page"},
    "__main__": {"cli"},
}

HOMES = {
    "ezdxf": {"drawings/writers", "job/dxf_loop.py"},
    "typst": {"drawings/writers", "documents"},
    "pypdf": {"drawings/writers"},
    "pypdfium2": {"drawings/writers/readback"},
    "cryptography": {"records", "web/certificate.py"},
    "django": {"web", "records"},
    "psycopg": set(),
    "django_htmx": {"web"},
    "jinja2": {"web"},
    "uvicorn": {"web"},
    "click": {"cli"},
    "rich": {"cli"},
    "scipy": {"fem", "strength", "metrology", "inspection"},
    "cv2": {"inspection/scan", "inspection/outline/fitting.py"},
    "contourpy": {"drawings", "strength"},
    "filelock": {"workflow/alone.py"},
    "fontTools": {"drawings/shipped_letters.py", "inspection/trace"},
    "segno": {"drawings/sheet_code.py"},
    "tomlkit": {"job/file.py", "job/job_text.py"},
    "pydantic": {"job"},
    "pydantic_core": {"job"},
    "distributed": {"search"},
    "numpy": {
        "judged.py", "shapes", "metrology", "job", "layout", "fem", "rules", "making", "strength", "inspection",
        "airworthiness", "drawings", "search",
    },
}  # fmt: skip

FILES = sorted(SOURCE.rglob("*.py"))


@cache
def imports_of(path: Path) -> frozenset[str]:
    """Every module that a file imports, those inside functions and for types only included."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add("." * node.level + (node.module or ""))
    return frozenset(found)


def imports() -> Iterator[tuple[Path, str]]:
    """Every file by its place in the package, with each module that it imports."""
    for path in FILES:
        for module in sorted(imports_of(path)):
            yield path.relative_to(SOURCE), module


def may_import(place: Path, module: str) -> bool:
    """Whether a file stands above the module that it imports, or beside it in one folder."""
    folder = place.parts[0].removesuffix(".py")
    allowed = {folder} | GROUND | MAY_IMPORT.get(folder, set())
    if folder in GROUND:
        allowed = {folder} | MAY_IMPORT[folder]
    return module.split(".")[1] in allowed


def is_at_home(place: Path, module: str) -> bool:
    """Whether a library is one that a file may use."""
    homes = HOMES.get(module.split(".")[0])
    return homes is None or any(place.as_posix() == home or place.is_relative_to(home) for home in homes)


def test_there_are_files_to_read():
    assert len(FILES) > 40
    assert sum(1 for _ in imports()) > 1000


def test_imports_name_the_whole_place():
    assert [f"{place}: relative import" for place, module in imports() if module.startswith(".")] == []


def test_imports_go_down_the_ladder():
    own = [(place, module) for place, module in imports() if module.startswith("hatchwright.")]
    assert [f"{place} imports {module}" for place, module in own if not may_import(place, module)] == []


def test_each_outside_library_has_one_home():
    assert [f"{place} imports {module}" for place, module in imports() if not is_at_home(place, module)] == []


def test_writers_know_only_the_sheet():
    allowed = {"drawings", "shapes"} | GROUND
    for path in (SOURCE / "drawings" / "writers").glob("*.py"):
        for module in imports_of(path):
            if module.startswith("hatchwright."):
                assert module.split(".")[1] in allowed, f"{path.name} imports {module}"
