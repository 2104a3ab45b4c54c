"""Layers by operation, and line styles by what they stand for."""

from __future__ import annotations

from enum import StrEnum

from hatchwright.said import said
from hatchwright.words.tell import tell


class Layer(StrEnum):
    """Layers by operation; a machine follows the ones that are cut and no others."""

    OPENING = "OPENING"
    ROUGH_CUT = "ROUGH_CUT"
    DOUBLER = "DOUBLER"
    COVER = "COVER"
    TEMPLATE = "TEMPLATE"
    DRILL_PILOT = "DRILL_PILOT"
    DRILL_FINAL = "DRILL_FINAL"
    ENGRAVE = "ENGRAVE"
    STRUCTURE = "STRUCTURE"
    KEEP_OUT = "KEEP_OUT"
    DIMENSION = "DIMENSION"
    TEXT = "TEXT"
    CHECK = "CHECK"

    @property
    def is_cut(self) -> bool:
        """Whether a machine may cut or drill here: closed edges and circles only, never lettering."""
        return self in _CUT


_CUT = {
    Layer(name)
    for name in ["OPENING", "ROUGH_CUT", "DOUBLER", "COVER", "TEMPLATE", "DRILL_PILOT", "DRILL_FINAL"]
}


class Style(StrEnum):
    """Line styles by what they stand for; each can be told from the others without color.

    Thick and thin lines and the runs of dashes are from memory, unverified (ASME Y14.2).
    """

    FINISHED = "finished"
    DIMENSION = "dimension"
    HIDDEN = "hidden"
    CENTER = "center"
    PHANTOM = "phantom"
    KEEP_OUT = "keep-out"
    JOIN = "join"

    @property
    def width_in(self) -> float:
        """Width of the line: 0.6 mm for a finished edge, 0.3 mm for all others [in]."""
        return (0.6 if self is Style.FINISHED else 0.3) / 25.4

    @property
    def dashes_in(self) -> tuple[float, ...]:
        """Lengths of dash and gap in turn, empty for a solid line [in]."""
        return _DASHES_IN[self]

    @property
    def meaning(self) -> str:
        """What the line stands for, as the legend says it."""
        return tell(said(f"style.{self.value.replace('-', '_')}"))


_DASHES_IN: dict[Style, tuple[float, ...]] = {
    Style.FINISHED: (),
    Style.DIMENSION: (),
    Style.HIDDEN: (0.12, 0.04),
    Style.CENTER: (0.40, 0.04, 0.08, 0.04),
    Style.PHANTOM: (0.40, 0.04, 0.08, 0.04, 0.08, 0.04),
    Style.KEEP_OUT: (),
    Style.JOIN: (0.02, 0.06),
}
