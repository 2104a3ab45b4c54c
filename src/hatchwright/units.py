"""Units at the door: conversions, and the one reader of every length that a person types.

Inside the program every length is in inches; what was typed is kept beside the value.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Literal, TypeAlias

from msgspec import Struct

from hatchwright.errors import EntryError
from hatchwright.number import SIZE_IN, decimal
from hatchwright.said import Said, said

Unit: TypeAlias = Literal["in", "mm"]
"""A unit of length that a job may be in."""

MM_PER_IN = 25.4
"""Millimeters in an inch, exact [mm/in]. Source: [NIST SP 811], appendix B.8."""

N_PER_LBF = 4.4482216152605
"""Newtons in a pound-force, exact [N/lbf]. Source: [NIST SP 811], appendix B.8."""

LBF_IN_PER_N_MM = MM_PER_IN / N_PER_LBF
"""Pounds-force per inch in a newton per millimeter [lbf/in per N/mm]."""

PSI_PER_KPA = 1e-3 * MM_PER_IN**2 / N_PER_LBF
"""Pounds-force per square inch in a kilopascal [psi/kPa]."""

LB_PER_KG = 1.0 / 0.45359237
"""Pounds in a kilogram, exact [lb/kg]. Source: [NIST SP 811], appendix B.8."""

IN_LB_PER_N_M = 1000.0 * LBF_IN_PER_N_MM / MM_PER_IN**2
"""Inch-pounds in a newton meter [in-lb/(N m)]."""

GAL_PER_L = 1.0 / (231.0 * MM_PER_IN**3 / 1e6)
"""US gallons of 231 cubic inches in a liter, exact [gal/L]. Source: [NIST SP 811], appendix B.8."""

FT2_PER_IN2 = 1.0 / 144.0
"""Square feet in a square inch, exact [ft^2/in^2]."""

MPH_PER_KT = 1852.0 / 1609.344
"""Miles an hour in a knot, exact [mph/kt]. Source: [NIST SP 811], appendix B.8."""

MPH_PER_KM_H = 1000.0 / 1609.344
"""Miles an hour in a kilometre an hour, exact [mph per km/h]. Source: [NIST SP 811], appendix B.8."""

_MM_PER_IN = Fraction(127, 5)
_EXACT = 1e-9
_SAME = 1e-9
"""Values closer than this differ by the rounding of the arithmetic only [any unit]."""
_LONGEST_TEXT = 40
_LARGEST_DASH = 12
"""Up to here a number after a dash is also a rivet's diameter [1/32 in]."""
UNIT_MARKS: Mapping[str, Unit] = {
    "in": "in",
    "in.": "in",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "″": "in",
    "mm": "mm",
}
"""How people write each unit of length, in small letters."""

_TEXT = re.compile(
    r"""\s*
    (?: (?P<drill>(?:\#|no\.?\s*|nr\.?\s*)(?P<number>\d{1,2}))
      | (?P<letter>(?:letter\s+)?[a-z])
      | (?P<sign>[-+])?\s*
        (?: (?:(?P<whole>\d+)(?:\s+|\s*-\s*))? (?P<over>\d+)\s*/\s*(?P<under>\d+)
          | (?P<left>\d*)(?:(?P<mark>[.,])(?P<right>\d*))?
        )
        \s* (?P<unit>[a-z"″]+\.?)?
    )\s*""",
    re.ASCII | re.IGNORECASE | re.VERBOSE,
)


class Length(Struct, frozen=True):
    """A length as typed and as meant.

    Args:
        exact_in: its value, exact [in].
        inch: its value [in].
    """

    text: str
    exact_in: Fraction
    inch: float

    @property
    def mm(self) -> float:
        """The same length [mm]."""
        return float(self.exact_in * _MM_PER_IN)

    def echo(self, *, places: int = 3) -> str:
        """Say the length back in every notation that a shop uses.

        Args:
            places: decimals of the inch value, three or four.

        >>> parse_length("35 mm").echo()
        '1.378 in = 1 3/8 + .003 = 35 mm'
        """
        mm = f"{self.mm:.3f}".rstrip("0").rstrip(".")
        return f"{decimal_inch(self.inch, places)} in = {nearest_64th(self.inch)} = {mm} mm"


