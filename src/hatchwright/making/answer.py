"""How the findings of the making are put together: one function that fills in what they have in common."""

from __future__ import annotations

from hatchwright.finding import Finding, stated
from hatchwright.judged import Status
from hatchwright.units import Unit, figure, length_words
from hatchwright.workings import Grade, Source, Working

CLOSED_FORM = Source("GEOMETRY", "docs/theory/guide_template.md")
"""Where the closed forms of the template stand."""


def answer(
    code: str,
    status: Status,
    subject: str,
    *,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "in",
    source: Source = CLOSED_FORM,
    grade: Grade = Grade.COMPUTED,
    working: tuple[Working, ...] = (),
    advice: str = "",
    place: tuple[float, float] | None = None,
    uncertainty: float = 0.0,
) -> Finding:
    """Make a finding; what it is short by follows from value and limit when it does not pass.

    Args:
        code: stable code, T1xx to T9xx.
        status: pass, caution, stop or unknown.
        subject: what was judged.
        limit: what it was judged against, or None.
        source: where the limit stands.
        advice: what to do; left away when it passes.
        place: point concerned (x, y) [in].
        uncertainty: of a measured value [unit].
    Returns:
        Finding: complete.
    """
    misses = status is not Status.PASS
    short = abs(value - limit) if misses and value is not None and limit is not None else 0.0
    return stated(
        code=code,
        status=status,
        subject=subject,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        grade=grade,
        working=working,
        advice=advice if misses else "",
        place=place if misses else None,
        shortfall=short,
        uncertainty=uncertainty,
    )


def size_words(size_in: tuple[float, float], unit: Unit) -> str:
    """Write a width and a height with their unit.

    Args:
        size_in: width and height [in].
        unit: that of the job, or of the machine.
    Returns:
        str: such as ``5.277 x 4.277 in``.

    >>> size_words((5.277, 4.277), "in"), size_words((5.277, 4.277), "mm")
    ('5.277 x 4.277 in', '134.04 x 108.64 mm')
    """
    return f"{figure(size_in[0], unit)} x {length_words(size_in[1], unit)}"


def place_words(place_in: tuple[float, float], unit: Unit) -> str:
    """Write a place with its unit.

    Args:
        place_in: (x, y) in the job's frame [in].
    Returns:
        str: such as ``X 5.500 Y 4.500 in``.

    >>> place_words((5.5, 4.5), "in"), place_words((5.5, 4.5), "mm")
    ('X 5.500 Y 4.500 in', 'X 139.70 Y 114.30 mm')
    """
    return f"X {figure(place_in[0], unit)} Y {length_words(place_in[1], unit)}"
