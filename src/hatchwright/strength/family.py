"""S100: a family of answers that lacks a value is not shown by itself, and every other is worked out."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Generic, TypeVar

from msgspec import Struct

from hatchwright.errors import HatchwrightError, TableError
from hatchwright.finding import Finding, stated
from hatchwright.ground import practice
from hatchwright.judged import Status
from hatchwright.layout.layout import Layout
from hatchwright.layout.unlisted import NAMED_BY, names_behind, unlisted_names
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Said, said
from hatchwright.words.tell import tell_all

S100 = enter(Entry("S100", Shelf.HOLDS, reads=("loads",))).code
"""Strength that was asked for and cannot be worked out."""

T = TypeVar("T")


class Family(Struct, Generic[T], frozen=True):
    """Answers that rest on the same values.

    Args:
        name: `family.<name>` names it.
        answers: works them out; raises where a table lacks a value that they need.
    """

    name: str
    answers: Callable[[], Iterable[T]]


def worked_out(layout: Layout, families: Iterable[Family[T]]) -> tuple[tuple[T, ...], tuple[Finding, ...]]:
    """Work out each family by itself.

    Returns:
        tuple: the answers, of a refused family as far as it comes; and one S100 for each family and what it lacks.
    """
    found: list[T] = []
    refused: dict[Finding, None] = {}
    for family in families:
        try:
            found.extend(family.answers())
        except HatchwrightError as error:
            refused[not_shown(layout, family.name, error)] = None
    return tuple(found), tuple(refused)


def not_shown(layout: Layout, family: str, error: HatchwrightError) -> Finding:
    """S100: that a family can't be worked out, since no table lists a name of the job, or what else stopped it.

    Families that lack the same are told in one line.
    """
    why = names_behind(error, unlisted_names(layout.job, layout.shop))
    lacking = error.what.id if isinstance(error.what, Said) else error.what
    return stated(
        S100,
        Status.UNKNOWN,
        said("S100.subject", family=said(f"family.{family}"), why=why[0].what if why else error.what),
        practice("what no table gives"),
        said("S100.do"),
        cause=str(why[0].what) if why else lacking,
        told_by=NAMED_BY if why else "",
    )


class Refusal(TableError):
    """No value may be used; `told` says why, and then what to do."""

    def __init__(self, *told: Said, where: Said | str = "", enter: tuple[str, ...] = ()) -> None:
        self.told = told
        self.enter = enter
        super().__init__(tell_all(told), where=where)


def told_of(error: HatchwrightError) -> tuple[Said | str, ...]:
    """What an error says, to be told beside the margin that it kept from being computed."""
    if isinstance(error, Refusal):
        return error.told
    return (said("strength.refused", why=str(error).rstrip(".")),)


def entries_of(error: HatchwrightError) -> tuple[str, ...]:
    """Entries of the job that would mend it."""
    return error.enter if isinstance(error, Refusal) else ()
