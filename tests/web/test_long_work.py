"""Long work by itself: what nobody wanted meanwhile is there for who asks for it again."""

from __future__ import annotations

import threading

from hatchwright.web.long_work import LongWorks, WorkKey
from tests.patience import PATIENCE_S


def test_work_overtaken_by_an_entry_that_is_undone_at_once_has_an_answer():
    may_end = threading.Event()

    def do(work):
        may_end.wait(PATIENCE_S)
        return "made" if work.is_wanted() else None

    works: LongWorks[str] = LongWorks(6)
    first, other = WorkKey("job", "", "1"), WorkKey("job", "", "2")
    works.begun(first, do)
    works.begun(other, do)
    work = works.begun(first, do)
    may_end.set()
    assert work.ended(PATIENCE_S)
    assert work.answer == "made"
