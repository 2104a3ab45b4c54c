"""PDF from a page template and plain data: the shipped fonts, no network, and read back before it is offered.

Every word goes in as JSON, so that nothing typed can act as markup or reach a file.
"""

from __future__ import annotations

import json
from bisect import bisect_left
from collections.abc import Iterator, Mapping
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import Any

from msgspec import Struct, field

from hatchwright.drawings.lettering import FONTS, literal
from hatchwright.drawings.writers.paper import Paper
from hatchwright.drawings.writers.readback.compare import refuse
from hatchwright.drawings.writers.readback.pdf_pages import page_words
from hatchwright.said import said

_TEMPLATES = Path(__file__).with_name("templates")

_MIRRORED = str.maketrans("<([{", ">)]}")
"""Beside letters that run from right to left a reader takes a bracket for its mirror image."""


class Part(Struct, frozen=True):
    """One paper of a file.

    Args:
        template: that sets it, by its name without the ending.
        data: everything it prints, of plain texts, lists and dictionaries.
        pictures: SVG drawings of ours, by the name under which the template asks for them.
    """

    template: str
    data: Mapping[str, Any]
    pictures: Mapping[str, bytes] = field(default_factory=dict)


def pdf_from(*parts: Part, title: str, paper: Paper, stamp: datetime) -> bytes:
    """Set papers one after the other into one file, the same bytes for the same parts and time.

    Args:
        title: of the file.
    Raises:
        ExportError: a page, or any of the words, could not be found again in the written file.
    """
    import typst

    width_in, height_in = paper.size_in
    set_ = [{"template": part.template, "data": _plain(part.data)} for part in parts]
    given = {"title": literal(title), "width": width_in, "height": height_in, "parts": set_}
    drawn = {
        f"{number}/{name}": svg.decode("utf-8")
        for number, part in enumerate(parts)
        for name, svg in part.pictures.items()
    }
    made: bytes = typst.compile(
        str(_TEMPLATES / "set.typ"),
        root=str(_TEMPLATES),
        font_paths=[str(FONTS)],
        ignore_system_fonts=True,
        format="pdf",
        sys_inputs={"given": json.dumps(given), **drawn},
        timestamp=int(stamp.timestamp()),
    )
    pages = [_letters(words) for words in page_words(made)]
    for words in _words([part["data"] for part in set_]):
        if not _is_said(_letters(words), pages):
            refuse("PDF", said("readback.lacks", words=words))
    return made


def _plain(data: Any) -> Any:
    """The same data without control characters."""
    match data:
        case str():
            return literal(data)
        case dict():
            return {name: _plain(value) for name, value in data.items()}
        case list() | tuple():
            return [_plain(value) for value in data]
        case _:
            return data


def _is_said(letters: str, pages: list[str]) -> bool:
    """Whether a page says it, or one page begins it and the next ends it: foot and head of a page lie between."""
    if any(letters in page for page in pages):
        return True
    for page, following in pairwise(pages):
        begun = bisect_left(range(1, len(letters)), True, key=lambda end: letters[:end] not in page)
        if begun and letters[begun:] in following:
            return True
    return False


def _words(data: Any) -> Iterator[str]:
    match data:
        case str():
            yield data
        case dict():
            for value in data.values():
                yield from _words(value)
        case list():
            for value in data:
                yield from _words(value)


def _letters(words: str) -> str:
    """Plain letters only: the fonts may lack others, and lines are broken anew."""
    return "".join(letter for letter in words if "!" <= letter <= "~").translate(_MIRRORED)
