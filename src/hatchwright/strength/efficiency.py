"""What share of the solid skin the basis "restore" asks for: all of it, or what a riveted seam leaves."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from hatchwright.errors import HatchwrightError
from hatchwright.ground import Ground
from hatchwright.job.amount import Amount as Typed
from hatchwright.job.bay import LandmarkRow
from hatchwright.layout.layout import Layout
from hatchwright.said import Said, said
from hatchwright.strength.site import SheetPart
from hatchwright.strength.worked import Worked, inputs, looked_up, strength_of, work_out
from hatchwright.tables.rivet_shear import rivet_shear
from hatchwright.tables.rivets_per_inch import TABLE_READINGS, rivets_per_inch, table_note, tables_for
from hatchwright.words.readings import reading_called
from hatchwright.workings import Grade, Quantity, Source

COUNT_OF_RIVETS = "R601"
"""The rule under which a job chooses a table of the circular and its note."""

_ENTERED = Ground(Source("JOB-FILE", "loads.efficiency"), Grade.SHOP)
_PRINTED_TO = 0.05
"""Half of the last place to which the circular prints rivets an inch [1/in]."""


class Efficiencies(Struct, frozen=True):
    """Share of the solid skin that is asked for along X, along Y and in shear [-]."""

    x: Worked
    y: Worked
    shear: Worked


def _whole(note: Said) -> Worked:
    return work_out(1.0, "efficiency", by=_ENTERED, note=note)


def _alike(one: Worked) -> Efficiencies:
    return Efficiencies(one, one, one)


WHOLE_SKIN = _alike(_whole(said("efficiency.whole")))
"""All of the solid skin in every direction."""


def efficiencies(layout: Layout, skin: SheetPart) -> Efficiencies:
    """Work out what the job chose; what cannot be worked out is all of the skin, and its note says why.

    Where it chose nothing, the table and note by which it counts rivets decide here too, so that rule and margin answer
    by one reading.

    Method: docs/theory/loads.md, eq. 3 to 6.
    """
    chosen = layout.job.loads.efficiency
    if chosen == "table note" or (chosen is None and chosen_note(layout)):
        return _alike(_by_table(layout, skin))
    if chosen == "landmark row":
        return _by_rows(layout.job.bay.rows)
    if chosen is None or chosen == 1.0:
        return WHOLE_SKIN
    assert isinstance(chosen, Typed)
    note = said("efficiency.entered", source=layout.job.loads.source)
    return _alike(work_out(float(chosen), "efficiency", by=_ENTERED, note=note))


def stands_for(table: str, letter: str, *, skin: SheetPart, layout: Layout) -> Worked:
    """Sheet stress that the rivets an inch of a table stand for, their shear strength over the sheet's section [psi].

    Args:
        table: of the circular, such as "4-10".
        letter: of its note, "" for none.
    Raises:
        TableError: the table has no such row, or the rivet's strength is not listed.
    Method: docs/theory/loads.md, eq. 3.

    The circular's tables are for 2117 rivets, whatever the job fits.
    """
    diameter_in = min(hole.diameter_in for hole in layout.holes_of("rivet"))
    per_inch = rivets_per_inch(
        table, thickness_in=skin.part.thickness_in, diameter_in=diameter_in, shop=layout.shop
    )
    n = looked_up(per_inch, "per in", "n")
    one = looked_up(rivet_shear("AD", diameter_in=diameter_in, shop=layout.shop), "lbf", "Ps")
    thickness_in = inputs("in", t=skin.part.thickness_in)
    stress_psi = n.value * one.value / skin.part.thickness_in
    if not letter:
        return work_out(stress_psi, "f table = n Ps / t [psi]", n, one, *thickness_in)
    note = looked_up(table_note(table, letter), "", f"note {letter}")
    equation = f"f table = note {letter} n Ps / t [psi]"
    return work_out(note.value * stress_psi, equation, note, n, one, *thickness_in)


def chosen_note(layout: Layout) -> tuple[str, str] | None:
    """Table and letter of the note by which the job counts rivets; None where it chose none that takes rivets off."""
    choice, skin = layout.job.choice(COUNT_OF_RIVETS), layout.job.skin
    table, letter = TABLE_READINGS.get(choice.reading, ("", "")) if choice else ("", "")
    return (table, letter) if letter and table in tables_for(skin.alloy, skin.temper, skin.clad) else None


def _by_table(layout: Layout, skin: SheetPart) -> Worked:
    """The note's share of what the whole table stands for, which is no less than the solid skin.

    Rivets are printed to a tenth an inch: a whole table within that of the solid skin is the solid skin.
    """
    chosen = chosen_note(layout)
    if chosen is None or not layout.holes_of("rivet"):
        return _whole(said("efficiency.no_note"))
    table, letter = chosen
    try:
        stress = stands_for(table, "", skin=skin, layout=layout)
        noted = stands_for(table, letter, skin=skin, layout=layout)
        ftu = strength_of(skin.allowed, "Ftu")
    except HatchwrightError as error:
        return _whole(said("efficiency.no_number", why=error.what))
    note = looked_up(table_note(table, letter), "", f"note {letter}")
    n = next(value.value for value in stress.working[-1].values if value.symbol == "n")
    is_solid = stress.value * (1.0 - _PRINTED_TO / n) <= ftu.value
    share = work_out(
        1.0 if is_solid else stress.value / ftu.value,
        "table / solid = f table / Ftu, 1 where n less half of its last place gives 1 or less",
        stress,
        ftu,
    )
    told = said("efficiency.table_note", reading=reading_called(f"table {table}, note {letter}"))
    value = min(1.0, note.value * share.value)
    equation = f"efficiency = min(1, note {letter} x table / solid)"
    seen = Quantity("noted / Ftu", noted.value / ftu.value, "")
    return work_out(value, equation, note, share, noted, seen, by=note.working[-1], note=told)


def _by_rows(rows: tuple[LandmarkRow, ...]) -> Efficiencies:
    x, y = (_best(rows, axis) for axis in (0, 1))
    # Shear runs along all four rows: the better pair counts, so that no row that is weak lowers what is asked.
    return Efficiencies(x, y, max(x, y, key=lambda one: one.value))


def _best(rows: tuple[LandmarkRow, ...], axis: int) -> Worked:
    """Of the rows that a load along an axis crosses, the one that leaves the most."""
    known = tuple(rows_left(rows, axis))
    if not known:
        return _whole(said("efficiency.no_row", axis="XY"[axis]))
    row, left = max(known, key=lambda pair: pair[1].value)
    return work_out(left.value, "efficiency", left, note=said("efficiency.row", row=row.name))


def rows_left(rows: tuple[LandmarkRow, ...], axis: int) -> Iterator[tuple[LandmarkRow, Worked]]:
    """What each row that a load along an axis crosses leaves of the solid skin, its holes no larger than its rivets.

    Args:
        axis: 0 for X, 1 for Y.
    Yields:
        tuple: the row, one whose pitch and rivet are entered, and what it leaves [-].
    """
    for row in rows:
        if row.axis == axis and row.pitch and row.diameter:
            values = inputs("in", p=row.pitch.inch, D=row.diameter.inch)
            share = 1.0 - row.diameter.inch / row.pitch.inch
            yield (
                row,
                work_out(share, "row = (p - D) / p", *values, note=said("efficiency.row", row=row.name)),
            )
