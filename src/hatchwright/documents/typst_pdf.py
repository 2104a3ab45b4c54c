"""PDF from a page template and plain data: the shipped fonts, no network, and read back before it is offered.

Every word goes in as JSON, so that nothing typed can act as markup or reach a file.
"""

from __future__ import annotations

import json
from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import Any, Literal

from msgspec import Struct, field

from hatchwright.drawings.lettering import FONTS
from hatchwright.drawings.sheet_code import SIDES, code_of, code_svg
from hatchwright.drawings.shipped_letters import lacks_letters, lettered
from hatchwright.drawings.writers.paper import Paper
from hatchwright.drawings.writers.readback.compare import refuse
from hatchwright.drawings.writers.readback.pdf_pages import page_words
from hatchwright.said import said
from hatchwright.words.tell import tell

_NUMBERED_SHEETS = 9
"""Sheets of one paper that have a code of their own; a tenth and later ones share one."""

_TEMPLATES = Path(__file__).with_name("templates")

_MIRRORED = str.maketrans("<([{", ">)]}")
"""Beside letters that run from right to left a reader takes a bracket for its mirror image."""


class Part(Struct, frozen=True):
    """One paper of a file.

    Args:
        template: that sets it, by its name without the ending.
        data: everything it prints, of plain texts, lists and dictionaries.
        pictures: SVG drawings of ours, by the name under which the template asks for them.
        alts: what each picture shows, by the same name; `given.alts` of the template.
        steps: numbers that the template marks as ``<step-at>``: then the code of a sheet names the first of them on it,
            in the place of the sheet.
        called: name under which its code knows it, its template where that is "".
    """

    template: str
    data: Mapping[str, Any]
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    alts: Mapping[str, str] = field(default_factory=dict)
    steps: Sequence[int] = ()
    called: str = ""


_KEPT: list[Literal["a-2b", "ua-1"]] = ["a-2b", "ua-1"]
"""PDF/A for years, PDF/UA for who reads by ear. Source: ISO 19005-2 and ISO 14289-1, as typesetting names them."""


def pdf_from(
    *parts: Part,
    title: str,
    paper: Paper,
    stamp: datetime,
    kept_for_years: bool = False,
    chain_head: str = "",
) -> bytes:
    """Set papers one after the other into one file, the same bytes for the same parts and time.

    A letter that the fonts lack is printed by its number, and a line at the foot says so.

    Args:
        title: of the file.
        kept_for_years: whether it is written to PDF/A-2b and PDF/UA-1, a chapter a part: then each picture needs words.
        chain_head: of the records as they stood when it was made, in letters and as a square; "" where there are none.
    Raises:
        ExportError: a page, or any of the words, could not be found again in the written file.
    """
    import typst

    width_in, height_in = paper.size_in
    set_ = [
        {
            "template": part.template,
            "data": _plain(part.data),
            "alts": _plain(dict(part.alts)),
            "codes": dict(_codes(part)),
            "by_step": bool(part.steps),
        }
        for part in parts
    ]
    is_short = any(lacks_letters(words) for part in parts for words in _words(part.data))
    chain = _chain(chain_head)
    given = {
        "title": lettered(title),
        "width": width_in,
        "height": height_in,
        "chapters": kept_for_years,
        "letters": tell(said("paper.letters_lacking")) if is_short else "",
        "chain": chain,
        "parts": set_,
    }
    drawn = {
        f"{number}/{name}": _lettered_lines(svg.decode("utf-8"))
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
        pdf_standards=[*_KEPT] if kept_for_years else [],
    )
    pages = [_letters(words) for words in page_words(made)]
    for words in _words([*(part["data"] for part in set_), chain.get("words", "")]):
        if not _is_said(_letters(words), pages):
            refuse("PDF", said("readback.lacks", words=words))
    return made


def _chain(head: str) -> dict[str, str]:
    """The head of the records in words and as a square; empty where there are none."""
    if not head:
        return {}
    return {
        "words": tell(said("paper.chain_head", head=head)),
        "square": code_svg(head.upper()).decode("ascii"),
    }


def _codes(part: Part) -> Iterator[tuple[str, dict[str, str]]]:
    """The code of each sheet of a paper, or of each step that a sheet may begin with, by its number; 0 has that of all
    others. None of what has no head or is of several sides."""
    head = part.data.get("head")
    if not head or head["side"] not in SIDES:
        return
    about = {
        "title": head["job"],
        "side": head["side"],
        "revision": head["revision"],
        "paper": part.called or part.template,
    }
    for number in (0, *(part.steps or range(1, _NUMBERED_SHEETS + 1))):
        code = code_of(sheet=number, **about)
        square = code_svg(code.letters).decode("ascii")
        yield str(number), {"words": tell(said("paper.code", code=code.grouped)), "square": square}


def _lettered_lines(svg: str) -> str:
    return svg if svg.isascii() else "\n".join(map(lettered, svg.split("\n")))


def _plain(data: Any) -> Any:
    """The same data without control characters, and in letters that the fonts hold."""
    match data:
        case str():
            return lettered(data)
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
        case list() | tuple():
            for value in data:
                yield from _words(value)


def _letters(words: str) -> str:
    """Plain letters only: the fonts may lack others, and lines are broken anew."""
    return "".join(letter for letter in words if "!" <= letter <= "~").translate(_MIRRORED)
