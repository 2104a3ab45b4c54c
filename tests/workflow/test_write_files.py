"""Writing a set of files: all or nothing, and nobody's file is replaced without leave."""

from __future__ import annotations

import os

import pytest

from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.errors import ExportError
from hatchwright.workflow import write_files as module
from hatchwright.workflow.write_files import write_files

FILES = {"a.svg": b"one", "b.dxf": b"two", "c.pdf": b"three"}


def layout(name, content):
    """One file of a layout drawing."""
    return MadeFile(name, MadeKind.LAYOUT, "left", True, Written.PDF, content)


MADE = tuple(layout(name, content) for name, content in FILES.items())


def listing(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_files_are_written_into_a_folder_that_is_made(tmp_path):
    written = write_files(MADE, tmp_path / "shop" / "alder")
    assert written == tuple(tmp_path / "shop" / "alder" / name for name in FILES)
    assert listing(tmp_path / "shop" / "alder") == FILES


def test_the_same_bytes_count_as_written(tmp_path):
    write_files(MADE, tmp_path)
    write_files(MADE, tmp_path)
    assert listing(tmp_path) == FILES


def test_a_foreign_file_stops_all_of_them(tmp_path):
    (tmp_path / "b.dxf").write_bytes(b"mine")
    with pytest.raises(ExportError, match=r"b\.dxf"):
        write_files(MADE, tmp_path)
    assert listing(tmp_path) == {"b.dxf": b"mine"}


def test_it_is_replaced_when_the_caller_says_so(tmp_path):
    (tmp_path / "b.dxf").write_bytes(b"mine")
    (tmp_path / "other.txt").write_bytes(b"not ours")
    write_files(MADE, tmp_path, overwrite=True)
    assert listing(tmp_path) == {**FILES, "other.txt": b"not ours"}


def test_a_folder_of_that_name_is_never_replaced(tmp_path):
    (tmp_path / "a.svg").mkdir()
    with pytest.raises(ExportError, match=r"a\.svg"):
        write_files(MADE, tmp_path, overwrite=True)
    assert [path.name for path in tmp_path.iterdir()] == ["a.svg"]


def test_a_link_is_replaced_and_what_it_points_to_is_not_touched(tmp_path):
    folder, target = tmp_path / "out", tmp_path / "target"
    folder.mkdir()
    target.write_bytes(b"elsewhere")
    (folder / "a.svg").symlink_to(target)
    write_files(MADE, folder, overwrite=True)
    assert target.read_bytes() == b"elsewhere"
    assert listing(folder) == FILES


@pytest.mark.parametrize("failing", range(1, 7))
def test_a_failure_on_the_way_puts_everything_back(tmp_path, monkeypatch, failing):
    before = {"a.svg": b"old one", "b.dxf": b"old two"}
    for name, data in before.items():
        (tmp_path / name).write_bytes(data)
    calls = iter(range(1, 100))
    replace = os.replace

    def full_disk(source, target):
        if next(calls) == failing:
            raise OSError(28, "No space left on device")
        replace(source, target)

    monkeypatch.setattr(module.os, "replace", full_disk)
    with pytest.raises(ExportError, match="No space left"):
        write_files(MADE, tmp_path, overwrite=True)
    assert listing(tmp_path) == before


def test_a_failure_leaves_no_new_folder_behind(tmp_path, monkeypatch):
    def full_disk(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(module.os, "fsync", full_disk)
    with pytest.raises(ExportError):
        write_files(MADE, tmp_path / "shop" / "alder")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["../x.svg", "a/b.svg", "", "..", "."])
def test_only_bare_names_are_written(tmp_path, name):
    with pytest.raises(ExportError, match="bare"):
        write_files((layout(name, b""),), tmp_path / "out")
    assert list(tmp_path.iterdir()) == []


def test_a_file_where_the_folder_should_be_is_refused(tmp_path):
    (tmp_path / "shop").write_bytes(b"a file")
    with pytest.raises(ExportError, match="can't be written"):
        write_files(MADE, tmp_path / "shop")
    assert (tmp_path / "shop").read_bytes() == b"a file"
