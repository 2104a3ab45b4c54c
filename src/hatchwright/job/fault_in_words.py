"""What the validation library finds wrong, told in our own words: what is wrong, and what would do."""

from __future__ import annotations

from typing import Any

from pydantic_core import ErrorDetails

from hatchwright.errors import Fault

_LONGEST_SHOWN = 60


def fault_in_words(details: ErrorDetails, field: str, *, manual: str) -> Fault:
    """Tell one fault that was found when a value was read.

    Args:
        details: as the library gives them.
        field: dotted name of the field.
        manual: where the keys of the file are told.
    Returns:
        Fault: without its line.
    """
    what, remedy = _told(details, field.rpartition(".")[2], field, f"See {manual}.")
    given = details["ctx"]["tag"] if details["type"] == "union_tag_invalid" else details["input"]
    return Fault(field, what, "" if details["type"] == "missing" else _shown(given), remedy)


def _shown(given: Any) -> str:
    """A value as it stands in the file, "" for what fills many lines."""
    if given is None or isinstance(given, dict | list):
        return ""
    return (str(given).lower() if isinstance(given, bool) else str(given))[:_LONGEST_SHOWN]


def _told(details: ErrorDetails, key: str, field: str, see: str) -> tuple[str, str]:
    """What is wrong, and what would do."""
    given, context = details["input"], details.get("ctx", {})
    match details["type"]:
        case "entry":
            return context["what"], context["remedy"]
        case "missing":
            return "this is missing", f"Add it. {see}"
        case "extra_forbidden":
            return "unknown key", f"Check its spelling, or leave it away. {see}"
        case "literal_error":
            return "this is not one of the words known here", f"Use {context['expected']}."
        case "union_tag_invalid":
            return "this kind is not known", f"Use {context['expected_tags']}."
        case "union_tag_not_found":
            kind = context["discriminator"].strip("'")
            return f"it does not say its {kind}", f"Add {kind} = and one of its words. {see}"
        case "string_type":
            return "text is expected here", f'Put it in quotes, as {key} = "...".'
        case "string_too_short":
            least = context["min_length"]
            return (
                "this is empty" if not given else f"this is shorter than {least} letters",
                f"Write at least {_counted(least, 'letter')}.",
            )
        case "string_too_long":
            most = context["max_length"]
            return f"this is longer than {most} letters", f"Shorten it to {most} letters."
        case "too_short":
            least, there = context["min_length"], context["actual_length"]
            return f"{there} given, and {least} or more are needed", f"Give at least {least}."
        case "too_long":
            most = context["max_length"]
            return f"more than {most} are given", f"Give no more than {most}."
        case "tuple_type" if isinstance(given, dict):
            return (
                "a list is expected here, and this is a single section",
                f"Write the heading [[{field}]] in double brackets, or a list in square brackets. {see}",
            )
        case "tuple_type":
            return "a list is expected here", f'Write it in square brackets, as {key} = ["1.5", "2.5"]. {see}'
        case "model_type" | "model_attributes_type" | "dict_type" if isinstance(given, list):
            return "this stands once, not in a list", f"Write the heading [{field}] in single brackets."
        case "model_type" | "model_attributes_type" | "dict_type":
            return "a section is expected here", f"Write its keys under a heading of their own. {see}"
        case "int_type" | "int_parsing" | "int_from_float" | "int_parsing_size":
            return "a whole number is expected here", f"Write it without quotes or point, as {key} = 16."
        case "greater_than":
            return f"this must be more than {context['gt']}", f"Give more than {context['gt']}."
        case "less_than_equal":
            return f"{context['le']} is the most that will do here", f"Give no more than {context['le']}."
        case _:
            return "this cannot be read here", see


def _counted(number: int, thing: str) -> str:
    return f"{number} {thing}" + "s" * (number != 1)
