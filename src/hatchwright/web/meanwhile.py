"""Work that goes on while something is written: the disk takes as long to say that it has it as a drawing takes."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from typing import Generic, TypeVar

_MOST_AT_ONCE = 4
_THREADS = ThreadPoolExecutor(_MOST_AT_ONCE, "meanwhile")

_T = TypeVar("_T")


class Meanwhile(Generic[_T]):
    """What is made of a text, begun before the text is written.

    Args:
        make: of a text alone, so that it may be made for one that is never written.
    """

    def __init__(self, make: Callable[[str], _T]) -> None:
        self._make = make
        self._begun: tuple[str, Future[_T]] | None = None

    def begin(self, text: str) -> str:
        """Begin with a text that is about to be written; answers the text."""
        self._begun = text, _THREADS.submit(self._make, text)
        return text

    def of(self, text: str) -> _T:
        """What is made of the text that was written; errors as of what makes it."""
        if self._begun and self._begun[0] == text:
            return self._begun[1].result()
        return self._make(text)
