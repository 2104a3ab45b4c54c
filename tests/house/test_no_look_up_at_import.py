"""No module looks up a row of a table while it is imported: a missing row is an answer, and breaks no import."""

from __future__ import annotations

import subprocess
import sys

PROGRAM = """
import importlib, pkgutil
import hatchwright
from hatchwright.tables import table

def look_up(*_, **__):
    raise AssertionError("a table is read at import")

table._built_in = look_up
names = [found.name for found in pkgutil.walk_packages(hatchwright.__path__, "hatchwright.")]
for name in names:
    if not name.endswith("__main__"):
        importlib.import_module(name)
print(len(names))
"""


def test_every_module_is_imported_without_a_table():
    done = subprocess.run([sys.executable, "-c", PROGRAM], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    assert int(done.stdout) > 300
