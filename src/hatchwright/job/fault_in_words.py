"""What the validation library finds wrong, told in our own words: what is wrong, and what would do."""

from __future__ import annotations

from typing import Any

from pydantic_core import ErrorDetails

from hatchwright.errors import Fault
from hatchwright.said import Said, said

_LONGEST_SHOWN = 60


def fault_in_words(details: ErrorDetails, field: str, *, manual: Said | str) -> Fault:
    """Tell one fault that was found when a value was read.

    Args:
        manual: where the keys of the file are told.
    """
    what, remedy = _told(details, field.rpartition(".")[2], field, manual)
    given = details["ctx"]["tag"] if details["type"] == "union_tag_invalid" else details["input"]
    return Fault(field, what, "" if details["type"] == "missing" else _shown(given), remedy)


def _shown(given: Any) -> str:
    """A value as it stands in the file, "" for what fills many lines."""
    if given is None or isinstance(given, dict | list):
        return ""
    return (str(given).lower() if isinstance(given, bool) else str(given))[:_LONGEST_SHOWN]


def _told(details: ErrorDetails, key: str, field: str, manual: Said | str) -> tuple[Said, Said | str]:
    """What is wrong, and what would do."""
    given, context = details["input"], details.get("ctx", {})
    match details["type"]:
        case "entry":
            return context["what"], context["remedy"]
        case "missing":
            return said("job.missing"), said("job.missing.do", manual=manual)
        case "extra_forbidden":
            return said("job.unknown_key"), said("job.unknown_key.do", manual=manual)
        case "literal_error":
            return said("job.no_word"), said("job.use", words=context["expected"])
        case "union_tag_invalid":
            return said("job.no_kind"), said("job.use", words=context["expected_tags"])
        case "union_tag_not_found":
            kind = context["discriminator"].strip("'")
            return said("job.kindless", kind=kind), said("job.kindless.do", kind=kind, manual=manual)
        case "string_type":
            return said("job.text_wanted"), said("job.text_wanted.do", key=key)
        case "string_too_short":
            least = context["min_length"]
            what = said("job.too_short", n=least) if given else said("job.blank")
            return what, said("job.too_short.do", n=least)
        case "string_too_long":
            most = context["max_length"]
            return said("job.text_long", n=most), said("job.text_long.do", n=most)
        case "too_short":
            least, there = context["min_length"], context["actual_length"]
            return said("job.too_few", given=there, least=least), said("job.too_few.do", least=least)
        case "too_long":
            most = context["max_length"]
            return said("job.too_many", most=most), said("job.no_more", most=most)
        case "tuple_type" if isinstance(given, dict):
            return said("job.single_section"), said("job.single_section.do", field=field, manual=manual)
        case "tuple_type":
            return said("job.list_wanted"), said("job.list_wanted.do", key=key, manual=manual)
        case "model_type" | "model_attributes_type" | "dict_type" if isinstance(given, list):
            return said("job.stands_once"), said("job.stands_once.do", field=field)
        case "model_type" | "model_attributes_type" | "dict_type":
            return said("job.section_wanted"), said("job.section_wanted.do", manual=manual)
        case "int_type" | "int_parsing" | "int_from_float" | "int_parsing_size":
            return said("job.whole_wanted"), said("job.whole_wanted.do", key=key)
        case _:
            return said("job.unreadable"), said("job.see", manual=manual)
