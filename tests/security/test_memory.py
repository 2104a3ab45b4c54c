"""Entries one after the other leave nothing behind in memory."""

from __future__ import annotations

import functools
import gc
import re
from itertools import pairwise

from security.browsing import Browser
from security.conftest import PLACE
from web.job_pages import Document

JOB = f"{PLACE}/job/dogwood.toml"
ENTRIES, BATCHES = 20, 3
"""What stays with each entry is seen in each batch, what is made once for good in one; by hand 2,000 were entered."""

WARM_UP = 40
"""Before them: what keeps the last few of something is full then."""


def caches():
    """What holds answers for the next time."""
    return [one for one in gc.get_objects() if isinstance(one, functools._lru_cache_wrapper)]


def held() -> tuple[int, int]:
    """How many things there are in memory, and how many answers are held without an end."""
    endless = 0
    for cache in caches():
        kept = cache.cache_info()
        if kept.maxsize is None:
            endless += kept.currsize
        else:
            cache.cache_clear()  # it holds so many and no more
    gc.collect()
    return len(gc.get_objects()), endless


class Typing:
    """Somebody who types one width after the other into an open page."""

    def __init__(self, browser: Browser) -> None:
        self.browser = browser
        self.form = Document(browser.ask(f"{JOB}/").text).form
        self.entries = 0

    def enter(self, times: int) -> None:
        """Type so many widths, each another one."""
        for _ in range(times):
            self.entries += 1
            typed = {"serial": str(self.entries), "step": f"v{self.entries % 7}"}
            typed["job.opening.width"] = f"6.{self.entries:04d}"
            answer = self.browser.ask(f"{JOB}/entries", {**self.form, **typed}, hx_request="true")
            assert answer.status == 200
            self.form["base"] = re.search(r'data-version="(\w+)"', answer.text)[1]


def test_entries_leave_nothing_behind(browser):
    typing = Typing(browser)
    typing.enter(WARM_UP)
    counted = [held()]
    for _ in range(BATCHES):
        typing.enter(ENTRIES)
        counted.append(held())
    assert len({answers for _, answers in counted}) == 1
    more = [after - before for (before, _), (after, _) in pairwise(counted)]
    assert min(more) < ENTRIES, f"{more} things more with each {ENTRIES} entries"
