"""How the findings of the making are put together: one function that fills in what they have in common."""

from __future__ import annotations

from hatchwright.finding import Finding, Grade, Source, Status, Working
from hatchwright.units import Unit, figure, length_words

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
    return Finding(
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


def told(finding: Finding, unit: Unit) -> str:
    """Write what was judged with its value, where it is read without the columns of value and limit.

    Returns:
        str: the subject, and of a length the value and its limit, unless the subject tells it already.

    >>> told(answer("T502", Status.CAUTION, "movement", value=0.02, limit=0.015), "in")
    'movement: .0200 in, limit .0150 in'
    >>> told(answer("T105", Status.PASS, "offset of .1535 in", value=0.1535), "in")
    'offset of .1535 in'
    """
    if finding.unit != "in" or finding.value is None:
        return finding.subject
    value = length_words(finding.value, unit, fine=True)
    if value in finding.subject or length_words(finding.value, unit) in finding.subject:
        return finding.subject
    limit = "" if finding.limit is None else f", limit {length_words(finding.limit, unit, fine=True)}"
    return f"{finding.subject}: {value}{limit}"


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
