"""Rivets on each side of the opening: by load and strength, and by the tables of AC 43.13-1B beside it."""

from __future__ import annotations

import math

from hatchwright.strength.worked import Worked, work_out
from hatchwright.tables.cited import Cited
from hatchwright.workings import Quantity


def rivets_for_load(*, load_lbf: float, one: Worked) -> Worked:
    """Rivets that a load asks for.

    Args:
        load_lbf: load on that side, factors included [lbf].
        one: what one rivet carries [lbf].
    Returns:
        Worked: whole rivets, rounded up [-].
    Method: docs/theory/rivet.md, eq. 4.
    """
    return work_out(
        float(math.ceil(load_lbf / one.value - 1e-9)),
        "rivets",
        "n",
        "ceil(P / P one)",
        Quantity("P", load_lbf, "lbf"),
        one,
    )


def rivets_by_table(*, width_in: float, per_inch: Cited, note: Cited | None = None) -> Worked:
    """Rivets that the tables of AC 43.13-1B ask for.

    Args:
        width_in: width of the cut [in].
        per_inch: rivets an inch, of the table [1/in].
        note: multiplier of a note, when one is applied [-].
    Returns:
        Worked: whole rivets, rounded up [-].
    Source: [AC43.13-1B], tables 4-9 to 4-11.
    """
    share = note.value if note else 1.0
    values = [Quantity("w", width_in, "in"), Quantity("n table", per_inch.value, "1/in")]
    if note:
        values.append(Quantity("note", note.value, ""))
    return work_out(
        float(math.ceil(width_in * per_inch.value * share - 1e-9)),
        "rivets",
        "n",
        "ceil(w n table note)" if note else "ceil(w n table)",
        *values,
        source=per_inch.source,
        grade=per_inch.grade,
    )
