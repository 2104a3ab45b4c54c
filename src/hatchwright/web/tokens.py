"""Tokens of the address that lets a browser in: each works once."""

from __future__ import annotations

import secrets
import threading


class Tokens:
    """Tokens that open the door once each."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._unused: set[str] = set()

    def issue(self) -> str:
        """Make a token that opens the door once."""
        token = secrets.token_urlsafe(24)
        with self._lock:
            self._unused.add(token)
        return token

    def take(self, token: str) -> bool:
        """Use a token up."""
        with self._lock:
            found = next(
                (known for known in self._unused if secrets.compare_digest(known.encode(), token.encode())),
                None,
            )
            self._unused.discard(found or "")
            return found is not None
