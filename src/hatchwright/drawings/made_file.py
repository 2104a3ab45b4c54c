"""A file that was made, with what it is: nothing is ever read back out of its name."""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

from msgspec import Struct

Sided = Literal["left", "right", "center", ""]


class MadeKind(StrEnum):
    """What a file is, by the word of it that stands in the file's name."""

    OVERVIEW = "OVERVIEW"
    LAYOUT = "LAYOUT"
    PARTS = "PARTS"
    CARRY_CARD = "CARRY_CARD"
    TEMPLATE = "TEMPLATE"
    TEMPLATE_SHEET = "TEMPLATE_SHEET"
    PREDICTED_CUT = "PREDICTED_CUT"
    PIN_SHEET = "PIN_SHEET"
    PINS = "PINS"
    TRIAL = "TRIAL"
    TOOLPATH = "TOOLPATH"
    ANNEX = "ANNEX"
    PACKAGE = "PACKAGE"
    STRENGTH = "STRENGTH"
    SWEEP = "SWEEP"
    SCAN_FRAME = "SCAN_FRAME"
    TRACED = "TRACED"
    LISTS = "LISTS"
    TRIAL_SHEET = "TRIAL_SHEET"
    LOG = "LOG"
    RECORD = "RECORD"
    AS_BUILT = "AS_BUILT"
    LOOKS = "LOOKS"
    BLANK_FORMS = "BLANK_FORMS"
    PULL_LIST = "PULL_LIST"
    FLEET = "FLEET"
    LABELS = "LABELS"
    BALANCE = "BALANCE"
    SURVEY_SHEET = "SURVEY_SHEET"
    SURVEY_DRAWING = "SURVEY_DRAWING"
    QUICK = "QUICK"
    PRINT = "PRINT"
    PREVIEW = "PREVIEW"
    ALL_IN_ONE = "ALL_IN_ONE"


class Written(StrEnum):
    """How a file is written, by what its name ends in."""

    PDF = "pdf"
    SVG = "svg"
    DXF = "dxf"
    NGC = "ngc"
    THREE_MF = "3mf"
    TXT = "txt"
    ZIP = "zip"
    PNG = "png"
    CSV = "csv"


class MadeFile(Struct, frozen=True):
    """One file, not yet written anywhere.

    Args:
        side: of the aircraft that it is for, "" for all of the job.
        true_size: whether lengths may be taken from it: as drawn, or as a machine follows it.
    """

    name: str
    kind: MadeKind
    side: Sided
    true_size: bool
    written: Written
    content: bytes
