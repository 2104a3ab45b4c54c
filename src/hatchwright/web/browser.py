"""The browser of this computer, where there is one that a person sees."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from contextlib import suppress

_SCREENS = ("DISPLAY", "WAYLAND_DISPLAY")
_QUIET = subprocess.DEVNULL


def sees_a_browser() -> bool:
    """Whether a person at a terminal sees what a browser opens, on a screen or in the one that BROWSER names."""
    if os.environ.get("CI") or not sys.stdout.isatty():
        return False
    has_screen = sys.platform in ("darwin", "win32") or any(map(os.environ.get, _SCREENS))
    return has_screen or bool(os.environ.get("BROWSER"))


def open_in_browser(address: str) -> None:
    """Open an address, in a program of its own: one that waits, fails or talks does so by itself."""
    threading.Thread(target=_open, args=(address,), daemon=True).start()


def _open(address: str) -> None:
    call = [sys.executable, "-m", "webbrowser", "-t", address]
    with suppress(OSError):
        subprocess.run(call, stdin=_QUIET, stdout=_QUIET, stderr=_QUIET, start_new_session=True, check=False)