def inches(value: float) -> Length:
    """Make a length from a value that nobody typed, with the shortest text that reads back to it [in]."""
    return Length(text=repr(value), exact_in=Fraction(value), inch=value)


def decimal_inch(value: float, places: int = 3) -> str:
    """Write an inch value the drawing way: no zero before the point [in].

    >>> decimal_inch(0.032)
    '.032'
    """
    text = f"{value:.{places}f}"
    if float(text) == 0.0:
        text = text.lstrip("-")
    return re.sub(r"^(-?)0\.", r"\1.", text)


def places_to_tell(value: float, other: float | None, places: int) -> int:
    """Decimals by which a value can be told from another that it is set against, such as its limit.

    Args:
        places: decimals that are enough while the two do not look alike; as many more as it takes otherwise.

    >>> places_to_tell(0.24996, 0.25, 3), places_to_tell(0.248, 0.25, 3), places_to_tell(0.25, 0.25, 3)
    (5, 3, 3)
    """
    if other is None or abs(value - other) < _SAME:
        return places
    while f"{value:.{places}f}" == f"{other:.{places}f}":
        places += 1
    return places


def figure(value_in: float, unit: Unit, *, fine: bool = False, beside_in: float | None = None) -> str:
    """Write a length without its unit mark.

    A value that ends one decimal later, such as a drill or 5/16 in, is written out rather than rounded.

    Args:
        unit: "in": three places, no zero before the point; "mm": two places, a zero before it.
        fine: one place more in any case, for offsets and drills.
        beside_in: a length that it is set against and must not look like, None when there is none [in].
    Returns:
        str: such as ``5.277`` or ``.1535``, ``134.04`` or ``3.899``.

    >>> figure(0.1535, "in"), figure(5.277, "in"), figure(1 / 3, "in"), figure(5.277, "mm")
    ('.1535', '5.277', '.333', '134.04')
    """
    scale, places = (1.0, 3) if unit == "in" else (MM_PER_IN, 2)
    value = value_in * scale
    ends_later = abs(round(value, places + 1) - value) < _EXACT < abs(round(value, places) - value)
    other = None if beside_in is None else beside_in * scale
    places = places_to_tell(value, other, places + (fine or ends_later))
    if unit == "in":
        return decimal_inch(value, places)
    text = f"{value:.{places}f}"
    return text.removeprefix("-") if float(text) == 0.0 else text


def signed_figure(value_in: float, unit: Unit) -> str:
    """A length with its sign and without its unit."""
    told = figure(abs(value_in), unit, fine=True)
    return f"-{told}" if value_in < 0.0 else told


def nearest_64th(value: float) -> str:
    """The nearest 1/64 in, with what is left over [in].

    >>> nearest_64th(1.375), nearest_64th(0.05)
    ('1 3/8', '3/64 + .003')
    """
    count = round(abs(value) * 64)
    whole, rest = divmod(count, 64)
    fraction = Fraction(rest, 64)
    parts = [str(whole)] if whole or not rest else []
    if rest:
        parts.append(f"{fraction.numerator}/{fraction.denominator}")
    error = abs(value) - count / 64
    sign = "-" if value < 0 else ""
    tail = "" if abs(error) < 5e-7 else f" {'+' if error > 0 else '-'} {decimal_inch(abs(error), 3)}"
    if tail.endswith(".000"):
        tail = f" {'+' if error > 0 else '-'} {decimal_inch(abs(error), 6).rstrip('0')}"
    return f"{sign}{' '.join(parts)}{tail}"


