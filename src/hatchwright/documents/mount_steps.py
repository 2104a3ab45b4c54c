"""Steps of the work card for a mounted part: forming its bracket, and proving that it holds."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.step import Step, cited, quoted
from hatchwright.drawings.figures import figure, unit_of
from hatchwright.layout.bracket import bracket_flat
from hatchwright.layout.layout import Layout
from hatchwright.layout.mount_loads import drag_load, static_loads
from hatchwright.units import length_words


def form_bracket(layout: Layout) -> Iterator[Step]:
    """How the bracket of the mount is laid out and bent; nothing without one.

    Yields:
        Step: one, with the setback, the bend allowance by each document and the width of the blank.
    """
    mount, unit = layout.job.mount, unit_of(layout.job)
    bracket = mount.bracket if mount else None
    if bracket is None:
        return
    flat = bracket_flat(bracket, layout.shop)
    lines = " + bend + ".join(length_words(one, unit) for one in flat.flats_in)
    radius, thickness = length_words(bracket.radius.inch, unit), length_words(bracket.thickness.inch, unit)
    yield Step(
        "Form the bracket of the mount",
        (
            f"{bracket.alloy}-{bracket.temper}{' clad' if bracket.clad else ''} {thickness}, inside radius {radius}, "
            f"each bend through {bracket.angle:g} degrees. Setback {figure(flat.setback.value, unit)} {unit}, "
            f"{flat.setback.note} {cited(flat.setback.source, flat.setback.grade)}.",
            f"Flats between the tangent lines: {lines}.",
            *(
                f"Bend allowance {length_words(one.value, unit)}, {one.note} {cited(one.source, one.grade)}: "
                f"blank {figure(developed_in, unit)} {unit} wide."
                for one, developed_in in zip(flat.allowances, flat.developed_in, strict=True)
            ),
            f"{quoted('bend_across_grain')} Bend a trial piece first, and measure it.",
        ),
        tuple(f"leg to the mould lines ({length_words(leg.inch, unit)})" for leg in bracket.legs),
    )


def prove_mount(layout: Layout) -> Iterator[Step]:
    """What the mounted part is shown to hold; nothing while its weight, area and speed are not given.

    Yields:
        Step: one, with each load and where its factor stands.
    """
    mount = layout.job.mount
    if mount is None:
        return
    drag = drag_load(mount, layout.shop) if mount.kind == "antenna" else None
    loads = (*static_loads(mount, layout.shop), *((drag,) if drag else ()))
    if not loads:
        return
    yield Step(
        "Show that the mount holds",
        (
            *(
                f"{load.direction.capitalize()} {load.words}: {load.working.formula}, "
                f"{', '.join(str(value) for value in load.working.values)} "
                f"{cited(load.working.source, load.working.grade)}."
                for load in loads
            ),
            "By a test with each load in its direction, or by analysis. Nothing lets go, nothing stays bent. "
            "[common practice, no source]",
        ),
        tuple(f"held {load.direction} ({load.words})" for load in loads),
    )
