"""R413 to R415: the new sheet against the skin's material."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import Bound, Judgement, Measure, Status
from hatchwright.layout.layout import Part
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, held_as, stated
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import edge_named
from hatchwright.said import Said, inch, said
from hatchwright.tables.allowables import allowables
from hatchwright.tables.instructions import instruction
from hatchwright.tables.materials import sheet
from hatchwright.tables.sheet_allowables import SHEET_ALLOWABLES
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Quantity, Working

_COATED_ANYWAY = ("5052", "6061")
"""Alloys that are used bare, and are not made clad."""


def _lower_ftu_psi(part: Part, shop: ShopTables | None) -> float:
    """Of both directions of the grain the lower [psi]."""
    found = allowables(
        sheet(part.alloy, part.temper, part.clad, shop), thickness_in=part.thickness_in, shop=shop
    )
    return min(found.ftu_l_psi, found.ftu_lt_psi)


def _named(part: Part) -> Said:
    return said("sheet.clad" if part.clad else "sheet.bare", alloy=part.alloy, temper=part.temper)


@rule("R413", Shelf.HOLDS, reads=("parts",))
@judged_by("same_or_stronger_material", SHEET_ALLOWABLES)
@mended_by(Change.DOUBLER_SHEET)
def same_or_stronger(survey: Survey) -> Iterator[Finding]:
    """R413: material of the doubler."""
    skin, doubler = survey.layout.part("skin"), survey.layout.part("doubler")
    if skin is None or doubler is None:
        return
    asked = instruction("same_or_stronger_material")
    subject = said("doubler_sheet.on_skin", doubler=_named(doubler), skin=_named(skin))
    if (skin.alloy, skin.temper) == (doubler.alloy, doubler.temper):
        yield stated(Status.PASS, subject, asked)
        return
    try:
        skin_psi, doubler_psi = (_lower_ftu_psi(part, survey.shop) for part in (skin, doubler))
    except TableError:
        yield stated(Status.UNKNOWN, subject, asked, said("doubler_sheet.no_strength"), ASK)
        return
    measure = Measure("Ftu doubler", doubler_psi, unit="psi")
    judged = Judgement(measure, (Bound(skin_psi, asked.source, asked.grade, "Ftu skin"),))
    if judged.status is not Status.PASS:
        yield held(judged, subject, said("doubler_sheet.weaker"), ASK)
        return
    notches = (said("doubler_sheet.notches"),) if doubler.alloy == "7075" else ()
    yield held_as(judged, Status.CAUTION, subject, said("doubler_sheet.suitable_here"), *notches)


@rule("R414", Shelf.KNOW, reads=("doubler", "parts"), step="prime")
@judged_by("doubler_clad", "clad_external")
def clad_doubler(survey: Survey) -> Iterator[Finding]:
    """R414: cladding of the doubler."""
    doubler = survey.layout.part("doubler")
    if doubler is None:
        return
    is_outside = survey.layout.job.doubler is not None and survey.layout.job.doubler.face == "outside"
    is_fine = (doubler.clad or doubler.alloy in _COATED_ANYWAY) and not is_outside
    where = "outside" if is_outside else "inside"
    subjects = {"outside": "doubler_sheet.outside", "inside": "doubler_sheet.inside"}
    words = {"outside": "doubler_sheet.seal_outside", "inside": "doubler_sheet.coat_bare"}
    status = Status.PASS if is_fine else Status.CAUTION
    subject = said(subjects[where], sheet=_named(doubler))
    advice = () if is_fine else (said(words[where]),)
    yield stated(status, subject, instruction("clad_external" if is_outside else "doubler_clad"), *advice)


@rule("R415", Shelf.HOLDS, reads=("parts",))
@judged_by("radius_note_7075", limits=("corner_radius_min_handbook",))
@mended_by(Change.CORNER_RADIUS)
def notch_sensitive(survey: Survey) -> Iterator[Finding]:
    """R415: notches in 7075; the circular asks for no small radius, the handbook's aim says what is small."""
    aim, note = survey.limit("corner_radius_min_handbook"), instruction("radius_note_7075")
    aimed = Working.resting_on(aim, "R aimed at", Quantity("R", aim.value, "in"))
    for part in survey.layout.parts:
        if part.alloy != "7075":
            continue
        for edge in part.edges:
            corner = edge.corner
            if corner is None:
                continue
            bounds = (Bound(aim.value, note.source, note.grade),)
            judged = Judgement(Measure("R", corner.radius_in), bounds, fails_as=Status.CAUTION, more=(aimed,))
            radius = inch(corner.radius_in, beside_in=aim.value)
            subject = said("notch.corner", edge=edge_named(edge), radius=radius)
            yield held(judged, subject, ASK, place=corner.place, cause=edge.name)
