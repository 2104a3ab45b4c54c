"""Turns: one at a time, in the order of their coming, and none for who has gone."""

from __future__ import annotations

import threading

from hatchwright.web.turns import Turns
from tests.patience import until


def test_turns_come_in_the_order_in_which_they_were_asked_for_and_not_to_who_has_gone() -> None:
    turns, had = Turns(), []

    def have(number: int) -> None:
        with turns.turn(lambda: number != 2 or not gone.is_set()) as has_come:
            had.append((number, has_come))

    gone, threads = threading.Event(), []
    with turns.turn() as mine:
        assert mine
        for number in range(5):
            threads.append(threading.Thread(target=have, args=(number,)))
            threads[-1].start()
            until(lambda waiting=number + 2: len(turns._line) == waiting)
        gone.set()
        until(lambda: had, "the end of who has gone")
        assert had == [(2, False)]
    for thread in threads:
        thread.join()
    assert had == [(2, False), (0, True), (1, True), (3, True), (4, True)]


def test_who_is_not_waited_for_has_no_turn_even_when_it_is_free() -> None:
    turns = Turns()
    with turns.turn(lambda: False) as has_come:
        assert not has_come
    with turns.turn() as has_come:
        assert has_come
