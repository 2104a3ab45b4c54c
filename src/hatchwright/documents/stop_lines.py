"""The line of the work card about the stop of a drill: its setting, what lies behind, and how deep it may never go."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.step import PRACTICE, Line, line
from hatchwright.judged import Status
from hatchwright.recipe.stops import Stop
from hatchwright.said import Said, inch, room, said


def stop_lines(stop: Stop | None, on: str = "") -> Iterator[Line]:
    """The stop of a task; none where it drills nothing on the aircraft.

    Args:
        on: what the stop stands on where that is not the sheet drilled, such as "template".
    """
    if stop is not None:
        yield line(*_stop(stop, on), rests_on=(PRACTICE,))


def _stop(stop: Stop, on: str) -> Iterator[Said]:
    setting_in, before = stop.setting_in, stop.before
    if before is not None and before.status is not Status.PASS:
        id = "card.stop.strikes" if before.status is Status.STOP else "card.stop.not_shown"
        yield said(id, name=before.keep_out.name, depth=inch(before.depth_in))
    elif setting_in is not None:
        yield said("card.stop.on_template" if on else "card.stop", setting=inch(setting_in))
        if before is not None and stop.most_in is not None:
            depth, most = inch(before.depth_in), room(stop.most_in)
            yield said("card.stop.behind", name=before.keep_out.name, depth=depth, most=most)
