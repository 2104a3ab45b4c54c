"""One text for one value, so that its hash means something: JSON, keys sorted, no blanks, whole numbers only.

It is the part of [RFC8785] that needs no rule for fractions: a fraction is held as the text that was typed.
"""

from __future__ import annotations

import json
from collections.abc import Mapping

Plain = None | bool | int | str | list["Plain"] | dict[str, "Plain"]
"""What a body may hold."""

written = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode
"""The text of what is in order already and holds only what it may."""

_MOST = 2**53 - 1
"""The largest whole number that every reader of JSON keeps. Source: [RFC8785], 3.2.2.3, from memory."""


def canonical(value: Mapping[str, Plain]) -> str:
    """The one text of a value.

    Raises:
        TypeError: it holds a fraction or anything else that is not `Plain`.
        ValueError: a whole number beyond 53 bits, or half a letter.

    >>> canonical({"b": [1, "x"], "a": None})
    '{"a":null,"b":[1,"x"]}'
    """
    text = written(_in_order(dict(value)))
    text.encode("utf-8")  # half a letter has no bytes
    return text


def _in_order(value: Plain) -> Plain:
    if isinstance(value, dict):
        keys = sorted(value) if all(map(str.isascii, value)) else sorted(value, key=_as_utf16)
        return {key: _in_order(value[key]) for key in keys}
    if isinstance(value, list):
        return [_in_order(one) for one in value]
    if value is None or isinstance(value, (bool, str)):
        return value
    if not isinstance(value, int):
        raise TypeError(type(value).__name__)
    if abs(value) > _MOST:
        raise ValueError(value)
    return value


def _as_utf16(key: str) -> bytes:
    """The order of keys. Source: [RFC8785], 3.2.3."""
    return key.encode("utf-16-be", "surrogatepass")
