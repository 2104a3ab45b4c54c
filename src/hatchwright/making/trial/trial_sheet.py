"""The sheet to write the readings of a trial in: a readings file, to be filled in, that tells what to do."""

from __future__ import annotations

from hatchwright.job.trial_readings import SCHEMA
from hatchwright.making.trial.corner import diagonal_in
from hatchwright.making.trial.piece import TrialPiece
from hatchwright.units import Unit, figure, length_words

_HEAD = """# Trial cut on scrap: {title}
# Scrap of the same alloy and thickness as the skin: {sheet}.
# {kind} template: make its {edge} {template} {unit} along X and Y, corner {corner}; scribe the datum cross on scrap and
# template, align them, pin the template, cut.
# Expected cut: {width} {unit} across before filing. Measure at five places or more along X and along Y, in the order of
# the cut, burrs off. Write what the caliper shows; a reading in the other unit gets {other} behind it.
schema = {schema}
units = "{unit}"
piece = "{kind_word}"
size = "{size}"

template_x = ""             # the trial template as made, measured
template_y = ""
template_uncertainty = ""   # standard uncertainty of these two sizes, such as {fine}
gauge_limit = ""            # largest error of the caliper by its maker, such as {coarse}

[[cuts]]
turned = false              # true when the template was turned half round from the first cut
x = []                      # such as ["{width}", "{width}", "{width}"]
y = []
{corners}# From the datum cross to the edge at the numbered places, in their order, counter-clockwise; or leave the list
# empty. They show whether the template lay off or turned; a second cut with the template turned half round tells a
# template that lay off from an eccentric cut.
{places}
edges = []
"""


_CORNERS = """# From corner to corner, both diagonals, as far apart as the inside jaws go: they give the corner radius.
diagonals = []              # about ["{across}", "{across}"]; R {radius} {unit} in the cut is expected
"""


def trial_sheet(piece: TrialPiece, *, title: str, sheet: str, unit: Unit) -> str:
    """Write the sheet of a trial.

    Args:
        unit: of every bare number of the sheet.
    Returns:
        str: a readings file in TOML, its readings still empty.
    """
    guide = piece.chain.guide
    sides = {
        (1, 0): "right, measured along X",
        (0, 1): "top, along Y",
        (-1, 0): "left, along X",
        (0, -1): "bottom, along Y",
    }
    lines = []
    for number, (place, normal) in enumerate(zip(piece.places, piece.normals, strict=True), start=1):
        heading = (round(float(normal[0])), round(float(normal[1])))
        way = "square to the edge" if piece.kind == "disc" else sides[heading]
        lines.append(f"#   {number:2d}  X {_signed(place[0], unit)}  Y {_signed(place[1], unit)}  {way}")
    return _HEAD.format(
        title=title.replace("\n", " "),
        sheet=sheet,
        kind="Female" if guide.kind == "female" else "Male",
        edge="window" if guide.kind == "female" else "plug",
        template=figure(piece.template_in, unit),
        corner=_corner_words(piece, unit),
        width=figure(piece.width_in, unit),
        unit=unit,
        other="in" if unit == "mm" else "mm",
        fine=".0005" if unit == "in" else "0.01",
        coarse=".001" if unit == "in" else "0.03",
        schema=SCHEMA,
        kind_word=piece.kind,
        size=figure(piece.size_in, unit),
        places="\n".join(lines),
        corners=_corner_lines(piece, unit),
    )


def _corner_words(piece: TrialPiece, unit: Unit) -> str:
    corner = piece.chain.machinable_corner
    if piece.kind == "disc":
        return "none, it is round"
    return length_words(corner.radius_in, unit) if corner else "none"


def _corner_lines(piece: TrialPiece, unit: Unit) -> str:
    if piece.kind == "disc":
        return ""
    across_in = diagonal_in(piece.width_in, piece.corner_in)
    return _CORNERS.format(
        across=figure(across_in, unit), radius=figure(piece.corner_in, unit, fine=True), unit=unit
    )


def _signed(value_in: float, unit: Unit) -> str:
    return f"{'-' if value_in < 0.0 else '+'}{figure(abs(value_in), unit)}"