def parse_length(
    text: str, *, unit: str = "in", drills: Mapping[str, float] | None = None, signed: bool = False
) -> Length:
    """Read one length as a mechanic types it.

    Takes ``1 3/8``, ``1-3/8``, ``3/32``, ``.032``, ``1.375 in``, ``35 mm``, ``0,8 mm``, ``#30``, ``no. 30``, ``-30``
    and letter drills. A comma is the decimal mark where it can mean nothing else, as in ``3,5`` and ``1,375`` in; see
    `number.decimal`. In a metric job ``1,500`` is asked about: 1500 mm is a size too.

    Args:
        unit: unit of a bare number, "in" or "mm".
        drills: drill names such as "30" or "F" and their diameters, None where a drill is no answer [in].
        signed: whether a leading minus means a negative length (a coordinate); if not, ``-30`` is a drill number.
    Returns:
        Length: the typed text and its exact value.
    Raises:
        EntryError: the text cannot be read, or could be read in two ways.

    >>> parse_length("1-3/8").inch, parse_length("0,8 mm").mm
    (1.375, 0.8)
    """
    found = _TEXT.fullmatch(text) if len(text) <= _LONGEST_TEXT else None
    if found is None:
        raise _unreadable(text, drills, unit)
    if found["drill"]:
        return _drill(text, found["number"], drills, unit)
    if found["letter"]:
        return _drill(text, found["letter"][-1].upper(), drills, unit)
    mark = (found["unit"] or "").lower()
    if not any(character.isdigit() for character in text):
        raise _unreadable(text, drills, unit)
    if mark and mark not in UNIT_MARKS:
        raise EntryError.saying("error.length_unit", where=repr(text), mark=mark)
    named = UNIT_MARKS[mark] if mark else unit
    if found["under"]:
        exact = _fraction(text, found, named)
    else:
        if found["sign"] == "-" and not signed and not mark and found["mark"] is None:
            if drills is not None and int(found["left"]) <= _LARGEST_DASH:
                raise EntryError.saying("error.dash", where=repr(text), number=found["left"])
            return _drill(text, found["left"], drills, unit)
        exact = _decimal(text, found, named, drills, unit)
    if found["sign"] == "-":
        if not signed:
            raise EntryError.saying("error.negative", where=repr(text))
        exact = -exact
    if named == "mm":
        exact /= _MM_PER_IN
    return Length(text=text, exact_in=exact, inch=exact.numerator / exact.denominator)


def _fraction(text: str, found: re.Match[str], named: str) -> Fraction:
    over, under = int(found["over"]), int(found["under"])
    if under == 0:
        raise EntryError.saying("error.over_zero", where=repr(text))
    if named == "mm":
        whole = f"{found['whole']} " if found["whole"] else ""
        mm = float((int(found["whole"] or 0) + Fraction(over, under)) * _MM_PER_IN)
        raise EntryError.saying(
            "error.fraction_mm",
            where=repr(text),
            fraction=f"{whole}{over}/{under}",
            mm=f"{mm:.3f}".rstrip("0").rstrip("."),
        )
    if found["whole"] is not None and over >= under:
        raise EntryError.saying("error.fraction_large", where=repr(text))
    return int(found["whole"] or 0) + Fraction(over, under)


def _decimal(
    text: str, found: re.Match[str], named: str, drills: Mapping[str, float] | None, unit: str
) -> Fraction:
    left, right = found["left"], found["right"] or ""
    if not left and not right:
        raise _unreadable(text, drills, unit)
    most = SIZE_IN.most * (MM_PER_IN if named == "mm" else 1.0)
    exact = decimal(f"{left}{found['mark'] or ''}{right}", most=most)
    if exact is None:
        raise _unreadable(text, drills, unit)
    return exact


def _drill(text: str, name: str, drills: Mapping[str, float] | None, unit: str) -> Length:
    key = name.lstrip("0") or "0"
    if drills is None:
        remedy = examples_of_a_length(unit, is_diameter=False)
        raise EntryError(said("error.drill_for_length"), where=repr(text), remedy=remedy)
    if key not in drills:
        raise EntryError.saying("error.no_drill", where=repr(text), name=name)
    diameter_in = drills[key]
    return Length(text=text, exact_in=Fraction(str(diameter_in)), inch=diameter_in)


def examples_of_a_length(unit: str, *, is_diameter: bool) -> Said:
    """What would do in a box for lengths of that unit, each of them as it may be typed there."""
    if unit == "mm":
        return said("error.no_diameter_in_mm.do" if is_diameter else "error.no_length_in_mm.do")
    return said("error.no_diameter.do" if is_diameter else "error.no_length.do")


def _unreadable(text: str, drills: Mapping[str, float] | None, unit: str) -> EntryError:
    shown = text if len(text) <= _LONGEST_TEXT else text[:_LONGEST_TEXT] + "..."
    remedy = examples_of_a_length(unit, is_diameter=drills is not None)
    return EntryError(said("error.no_length"), where=repr(shown), remedy=remedy)
