"""Make text of what is to be said."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum

from hatchwright.said import Amount, Listed, Numbered, Place, Said, Value, said
from hatchwright.units import Unit
from hatchwright.words.amounts import amount_text, place_text
from hatchwright.words.catalog import HOME, pieces


def tell(what: Value, unit: Unit = "in", tongue: str = HOME, *, how: str = "") -> str:
    """Write one sentence, name or value.

    A hole of an entry may say how it is written: ``{gap:u}`` with its unit mark also where inches need none,
    ``{size:b}`` without any, ``{area:l}`` without one only where it is a length, ``{hole:C}`` with a capital,
    ``{row:r}`` as a row, told to be one once. What is told within it follows, unless its own entry says how.

    Args:
        what: an id with its values, or a value alone.
        unit: of lengths, that of the job.
        tongue: the language, a folder of the catalogue.
        how: what is told is written where its entry does not say, such as ``l`` under a heading that names the unit
            of lengths.
    Returns:
        str: the words.
    Raises:
        KeyError: the catalogue has no such id, or the entry asks for a value that was not given.
    """
    return _text(what, unit, tongue, how)


def tell_all(what: Iterable[Value], unit: Unit = "in", tongue: str = HOME) -> str:
    """Write sentences one after the other."""
    return " ".join(tell(one, unit, tongue) for one in what)


def ended(sentence: str) -> str:
    """What somebody typed with the period that it may lack, so that another sentence can follow it."""
    return f"{sentence}." if sentence and not sentence.endswith((".", "?", "!")) else sentence


def _text(what: Value, unit: Unit, tongue: str, spec: str) -> str:
    text = _plain(what, unit, tongue, spec)
    return text[:1].upper() + text[1:] if "C" in spec else text


def _plain(what: Value, unit: Unit, tongue: str, spec: str) -> str:
    match what:
        case Said():
            return _sentence(what, unit, tongue, spec)
        case Enum():
            return _sentence(said(f"{type(what).__name__.lower()}.{what.name.lower()}"), unit, tongue)
        case Amount():
            bare = "b" in spec or ("l" in spec and what.unit == "in")
            return amount_text(what, unit, marked="u" in spec, bare=bare)
        case Place():
            return place_text(what, unit, marked="u" in spec, bare="b" in spec or "l" in spec)
        case Numbered():
            numbers = Listed(tuple(map(str, what.numbers)))
            named = said(f"kind.{what.kind}.numbered", n=len(what.numbers), numbers=numbers)
            return _sentence(named, unit, tongue)
        case Listed():
            return _list(what, unit, tongue, spec)
        case str() if "r" in spec:
            return _row(what, tongue)
        case _:
            return str(what)


def _row(name: str, tongue: str) -> str:
    """The name of a row, with the word before it where it is not in the name, such as ``row aft`` or ``inner row``."""
    word = _sentence(said("row.word"), "in", tongue)
    is_named = word.casefold() in name.casefold().split()
    return name if is_named else _sentence(said("row.named", name=name), "in", tongue)


def _sentence(what: Said, unit: Unit, tongue: str, spec: str = "") -> str:
    within = spec.replace("C", "")
    values = dict(what.values)
    n = values.get("n")
    return "".join(
        before if hole is None else before + _text(values[hole], unit, tongue, how or within)
        for before, hole, how in pieces(what.id, n if isinstance(n, int) else None, tongue)
    )


def _list(what: Listed, unit: Unit, tongue: str, spec: str) -> str:
    within = spec.replace("C", "")
    items = [_text(item, unit, tongue, within) for item in what.items]
    if what.joined == "+":
        return " + ".join(items)
    if what.joined in (";", ","):
        return f"{what.joined} ".join(items)
    if len(items) < 2:
        return "".join(items)
    pair = said(f"list.{what.joined}", first=", ".join(items[:-1]), last=items[-1])
    return _sentence(pair, unit, tongue)
