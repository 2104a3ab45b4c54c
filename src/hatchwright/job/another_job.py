"""The text of a job for another place: the other side, or another aircraft, with all that must be asked again left out.

Numbers stay as they were typed. Coordinates hold on the other side as they are, outboard and aft as before; an axis
that runs left there runs right.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from hatchwright.errors import JobError
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.file import edited
from hatchwright.job.frame import SWAPPED
from hatchwright.job.gate import Gate
from hatchwright.job.job_text import added, taken
from hatchwright.job.rivet_rows import TURNED

_SHEETS = ("skin", "doubler", "cover", "patch.plug")

ASKED_AGAIN = (
    *(f"gate.{name}" for name in Gate.model_fields),
    *(
        *(f"{sheet}.{name}" for sheet in _SHEETS for name in ("measured", "measured_u")),
        "bay.corners",
        "bay.nothing_near",
        "bay.way_in",
        "mount.nearest_antenna",
    ),
    *("site", "departures.accepted", "acknowledged", "as_made", "looks"),
)
"""What was measured, seen, answered or accepted for one place; it says nothing of another."""

_EXPECTED = ("frame.origin", "skin.thickness")
_EXPECTED_LINES = ("bay.rows", "bay.flanges", "bay.keep_outs", "bay.existing", "bay.existing_rows")
"""What is expected to be the same elsewhere: it stands as samples until it is confirmed; lists line by line."""


def on_the_other_side(text: str) -> str:
    """The job of the other side of the same aircraft.

    Raises:
        JobError: the job is on the center line, or its side is not known.
    """
    return _asked_again(_turned(text), also=())


def on_an_aircraft(text: str, *, title: str, registration: str, serial: str, side: str) -> str:
    """The job of a named side of a named aircraft, by the same mandate in the same revision.

    Args:
        side: left or right.
    Raises:
        JobError: the job is on the center line, or its side is not known.
    """
    if standing_at(raw_data(text), "aircraft.side") != side:
        text = _turned(text)
    named = {"title": title, "aircraft.registration": registration, "aircraft.serial": serial}
    return _asked_again(edited(text, named), also=())


def _turned(text: str) -> str:
    """The same on the other side; JobError where there is none."""
    data = raw_data(text)
    side = standing_at(data, "aircraft.side")
    if side not in ("left", "right"):
        raise JobError.about("aircraft.side", "job.no_other_side", str(side or ""))
    changes = {"aircraft.side": "right" if side == "left" else "left"}
    axes = {axis: str(standing_at(data, axis)) for axis in ("frame.x", "frame.y")}
    changes |= {axis: SWAPPED[word] for axis, word in axes.items() if word in SWAPPED}
    rows = data.get("rows")
    for index, row in enumerate(rows if isinstance(rows, list) else ()):
        turn, start = (str(standing_at(row, name)).strip() for name in ("direction", "start_at"))
        if turn in TURNED:
            changes[f"rows.{index}.direction"] = TURNED[turn]
        if start.upper() in SWAPPED:
            changes[f"rows.{index}.start_at"] = SWAPPED[start.upper()]
    return edited(text, changes)


def on_another_aircraft(text: str) -> str:
    """The same job on another aircraft: its side is to be confirmed, the revision of its mandate looked up again."""
    data, own = raw_data(text), ("aircraft.registration", "aircraft.serial", "mandate.revision")
    blank = {field: "" for field in own if standing_at(data, field)}
    return _asked_again(edited(text, blank), also=("aircraft.side",))


def _asked_again(text: str, *, also: tuple[str, ...]) -> str:
    data = raw_data(text)
    held = [field for field in ASKED_AGAIN if standing_at(data, field) is not None]
    text = taken(text, held)
    text = edited(text, {"revision": "A"}) if "revision" in data else text
    if standing_at(data, "aircraft.both_sides"):
        text = edited(text, {"aircraft.both_sides": "false"})
    data = raw_data(text)
    before = [name for name in data.get("samples", ()) if standing_at(data, name) is not None]
    samples = dict.fromkeys([*before, *also, *_expected(data)])
    return added(taken(text, ["samples"]), {"samples": list(samples)})


def _expected(data: Mapping[str, Any]) -> Iterator[str]:
    yield from (field for field in _EXPECTED if standing_at(data, field))
    for field in _EXPECTED_LINES:
        yield from (f"{field}.{number}" for number in range(len(standing_at(data, field) or ())))
