"""One traced edge as an entry of a job: a known shape by its sizes, else lines and arcs in a DXF file beside it."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from hatchwright.drawings.ink import Layer
from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.drawings.traced_view import outline_sheet
from hatchwright.drawings.writers import Format, Paper, write
from hatchwright.inspection.outline.drawn_outline import drawn_outline
from hatchwright.inspection.trace.known_shape import known_shape
from hatchwright.job.job_text import Typed
from hatchwright.shapes.pieces import Floats
from hatchwright.shapes.profile import Loop
from hatchwright.units import Unit, parse_length, signed_figure


class TracedEntry(Struct, frozen=True):
    """What goes into one place of a job.

    Args:
        field: dotted place, such as ``doubler.outer``.
        values: names to what is typed.
        loop: the outline that they make, in the job's frame [in].
        departure_in: how far outline and trace lie apart at most, either from the other [in].
        points: of the trace as it was drawn, curves flattened.
        file: the DXF file that it names, None for a shape by its sizes.
    """

    field: str
    values: Mapping[str, Typed]
    loop: Loop
    departure_in: float
    points: int
    file: MadeFile | None = None

    @property
    def lines_and_arcs(self) -> tuple[int, int]:
        """How many lines and how many arcs it has."""
        arcs = int(self.loop.working_form().is_arc.sum())
        return len(self.loop.rows) - arcs, arcs


def traced_entry(polygon: Floats, *, field: str, stem: str, within_in: float, unit: Unit) -> TracedEntry:
    """Make of a traced edge the plainest outline that lies within a tolerance of it.

    Args:
        polygon: closed, in the job's frame, shape (n, 2) [in].
        field: where it goes.
        stem: what the name of its file begins with.
        unit: of the job.
    Raises:
        EntryError: no outline comes within the tolerance.
    """
    if known := known_shape(polygon, within_in=within_in, unit=unit):
        values, loop, off_in = known
        return TracedEntry(field, values, loop, off_in, len(polygon))
    loop, off_in = drawn_outline(polygon, within_in=within_in)
    x_min, y_min, x_max, y_max = loop.bounds
    place = [signed_figure(0.5 * one, unit) for one in (x_min + x_max, y_min + y_max)]
    x_in, y_in = (parse_length(one, unit=unit, signed=True).inch for one in place)
    name = f"{stem}_{field.replace('.', '_').upper()}_{unit.upper()}"
    sheet = outline_sheet(loop.transformed(_SAME, (-x_in, -y_in)), title=name, unit=unit)
    content = write(sheet, Format.DXF, paper=Paper.LETTER)
    file = MadeFile(f"{name}.dxf", MadeKind.TRACED, "", True, Written.DXF, content)
    values = {"shape": "dxf", "file": file.name, "layer": Layer.OPENING.value, "place": place}
    return TracedEntry(field, values, loop, off_in, len(polygon), file)


_SAME = ((1.0, 0.0), (0.0, 1.0))
