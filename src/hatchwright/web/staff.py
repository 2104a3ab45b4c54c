"""The people of a shop server: who they are now, and who comes in."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path
from threading import Lock, Semaphore

from hatchwright.errors import RecordError
from hatchwright.records.people import Person
from hatchwright.records.store import Store
from hatchwright.web.throttle import Throttle
from hatchwright.workflow.people import Signer, as_named, signer

_KEYS_AT_ONCE = 2
"""Each takes 64 MiB while it is opened."""


class TooSoonError(RecordError):
    """Too many wrong pass phrases were tried before this one, which was not looked at."""


class Staff:
    """Everybody who may come in, as the chain names them now.

    Args:
        folder: of the jobs; somebody is named in its store.
        fingerprint: of the server's certificate, as a browser shows it.
        clock: seconds that only rise [s].
    """

    def __init__(
        self, folder: Path, *, fingerprint: str = "", clock: Callable[[], float] = time.monotonic
    ) -> None:
        self.folder, self.fingerprint, self.clock = folder, fingerprint, clock
        self._store = Store.opened(folder)
        self._throttle = Throttle(clock)
        self._keys = Semaphore(_KEYS_AT_ONCE)
        self._lock = Lock()
        self._known: tuple[int, dict[str, Person]] = (-1, {})

    def people(self) -> dict[str, Person]:
        """Everybody by name, read anew where the store has something new about people.

        Raises:
            RecordError: the store can't be read.
        """
        seq = self._store.newest_seq("")
        with self._lock:
            if self._known[0] != seq:
                self._known = (seq, self._store.people())
            return self._known[1]

    def signer(self, name: str, pass_phrase: str, address: str) -> Signer:
        """Who comes in or signs, by name and pass phrase.

        Raises:
            TooSoonError: it was tried too often.
            RecordError: they don't go together.
        """
        name = as_named(name)
        if wait_s := self._throttle.wait_s(name, address):
            raise TooSoonError.saying("people.too_soon", wait=max(1, round(wait_s + 0.5)))
        with self._keys:
            known = signer(self.people(), name, pass_phrase)
        self._throttle.was_right(name, address)
        return known
