"""The machine's own key for signing sessions, kept so that an open page outlives a restart of the program."""

from __future__ import annotations

import os
import secrets
from contextlib import suppress
from pathlib import Path

_LEAST_CHARACTERS = 50


def kept_key() -> str:
    """The key of this user on this machine, made at the first start; "" where nothing can be kept."""
    state = Path(os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state")
    place = state / "hatchwright" / "session-key"
    try:
        place.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        with suppress(FileExistsError):
            handle = os.open(place, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with os.fdopen(handle, "w", encoding="ascii") as out:
                out.write(secrets.token_urlsafe(64))
        key = place.read_text(encoding="ascii").strip()
    except (OSError, ValueError):
        return ""
    return key if len(key) >= _LEAST_CHARACTERS else ""
