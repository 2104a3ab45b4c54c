"""R413 to R415: the new sheet against the skin's material."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import Status, judge_at_least
from hatchwright.layout.layout import Part
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against, in_words
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import inch
from hatchwright.tables.allowables import Allowables, allowables
from hatchwright.tables.catalog import SHEET_ALLOWABLES
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import instruction
from hatchwright.tables.materials import sheet
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Quantity, Working


def _allowed(part: Part, shop: ShopTables | None) -> Allowables:
    return allowables(
        sheet(part.alloy, part.temper, part.clad, shop), thickness_in=part.thickness_in, shop=shop
    )


def _named(part: Part) -> str:
    return f"{part.alloy}-{part.temper}{' clad' if part.clad else ''}"


@rule(
    "R413",
    Shelf.HOLDS,
    rests_on=(instruction("same_or_stronger_material"), SHEET_ALLOWABLES),
    reads=("parts",),
)
def same_or_stronger(survey: Survey) -> Iterator[Finding]:
    """R413: material of the doubler."""
    skin, doubler = survey.layout.part("skin"), survey.layout.part("doubler")
    if skin is None or doubler is None:
        return
    asked = instruction("same_or_stronger_material")
    if (skin.alloy, skin.temper) == (doubler.alloy, doubler.temper):
        yield in_words("R413", Status.PASS, f"doubler {_named(doubler)} on skin {_named(skin)}", asked)
        return
    try:
        skin_psi, doubler_psi = (
            min(found.ftu_l_psi, found.ftu_lt_psi)
            for found in (_allowed(skin, survey.shop), _allowed(doubler, survey.shop))
        )
    except TableError as error:
        yield in_words("R413", Status.UNKNOWN, f"doubler {_named(doubler)}: {error.what}", asked)
        return
    weaker = doubler_psi < skin_psi
    cited = Cited(skin_psi, "psi", asked.source, asked.grade)
    yield against(
        "R413",
        Status.STOP if weaker else Status.CAUTION,
        f"doubler {_named(doubler)} on skin {_named(skin)}",
        value=doubler_psi,
        limit=skin_psi,
        unit="psi",
        cited=cited,
        formula="Ftu doubler >= Ftu skin",
        values=(Quantity("Ftu skin", skin_psi, "psi"), Quantity("Ftu doubler", doubler_psi, "psi")),
        advice="Weaker than the skin: take the skin's material."
        if weaker
        else "Another material than the skin's: is it suitable here? 7075 is sensitive to notches.",
        shortfall=skin_psi - doubler_psi,
    )


@rule(
    "R414",
    Shelf.KNOW,
    rests_on=(instruction("doubler_clad"), instruction("clad_external")),
    reads=("doubler", "parts"),
)
def clad_doubler(survey: Survey) -> Iterator[Finding]:
    """R414: cladding of the doubler."""
    doubler = survey.layout.part("doubler")
    if doubler is None:
        return
    outside = survey.layout.job.doubler is not None and survey.layout.job.doubler.face == "outside"
    asked = instruction("clad_external" if outside else "doubler_clad")
    coated_anyway = doubler.alloy in ("5052", "6061")
    fine = (doubler.clad or coated_anyway) and not outside
    yield in_words(
        "R414",
        Status.PASS if fine else Status.CAUTION,
        f"doubler {_named(doubler)}{', outside' if outside else ''}",
        asked,
    )


@rule(
    "R415",
    Shelf.KNOW,
    limits=("corner_radius_min_handbook",),
    rests_on=(instruction("radius_note_7075"),),
    reads=("parts",),
)
def notch_sensitive(survey: Survey) -> Iterator[Finding]:
    """R415: notches in 7075."""
    aim, note = survey.limit("corner_radius_min_handbook"), instruction("radius_note_7075")
    for part in survey.layout.parts:
        if part.alloy != "7075":
            continue
        for edge in part.edges:
            corner = edge.corner
            if corner is None:
                continue
            status = judge_at_least(corner.radius_in, aim.value, short=Status.CAUTION)
            yield against(
                "R415",
                status,
                f"{edge.name} of 7075, corner {inch(corner.radius_in)} in",
                value=corner.radius_in,
                limit=aim.value,
                unit="in",
                cited=Cited(aim.value, "in", note.source, note.grade),
                formula=f"R >= {inch(aim.value)} in, the aim for any corner",
                values=(Quantity("R", corner.radius_in, "in"),),
                more=(Working("aim R", (), Quantity("R", aim.value, "in"), aim.source, aim.grade),),
                advice="" if status is Status.PASS else "Enlarge the radius.",
                place=corner.place,
                shortfall=aim.value - corner.radius_in,
            )
