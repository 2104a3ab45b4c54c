"""A job as large as one likes: the first example with so many rivets in rows all round a larger opening."""

from __future__ import annotations

from pathlib import Path

ALDER = Path(__file__).parents[1] / "examples" / "alder.toml"
_PITCH_IN = 0.5
_ROWS_APART_IN = 0.45
_EDGE_IN = 0.28


def large_job(holes: int, *, rows: int = 4) -> str:
    """The text of a job, its template and cutter included.

    Args:
        holes: how many rivets there are, about [-].
        rows: in how many rows all round [-].
    """
    text = ALDER.read_text(encoding="utf-8")
    reach = _EDGE_IN + (rows - 1) * _ROWS_APART_IN / 2.0  # of the middle row, from the opening's edge [in]
    half_round = holes / rows * _PITCH_IN / 2.0
    width, height = 0.6 * half_round - 2.0 * reach + 0.6, 0.4 * half_round - 2.0 * reach + 0.4
    ring = 2.0 * (2.0 * _EDGE_IN + (rows - 1) * _ROWS_APART_IN)
    wide, high = width + ring, height + ring
    before, rest = text.split("# Two staggered rows", 1)
    after = rest[rest.index("[cover]") : rest.index("# What was really made")]
    sizes = {
        'x = "11.00"': f'x = "{wide + 6.0:.2f}"',
        'y = "9.00"': f'y = "{high + 6.0:.2f}"',
        'x_from = "10.60"': f'x_from = "{wide + 5.6:.2f}"',
        'y_from = "8.45"': f'y_from = "{high + 5.45:.2f}"',
        'width = "5.00"\nheight = "4.00"': f'width = "{width:.2f}"\nheight = "{height:.2f}"',
        'center = ["5.50", "4.50"]': f'center = ["{wide / 2.0 + 3.0:.2f}", "{high / 2.0 + 3.0:.2f}"]',
        'width = "7.00"\nheight = "6.00"': f'width = "{wide:.2f}"\nheight = "{high:.2f}"',
        'width = "3.70"\nheight = "2.70"': f'width = "{width - 1.3:.2f}"\nheight = "{height - 1.3:.2f}"',
        'blank = ["12", "12"]': f'blank = ["{wide + 4.0:.0f}", "{high + 4.0:.0f}"]',
        'envelope = ["12", "12"]': f'envelope = ["{wide + 6.0:.0f}", "{high + 6.0:.0f}"]',
        "count = 16": f"count = {max(16, round((width + height) / 0.6))}",
    }
    for old, new in sizes.items():
        assert old in before + after, f"the example no longer says {old}"
        before, after = before.replace(old, new), after.replace(old, new)
    return before + "".join(_row(number) for number in range(rows)) + after


def _row(number: int) -> str:
    lines = {
        "name": f"row {number + 1}",
        "lay": "offset",
        "rivet": "MS20470AD4",
        "edge": "opening",
        "distance": f"{_EDGE_IN + number * _ROWS_APART_IN:.3f}",
        "pitch": f"{_PITCH_IN}",
    }
    return "[[rows]]\n" + "".join(f'{key} = "{value}"\n' for key, value in lines.items()) + "\n"
