"""One after the other, beside whoever asks: names wait for their turn, and nobody waits for them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from threading import Lock, Thread


class InTurn:
    """Does the same for one name after the other, in a thread that ends when no name is left.

    Args:
        do: for a name; it raises nothing.
        done: called when no name is left.
    """

    def __init__(self, do: Callable[[str], object], done: Callable[[], object]) -> None:
        self._do = do
        self._done = done
        self._lock = Lock()
        self._names: dict[str, None] = {}  # each once, in the order in which they came
        self._is_at_work = False

    def add(self, names: Iterable[str]) -> None:
        """Let names wait for their turn; one that waits already keeps its place."""
        with self._lock:
            self._names |= dict.fromkeys(names)
            is_to_begin = bool(self._names) and not self._is_at_work
            self._is_at_work |= is_to_begin
        if is_to_begin:
            Thread(target=self._work, daemon=True).start()

    def _work(self) -> None:
        while (name := self._next()) is not None:
            self._do(name)
            with self._lock:
                self._names.pop(name)
        self._done()

    def _next(self) -> str | None:
        with self._lock:
            name = next(iter(self._names), None)
            self._is_at_work = name is not None
            return name
