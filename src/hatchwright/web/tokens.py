"""What opens the door: a word that is good for one time."""

from __future__ import annotations

import secrets
import threading


class Tokens:
    """Tokens that open the door: the last one that was issued, once."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._unused = ""

    def issue(self) -> str:
        """Make a token that opens the door once; one issued earlier does no longer."""
        token = secrets.token_urlsafe(24)
        with self._lock:
            self._unused = token
        return token

    def take(self, token: str) -> bool:
        """Use a token up."""
        with self._lock:
            is_it = bool(self._unused) and secrets.compare_digest(self._unused.encode(), token.encode())
            if is_it:
                self._unused = ""
            return is_it
