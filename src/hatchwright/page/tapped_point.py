"""A hole where a person taps the drawing: a point of the last row, so that no hole gets another number."""

from __future__ import annotations

from collections.abc import Mapping

from hatchwright.errors import HatchwrightError, JobError
from hatchwright.job.as_typed import raw_data, standing_at, typed_length
from hatchwright.job.file import read_job
from hatchwright.job.list_lines import with_lines
from hatchwright.layout.lay_out import lay_out
from hatchwright.said import said
from hatchwright.words.tell import tell


def with_point(text: str, x_in: float, y_in: float) -> str:
    """Add a point to the last row where that is one of points, or to a new one with the rivet of the row before it, so
    that no hole gets another number.

    Raises:
        JobError: the text is not TOML, the job has no row whose rivet a new one could take, or readings of cover screws
            would lose their screws, whose numbers begin behind the last rivet's hundred.
    """
    data = raw_data(text)
    held = data.get("rows")
    rows = held if isinstance(held, list) and all(isinstance(one, Mapping) for one in held) else []
    point = [typed_length(at, "mm" if data.get("units") == "mm" else "in") for at in (x_in, y_in)]
    if rows and rows[-1].get("lay") == "points":
        return _checked(text, with_lines(text, f"rows.{len(rows) - 1}.points", [point]))
    if not rows or "rivet" not in rows[-1]:
        raise JobError.about("rows", "tapped.no_rivet")
    called = tell(said("tapped.by_hand"))
    others = {one.get("name") for one in rows}
    names = (called, *(f"{called} {number}" for number in range(2, len(rows) + 2)))
    kept = {name: rows[-1][name] for name in ("preparation", "pilot", "final") if name in rows[-1]}
    new = {
        "name": next(name for name in names if name not in others),
        "lay": "points",
        "rivet": rows[-1]["rivet"],
        **kept,
        "points": [point],
    }
    return _checked(text, with_lines(text, "rows", [new]))


def _checked(before: str, after: str) -> str:
    """The text after, unless its readings would stand for other holes than before."""
    try:
        read = _numbers_read(before)
        rows, now = (_rows_by_number(text) if read else {} for text in (before, after))
    except HatchwrightError:
        return after  # not sound, and told so where the job is read
    if any(rows.get(number) != now.get(number) for number in read):
        raise JobError.about("rows", "tapped.moves_screws")
    return after


def _numbers_read(text: str) -> set[int]:
    made = read_job(text).as_made
    return {hole.number for hole in (*made.placed_holes, *made.sizes)} if made else set()


def _rows_by_number(text: str) -> dict[int, str]:
    """The row of each hole, as it is drawn."""
    drawn = read_job(text).model_copy(update={"as_made": None})
    return {hole.number: hole.row for hole in lay_out(drawn).holes}


def newest_point(text: str) -> str:
    """Dotted path of the last point of the last row, "" where that is no row of points."""
    rows = raw_data(text).get("rows") or [{}]
    points = standing_at(rows[-1], "points")
    return f"rows.{len(rows) - 1}.points.{len(points) - 1}" if points else ""
