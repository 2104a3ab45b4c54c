"""The sheet to write the readings of a trial in: a readings file, to be filled in, that tells what to do."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from hatchwright.job.job import Job
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.making.trial.corner import diagonal_in
from hatchwright.making.trial.piece import TrialPiece, side_of
from hatchwright.making.trial.trial import USUAL_GAUGE
from hatchwright.said import Said, inch, said
from hatchwright.units import Unit, figure
from hatchwright.words.tell import tell

WIDEST = 116
"""Letters of a line, so that an editor shows it whole."""

SCANNED = {"cut": "[scan]", "pose": "[scan.pose]"}
"""Tables of the readings file that a scan of the cut gives."""

_USUAL_U: dict[Unit, str] = {"in": ".0005", "mm": "0.01"}
"""Standard uncertainty of a caliper's reading, as it is typed. Common practice, no source."""


def trial_sheet(piece: TrialPiece, job: Job) -> str:
    """Write the sheet of a trial: a readings file in the unit of the job, its readings still empty."""
    unit = job.unit
    return "\n".join((*_head(piece, job), *_keys(piece, unit), *_cut(piece, unit), ""))


def _comment(what: Said, unit: Unit) -> Iterator[str]:
    """A sentence as a comment of the file, in as many lines as it takes."""
    yield from (f"# {line}" for line in wrap(tell(what, unit), WIDEST))


def _head(piece: TrialPiece, job: Job) -> Iterator[str]:
    skin, unit = job.skin, job.unit
    yield from _comment(said("sheet.title", title=job.title.replace("\n", " ")), unit)
    clad = "sheet.scrap_clad" if skin.clad else "sheet.scrap"
    scrap = said(clad, alloy=skin.alloy, temper=skin.temper, thickness=inch(skin.thickness.inch))
    yield from _comment(scrap, unit)
    yield from _comment(said("sheet.template", what=_template(piece)), unit)
    other = "in" if unit == "mm" else "mm"
    yield from _comment(said("sheet.measure", width=inch(piece.width_in), other=other), unit)


def _template(piece: TrialPiece) -> Said:
    of = "window" if piece.chain.guide.kind == "female" else "plug"
    size, corner = inch(piece.template_in), piece.chain.machinable_corner
    if piece.kind == "disc" or corner is None:
        return said(f"sheet.{of}_{'round' if piece.kind == 'disc' else 'sharp'}", size=size)
    return said(f"sheet.{of}", size=size, corner=inch(corner.radius_in))


def _keys(piece: TrialPiece, unit: Unit) -> Iterator[str]:
    yield f"schema = {TrialReadings.SCHEMA}"
    yield f'units = "{unit}"'
    yield f'piece = "{piece.kind}"'
    yield f'size = "{figure(piece.size_in, unit)}"'
    yield ""
    for key, note in (
        ("template_x", said("sheet.as_made")),
        ("template_y", said("sheet.as_made")),
        ("template_uncertainty", said("sheet.template_u", such_as=_USUAL_U[unit])),
        ("gauge_limit", said("sheet.gauge", such_as=USUAL_GAUGE[unit])),
    ):
        yield f'{key} = ""'.ljust(27) + f" # {tell(note, unit)}"
    yield ""


def _cut(piece: TrialPiece, unit: Unit) -> Iterator[str]:
    width = figure(piece.width_in, unit)
    yield "[[cuts]]"
    yield "turned = false".ljust(27) + f" # {tell(said('sheet.turned'), unit)}"
    yield "x = []".ljust(27) + f" # {tell(said('sheet.such_as', reading=width), unit)}"
    yield "y = []"
    if piece.kind != "disc":
        across_in = diagonal_in(piece.width_in, piece.corner_in)
        yield from _comment(said("sheet.diagonals"), unit)
        expected = said(
            "sheet.expected", across=figure(across_in, unit), radius=inch(piece.corner_in, fine=True)
        )
        yield "diagonals = []".ljust(27) + f" # {tell(expected, unit)}"
    yield from _comment(said("sheet.edges"), unit)
    for number, (place, normal) in enumerate(zip(piece.places, piece.normals, strict=True), start=1):
        way = said("sheet.square" if piece.kind == "disc" else f"sheet.{side_of(normal)}")
        yield f"#   {number:2d}  X {_signed(place[0], unit)}  Y {_signed(place[1], unit)}  {tell(way, unit)}"
    yield "edges = []"
    yield from _comment(said("sheet.scan", **SCANNED), unit)


def _signed(value_in: float, unit: Unit) -> str:
    return f"{'-' if value_in < 0.0 else '+'}{figure(abs(value_in), unit)}"
