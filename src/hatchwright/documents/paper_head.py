"""What stands at the head and foot of a paper of words: whose it is, which side and revision, and who signs."""

from __future__ import annotations

from typing import Any

from hatchwright.drawings.page_frame import aircraft_said, side_word
from hatchwright.job.job import Job
from hatchwright.said import Value, said
from hatchwright.words.catalog import HOME
from hatchwright.words.tell import tell

_LINE = ("revision", "page", "of", "name", "certificate", "date", "initials")


def paper_head(job: Job, title: Value, *, date: str, tongue: str = HOME) -> dict[str, Any]:
    """Head and foot of a paper of a job, for `frame.typ`.

    Args:
        date: when it was made, and of which answers.
        tongue: language of the paper.
    """
    return {
        "side": side_word(job),
        "title": tell(title, job.unit, tongue),
        "job": job.title,
        "aircraft": tell(aircraft_said(job), tongue=tongue),
        "revision": job.revision,
        "date": date,
        "not_data": tell(said("paper.not_data"), tongue=tongue),
        "words": line_words(tongue),
        "language": tongue.partition("_")[0],  # as typesetting names it
    }


def head_without_job(*, side: Value, title: Value, what: Value, more: Value, date: str) -> dict[str, Any]:
    """Head and foot of a paper that belongs to no one job, for `frame.typ`.

    Args:
        side: what stands in its box in the place of a side.
        what, more: two lines below the title.
        date: when it was made.
    """
    return {
        "side": tell(side),
        "title": tell(title),
        "job": tell(what),
        "aircraft": tell(more),
        "revision": "",
        "date": date,
        "not_data": tell(said("paper.not_data")),
        "words": line_words() | {"revision": ""},
    }


def line_words(tongue: str = HOME) -> dict[str, str]:
    """Words of the page number and of the line to sign on, by the names of ``paper.`` in the catalog."""
    return {name: tell(said(f"paper.{name}"), tongue=tongue) for name in _LINE}
