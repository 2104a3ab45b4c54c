"""Steps of the work card for the parts themselves: making doubler and cover, and getting the doubler in."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.step import Step, quoted
from hatchwright.drawings.figures import Unit, figure, size_words, unit_of
from hatchwright.drawings.parts_table import sheet_words
from hatchwright.layout.layout import Layout, Part
from hatchwright.rules.passage import least_width, longest_chord
from hatchwright.units import length_words


def part_steps(layout: Layout) -> Iterator[Step]:
    """How doubler and cover are made, and how a doubler that lies inside gets there; nothing without them.

    Yields:
        Step: in the order of the work.
    """
    parts = [part for part in layout.parts if part.name != "skin"]
    if not parts:
        return
    unit = unit_of(layout.job)
    yield Step(
        f"Make the {' and the '.join(part.name for part in parts)}",
        (
            *(_part_words(part, unit) for part in parts),
            "Outlines are those of the layout drawing and its DXF; mark which face lies outside, and FWD. Cut outside "
            "the line and file to it. A part that shall fit the opening is set against the opening as filed. [common "
            "practice, no source]",
            quoted("edge_finish"),
        ),
        tuple(blank for part in parts for blank in _blanks(part, unit)),
    )
    if layout.job.doubler is not None and layout.job.doubler.face == "inside":
        yield _bring_in(layout, unit)


def _part_words(part: Part, unit: Unit) -> str:
    edges = "; ".join(
        f"{edge.name.removesuffix(' edge').removeprefix(part.name)} {size_words(edge.loop.bounds, unit)} {unit}".strip()
        + (f", least corner R {length_words(corner.radius_in, unit, fine=True)}" if corner else "")
        for edge in part.edges
        for corner in (edge.corner,)
    )
    return f"{part.name.capitalize()} of {sheet_words(part, unit)} {unit}: {edges}."


def _blanks(part: Part, unit: Unit) -> Iterator[str]:
    x_min, y_min, x_max, y_max = part.edges[0].loop.bounds
    yield f"{part.name} along X ({length_words(x_max - x_min, unit)})"
    yield f"{part.name} along Y ({length_words(y_max - y_min, unit)})"


def _bring_in(layout: Layout, unit: Unit) -> Step:
    """Straight through the opening, or threaded in, split, or by another way, as rule R304 has it."""
    doubler = layout.part("doubler")
    assert doubler is not None  # asked before
    width_in, chord_in = least_width(doubler.edges[0].loop), longest_chord(layout.wanted)
    sizes = (
        f"at least {figure(width_in, unit)} {unit} wide, the longest chord of the opening is "
        f"{figure(chord_in, unit)} {unit} (R304)"
    )
    if width_in < chord_in:
        how = f"It goes straight through the opening, narrow side first, along the longest chord: {sizes}."
    elif layout.job.mount is not None:
        how = (
            f"It does not go through this opening: {sizes}. As settled before the cut: by another way, or in two "
            "halves where the data allow a split."
        )
    else:
        how = (
            f"It does not go straight through: {sizes}. As settled before the cut, and tried with a cardboard ring of "
            "its size: threaded in, one limb through the opening and the rest turned in after it; or split, where the "
            "data allow that; or by another way. Bend nothing."
        )
    return Step(
        "Bring the doubler in",
        (
            how,
            "Tie a cord to it. It comes out once more to be deburred and primed: try that way too. [common practice, "
            "no source]",
        ),
        ("way in",),
    )
