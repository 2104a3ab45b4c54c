"""The page tells the time of this machine, not that of the framework's default place."""

from __future__ import annotations

import os
import subprocess
import sys

from tests.patience import PATIENCE_S

SCRIPT = """
import os, time
from datetime import datetime
from pathlib import Path
from hatchwright.web.server import application
before = datetime.now().astimezone().utcoffset()
application(Path("."))
assert datetime.now().astimezone().utcoffset() == before, (before, datetime.now().astimezone())
print("same clock")
"""


def test_serving_does_not_change_the_clock(tmp_path):
    place = os.environ | {"TZ": "HANGAR-5:45", "XDG_STATE_HOME": str(tmp_path)}
    call = [sys.executable, "-c", SCRIPT]
    done = subprocess.run(call, capture_output=True, text=True, cwd=tmp_path, env=place, timeout=PATIENCE_S)
    assert done.stdout.strip() == "same clock", done.stderr
