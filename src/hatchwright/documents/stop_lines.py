"""Lines at length about how far a tool or part may reach behind the skin, and what lies there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from hatchwright.documents.step import PRACTICE, Line, line
from hatchwright.judged import Status
from hatchwright.recipe.stops import Stop
from hatchwright.said import Said, Value, inch, room, said

Reaching = Literal[
    "drill", "drill_through_template", "step_drill", "cutter", "bar", "screw", "base_screw", "tool"
]
"""What reaches behind the skin: the first three take a stop that is set, the others reach as far as they do."""

JUDGED_BY = {
    "step_drill": "T603",
    "cutter": "T303",
    "bar": "R706",
    "screw": "R803",
    "base_screw": "R707",
    "tool": "R708",
}
"""The rule that judges each, where it is not that of the drills, R702."""


def stop_lines(stop: Stop | None, what: Reaching = "drill") -> Iterator[Line]:
    """How far one thing reaches and what lies behind it; nothing where it is not used in the step, or nothing has to be
    set and nothing lies there."""
    told = tuple(_told(stop, what)) if stop else ()
    if told:
        yield line(*told, rests_on=(PRACTICE,))


def _told(stop: Stop, what: Reaching) -> Iterator[Said]:
    setting_in, before = stop.setting_in, stop.before
    if stop.is_from_inside:
        yield said("card.stop.drill_from_inside", setting=inch(setting_in or 0.0))
        if before is not None:
            yield said("card.stop.room_inside", name=before.keep_out.name, depth=inch(before.depth_in))
        return
    takes_stop = what in ("drill", "drill_through_template", "step_drill")
    if before is None:
        if takes_stop:
            id = f"card.stop.{what}" if setting_in is not None else f"card.stop.{what}_not_known"
            yield said(id, setting=inch(setting_in or 0.0))
        return
    behind: dict[str, Value] = {
        "tool": said(f"card.stop.tool.{what}"),
        "name": before.keep_out.name,
        "depth": inch(before.depth_in),
        "code": JUDGED_BY.get(what, "R702"),
    }
    if before.status is Status.STOP:
        yield said("card.stop.strikes", **behind)
    elif before.status is not Status.PASS or setting_in is None or stop.reach_in is None:
        yield said("card.stop.not_known" if stop.reach_in is None else "card.stop.not_shown", **behind)
    elif takes_stop:
        yield said(f"card.stop.{what}", setting=inch(setting_in))
        yield said("card.stop.behind", most=room(stop.most_in or 0.0), **behind)
    else:
        yield said("card.stop.reaches", reach=inch(stop.reach_in), left=room(stop.left_in or 0.0), **behind)
