"""What one server shows and keeps in memory; each request carries it."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from threading import Lock
from typing import TYPE_CHECKING, Generic, TypeVar

from django.http import HttpRequest
from msgspec import Struct

from hatchwright.page.made_papers import MadeFile, MadePapers
from hatchwright.page.screen import Asked, ScreenView
from hatchwright.page.strength_screen import StrengthView
from hatchwright.tables.table import ShopTables
from hatchwright.web.job_list import JobList
from hatchwright.web.long_work import LongWorks
from hatchwright.web.tokens import Tokens
from hatchwright.workflow.job_folder import JobFolder

if TYPE_CHECKING:
    from hatchwright.page.proposed import ProposedView
    from hatchwright.page.scanned import ScannedView
    from hatchwright.web.staff import Staff

SITE = "hatchwright.site"
"""Where a request carries its server's value, beside what the browser sent."""

Kept = TypeVar("Kept")


SaidBeside = dict[str, dict[str, object]]
"""What stands beside the boxes of a page, by kind and by the box's name."""


class Latest(Generic[Kept]):
    """The values put in last, so many at most, each under its name."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._lock = Lock()
        self._held: OrderedDict[str, Kept] = OrderedDict()

    def put(self, name: str, value: Kept) -> None:
        """Keep a value, in place of an earlier one of its name; the oldest goes when there are too many."""
        with self._lock:
            self._held[name] = value
            self._held.move_to_end(name)
            while len(self._held) > self._most:
                self._held.popitem(last=False)

    def get(self, name: str) -> Kept | None:
        """The value of that name, None when there is none any more."""
        with self._lock:
            return self._held.get(name)


class KeptPapers(Struct, frozen=True):
    """A print package that was made.

    Args:
        key: under which its files are handed out, "" where there are none.
        stamp: when it was made.
    """

    made: MadePapers
    key: str
    stamp: datetime


class KeptSet(Struct, frozen=True):
    """A print of a fleet that was made.

    Args:
        key: under which its files are handed out.
        stamp: when it was made.
    """

    key: str
    stamp: datetime


@dataclass(frozen=True, slots=True)
class Site:
    """One folder of jobs as one server shows it.

    Args:
        first_job: file name of the job that stands first in the list, "" for the example.
        shop: the shop's own rows of the tables, by which jobs are judged; None without.
        tokens: of the addresses that let a browser in.
        staff: who may come in by name and pass phrase; None on one's own computer, where the printed address lets in.
        drawn: the last sound view of each job.
        marked: codes of the rules that marked a hole when all of a job was judged last.
        said: what stood beside the boxes of a page, by the version that it was of.
        made: files that were made, by their key.
        papers: the print packages that are being made, and were.
        strength: the same of strength.
        scans: the same of flat scans.
        proposals: the same of the search for layouts.
        sets: the same of prints of a fleet.
        job_list: what is known of each job.
    """

    jobs: JobFolder
    first_job: str = ""
    shop: ShopTables | None = None
    tokens: Tokens = field(default_factory=Tokens)
    staff: Staff | None = None
    drawn: Latest[ScreenView] = field(default_factory=lambda: Latest(16))
    marked: Latest[frozenset[str]] = field(default_factory=lambda: Latest(500))
    said: Latest[SaidBeside] = field(default_factory=lambda: Latest(32))
    made: Latest[tuple[MadeFile, ...]] = field(default_factory=lambda: Latest(6))
    papers: LongWorks[KeptPapers] = field(default_factory=lambda: LongWorks(6))
    strength: LongWorks[StrengthView] = field(default_factory=lambda: LongWorks(16))
    scans: LongWorks[ScannedView] = field(default_factory=lambda: LongWorks(4))
    proposals: LongWorks[ProposedView] = field(default_factory=lambda: LongWorks(8))
    sets: LongWorks[KeptSet] = field(default_factory=lambda: LongWorks(2))
    job_list: JobList = field(init=False)

    def __post_init__(self) -> None:
        """Begin the list of the jobs."""
        object.__setattr__(self, "job_list", JobList(self.jobs, self.shop))

    def asked(self, name: str) -> Asked:
        """A job of the folder as it stands.

        Raises:
            JobError: there is none of that name, or it cannot be read.
        """
        return Asked(self.jobs.read(name), self.jobs.folder, name, shop=self.shop)


LEFT = "hatchwright.left"
"""Where a request carries the event that its page was left, if its server can tell."""


def waiting_for(request: HttpRequest) -> Callable[[], bool]:
    """Whether the page that asked still waits for its answer."""
    left: threading.Event | None = request.META.get(LEFT)
    return lambda: left is None or not left.is_set()


def site_of(request: HttpRequest) -> Site:
    """The value of the server that a request came to."""
    site: Site = request.META[SITE]
    return site
