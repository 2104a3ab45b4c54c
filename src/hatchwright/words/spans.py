"""Numbers of holes and of steps in short: those that follow each other as the first and the last."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hatchwright.said import Listed, Value, said


def spans_said(numbers: Iterable[int]) -> Listed:
    """Numbers in order, runs of them as first to last.

    >>> from hatchwright.words.tell import tell
    >>> tell(spans_said((1, 2, 3, 7, 9, 8)))
    '1 to 3, 7 to 9'
    """
    spans: Iterator[Value] = (
        first if first == last else said("span", first=first, last=last) for first, last in _spans(numbers)
    )
    return Listed(tuple(spans), ",")


def spans_in_short(numbers: Iterable[int]) -> str:
    """The same where room is scarce.

    >>> spans_in_short([1, 2, 3, 7, 9, 8, 12])
    '1-3, 7-9, 12'
    """
    return ", ".join(str(first) if first == last else f"{first}-{last}" for first, last in _spans(numbers))


def _spans(numbers: Iterable[int]) -> list[tuple[int, int]]:
    """The first and the last number of each run."""
    spans: list[tuple[int, int]] = []
    for number in sorted(set(numbers)):
        if spans and number == spans[-1][1] + 1:
            spans[-1] = spans[-1][0], number
        else:
            spans.append((number, number))
    return spans
