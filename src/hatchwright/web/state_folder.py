"""Where the program keeps what is this user's own on this machine."""

from __future__ import annotations

import os
from pathlib import Path


def state_folder() -> Path:
    """The folder, made so that nobody else reads it.

    Raises:
        OSError, RuntimeError: it can't be made; the last where this user has no home.
    """
    state = Path(os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state")
    folder = state / "hatchwright"
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    return folder
