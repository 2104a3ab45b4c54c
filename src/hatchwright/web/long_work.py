"""Work that takes long, which goes on while its page is reloaded, left and opened again; who asks next finds it."""

from __future__ import annotations

import logging
import time
from collections import OrderedDict
from collections.abc import Callable
from enum import StrEnum
from threading import Condition, Lock, Thread
from typing import Generic, TypeVar

from msgspec import Struct

from hatchwright.errors import HatchwrightError
from hatchwright.said import Said, said
from hatchwright.web.worker import WorkerError

KEPT_S = 75.0
"""How long work goes on that nobody asks for [s]: a browser lets a page that is out of sight ask once a minute."""


class State(StrEnum):
    """Where work stands."""

    GOING_ON = "going_on"
    DONE = "done"
    FAILED = "failed"
    CANCELED = "canceled"
    DROPPED = "dropped"


class WorkKey(Struct, frozen=True):
    """What work is of.

    Args:
        job: file name.
        choice: how it is asked for, beside the job.
        version: of the job.
    """

    job: str
    choice: object
    version: str


Answer = TypeVar("Answer")


class LongWork(Generic[Answer]):
    """One piece of work in a thread of its own, begun as it is made.

    Args:
        do: does it, telling how far it is, and asking again and again whether somebody waits for it and whether it was
            canceled; None where it was ended for that.
    """

    def __init__(self, do: Callable[[LongWork[Answer]], Answer | None]) -> None:
        self.state = State.GOING_ON
        self.share = 0.0
        self.doing: Said = said("page.work.waiting")
        self.answer: Answer | None = None
        self.error: HatchwrightError | None = None
        self._do = do
        self._moved = Condition()
        self._asked_at_s = time.monotonic()
        self._is_canceled = self._is_overtaken = False
        Thread(target=self._work, daemon=True).start()

    def ended(self, within_s: float = 0.0) -> bool:
        """Whether it has ended; who asks keeps it going, and waits for its end for so long [s]."""
        with self._moved:
            self._asked_at_s = time.monotonic()
            return self._moved.wait_for(lambda: self.state is not State.GOING_ON, within_s)

    def cancel(self) -> None:
        """End it for good, until somebody begins it again."""
        with self._moved:
            if self.state is State.GOING_ON:
                self._is_canceled = True
                self._end(State.CANCELED)

    def overtake(self) -> None:
        """Nobody will ask for it any more."""
        self._is_overtaken = True

    def progress(self, share: float, doing: Said) -> None:
        """Take in how far it is."""
        self.share, self.doing = share, doing

    def is_canceled(self) -> bool:
        """Whether somebody ended it."""
        return self._is_canceled

    def is_wanted(self) -> bool:
        """Whether somebody waits for it."""
        is_left = time.monotonic() - self._asked_at_s > KEPT_S
        return not (self._is_canceled or self._is_overtaken or is_left)

    def is_given_up(self) -> bool:
        """Whether it ends without an answer, or will where it has been noticed already that nobody waits."""
        return self.state is State.DROPPED or (self.state is State.GOING_ON and not self.is_wanted())

    def _work(self) -> None:
        answer, error = None, None
        try:
            answer = self._do(self)
        except HatchwrightError as told:
            error = told
        except Exception as fault:  # of any kind: the page says that there is one
            logging.getLogger("django").error("%s: %s", type(fault).__name__, fault)
            error = WorkerError.saying("page.worker_failed", where="page")
        with self._moved:
            if self.state is not State.GOING_ON:
                return
            self.answer, self.error = answer, error
            done = State.DROPPED if answer is None else State.DONE
            self._end(State.FAILED if error else done)

    def _end(self, state: State) -> None:
        self.state = state
        self._moved.notify_all()


class LongWorks(Generic[Answer]):
    """The work of one kind, by what it is of; the oldest that has ended is forgotten when there is too much.

    Args:
        most: to be kept.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._lock = Lock()
        self._held: OrderedDict[WorkKey, LongWork[Answer]] = OrderedDict()

    def get(self, key: WorkKey) -> LongWork[Answer] | None:
        """The work of that key; None where there is none, or it was dropped because nobody asked for it."""
        with self._lock:
            work = self._held.get(key)
            return None if work is None or work.state is State.DROPPED else work

    def begun(
        self, key: WorkKey, do: Callable[[LongWork[Answer]], Answer | None], *, again: bool = False
    ) -> LongWork[Answer]:
        """The work of that key, begun where there is none that will have an answer; it overtakes that of other versions
        of its job.

        Args:
            again: whether what has ended is begun anew.
        """
        with self._lock:
            work = self._held.get(key)
            if work and not (work.is_given_up() or (again and work.state is not State.GOING_ON)):
                return work
            for other, older in self._held.items():
                if (other.job, other.choice) == (key.job, key.choice):
                    older.overtake()
            work = self._held[key] = LongWork(do)
            self._held.move_to_end(key)
            ended = [one for one, held in self._held.items() if held.state is not State.GOING_ON]
            for one in ended[: max(0, len(self._held) - self._most)]:
                del self._held[one]
            return work
