"""A process beside the page for work that takes long, so that no drawing waits for it."""

from __future__ import annotations

import logging
import multiprocessing
import os
import traceback
from collections.abc import Callable, Mapping
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from typing import Any, TypeVar

from msgspec import Struct

from hatchwright.errors import HatchwrightError, RoomError, out_of_memory
from hatchwright.progress import Progress
from hatchwright.said import Said, said
from hatchwright.search.worker_environment import set_worker_environment
from hatchwright.search.worker_life import end_with_parent
from hatchwright.web.turns import LOOKS_EVERY_S, Turns

_YIELDS = 19
NICE = "HATCHWRIGHT_NICE"
"""Variable of the environment: how far the processes beside the page yield to all others, 19 when it is not set."""

Answer = TypeVar("Answer")


class WorkerError(HatchwrightError):
    """The process beside the page gave no answer."""


class _Told(Struct, frozen=True):
    """Sent before the answer: how far it is."""

    share: float
    doing: Said


def _never() -> bool:
    return False


class Worker:
    """A process that answers one question at a time and takes the least of the machine's time.

    It is started by a question and ends with the program at the latest.

    Args:
        name: of the process, and of the work in what is said when it fails.
        is_kept: whether the process waits for the next question, with what it remembers, and finishes what it has
            begun. Otherwise it ends with its answer, which gives all of its memory back, or as soon as nobody
            wants the answer any more.
    """

    def __init__(self, name: str, *, is_kept: bool) -> None:
        self.name = name
        self.is_kept = is_kept
        self.turns = Turns()
        self._running: tuple[SpawnProcess, Connection] | None = None

    def ask(
        self,
        call: Callable[..., Answer],
        *values: Any,
        is_wanted: Callable[[], bool] = lambda: True,
        is_canceled: Callable[[], bool] = _never,
        progress: Progress | None = None,
    ) -> Answer | None:
        """Wait for the turn, and let the process do a call.

        Args:
            call: a function that stands in a module; it and its values, and its answer, travel between processes.
            is_wanted: whether somebody still waits for the answer; asked again and again.
            is_canceled: whether what was begun is to end, also in a process that is kept; asked again and again.
            progress: told how far it is; the call is then given a `progress` of its own.
        Returns:
            Answer | None: None when nobody waited for it any more, or it was canceled.
        Raises:
            WorkerError: the process was ended from outside, or the call failed.
            HatchwrightError: that the call raised.
        """
        with self.turns.turn(is_wanted) as has_come:
            if not has_come:
                return None
            try:
                if progress:
                    progress(0.0, said("page.work.starting"))
                is_to_end = is_canceled if self.is_kept else lambda: is_canceled() or not is_wanted()
                return self._answer(call, values, is_to_end, progress)
            finally:
                if not self.is_kept:
                    self._end()

    def rest(self) -> None:
        """End the process, which gives all of its memory back; the next question starts another."""
        with self.turns.turn():
            self._end()

    def _answer(
        self,
        call: Callable[..., Answer],
        values: tuple[Any, ...],
        is_to_end: Callable[[], bool],
        progress: Progress | None,
    ) -> Answer | None:
        try:
            _, line = self._running = self._running or self._started()
            line.send((call, values, progress is not None))
            while True:
                if is_to_end():
                    self._end()
                    return None
                if not line.poll(LOOKS_EVERY_S):
                    continue
                come = line.recv()
                if not isinstance(come, _Told):
                    break
                if progress:
                    progress(come.share, come.doing)
            answer, failure = come
        except (EOFError, OSError):
            self._end()  # the next question starts another
            raise WorkerError.saying("page.worker_ended", where=self.name) from None
        if isinstance(failure, RoomError):
            self._end()  # what it holds is given back
        if isinstance(failure, HatchwrightError):
            raise failure
        if failure:
            logging.getLogger("django").error("%s: %s", self.name, failure)
            raise WorkerError.saying("page.worker_failed", where=self.name)
        return answer  # type: ignore[no-any-return]

    def _started(self) -> tuple[SpawnProcess, Connection]:
        set_worker_environment()
        context = multiprocessing.get_context("spawn")
        here, there = context.Pipe()
        process = context.Process(target=_work, args=(there,), daemon=True, name=self.name)
        process.start()
        there.close()
        return process, here

    def _end(self) -> None:
        if self._running:
            process, line = self._running
            process.kill()
            process.join()
            line.close()
            self._running = None


def _work(line: Connection) -> None:
    """Answer one question after the other until the program at the other end is gone."""
    end_with_parent()
    if hasattr(os, "nice"):
        asked = os.environ.get(NICE, "")
        os.nice(int(asked) if asked.isdecimal() else _YIELDS)
    try:
        while True:
            call, values, is_followed = line.recv()
            how = {"progress": lambda share, doing: line.send(_Told(share, doing))} if is_followed else {}
            line.send(_done(call, values, how))
    except (EOFError, OSError, MemoryError):
        return


def _done(
    call: Callable[..., Any], values: tuple[Any, ...], how: Mapping[str, Progress]
) -> tuple[Any, HatchwrightError | str]:
    """The answer, or what refused it, or what failed and where in one line."""
    try:
        return call(*values, **how), ""
    except HatchwrightError as error:
        return None, error
    except Exception as error:  # of any kind: the page says that there is a fault, and goes on
        if told := out_of_memory(error):
            return None, told
        place = traceback.extract_tb(error.__traceback__)[-1]
        return None, f"{type(error).__name__}: {error} at {place.filename}:{place.lineno}"
