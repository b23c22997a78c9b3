"""Checking one table against its shape: every fault of the whole table in one go."""

from __future__ import annotations

import difflib
import re
import sys
import unicodedata
from collections.abc import Iterator
from types import UnionType
from typing import Any, Union, get_args, get_origin

import yaml
from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from ..catalogue import Record
from ..catalogue.carrier import BY_LANGUAGE, ONE_TEXT, PHONE_PATTERN
from ..catalogue.record import Language
from ..faults import Fault, Place, quoted
from .reader import Steps, Table


def validate_shape(table: Table, shape: type[Record]) -> Record | None:
    """The table as records, or None with the faults added to the table.

    Faults are named by the kind of mistake (pydantic's error type), never by its English sentence.
    """
    if table.data is None:
        return None
    try:
        return shape.model_validate(table.data)
    except ValidationError as failure:
        for error in failure.errors(include_url=False, include_input=True):
            table.faults.append(_fault(table, shape, error))
    return None


CLOSE = 0.6
"""How alike two words are (difflib's ratio) before one is taken for a misspelling of the other."""
_UNSPACED = re.compile(r"([a-z_]+):(\S.*)")
_WHY_UNKNOWN = "a misspelt key would be passed over and its content lost"
_WHY_MISSING = "every output shows it, and a gap would look like an answer"
_WHY_KIND = "each field holds one kind of value, so that every output can show it"


def _fault(table: Table, shape: type[Record], error: Any) -> Fault:
    kind: str = error["type"]
    steps: Steps = tuple(step for step in error["loc"] if step not in ("[key]", ONE_TEXT, BY_LANGUAGE))
    context: dict[str, Any] = error.get("ctx") or {}
    owner = _owner(table, steps)
    name = _field(steps)
    value = _value_at(table.data, steps)
    if kind == "extra_forbidden":
        return _unknown_key(table, shape, steps, owner)
    if kind == "missing":
        place = table.place(steps[:-1])
        return Fault(place, "missing-key", f"{owner} has no {name}", _WHY_MISSING,
                     f"add {steps[-1]}: and its value{_such_as(shape, steps)}", subject=f"{place} {steps[-1]}")  # fmt: skip
    place = table.place(steps)
    if "[key]" in error["loc"]:
        return Fault(table.key_place(steps), "bad-language", f"{name} in {owner} is not a language code or id",
                     "texts are kept by language, such as en or fr", "write the code of the language")  # fmt: skip
    if value is None and kind not in ("extra_forbidden", "missing"):
        return Fault(place, "missing-value", f"{name} of {owner} has no value", _WHY_MISSING,
                     "write the value, or remove the key where it is optional",
                     subject=f"value at {place}")  # fmt: skip
    if kind == "literal_error":
        choices = [choice.strip(" '") for choice in context["expected"].replace(" or ", ", ").split(",")]
        return Fault(place, "bad-choice", f"{quoted(value)} is not a choice for {name} of {owner}",
                     "the outputs know only these words", suggest(str(value), choices, len(choices)))  # fmt: skip
    if kind == "string_pattern_mismatch":
        return _bad_pattern(table, steps, value, owner, context["pattern"])
    if kind in ("string_too_short", "string_too_long", "too_short", "too_long"):
        bound = context.get("min_length", context.get("max_length"))
        few = kind.endswith("short")
        more = "write it" if kind.startswith("string") else f"write at least {bound}"
        return Fault(place, "bad-length", f"{name} of {owner} is too {'short' if few else 'long'}",
                     f"it holds at {'least' if few else 'most'} {bound}",
                     more if few else "shorten or split it")  # fmt: skip
    wanted = _WANTED.get(kind)
    joined = _unspaced(value)
    if wanted == "a mapping" and joined and joined[0] in _fields_at(shape, steps):
        return _no_space(place, *joined, ())
    if wanted:
        return Fault(place, "wrong-kind", f"{name} of {owner} is {_kind_of(value)}, not {wanted}", _WHY_KIND,
                     f"write {wanted}")  # fmt: skip
    if "ge" in context or "le" in context:
        bound = f"at least {context['ge']}" if "ge" in context else f"at most {context['le']}"
        return Fault(place, "out-of-range", f"{quoted(value)} is out of range for {name} of {owner}",
                     f"the value is {bound}", "write a value in range")  # fmt: skip
    return Fault(place, "bad-value", f"{quoted(value)} does not fit {name} of {owner} ({kind})", _WHY_KIND,
                 "the record is described where it is defined: see the tables in DEVELOPERS.md")  # fmt: skip


_WANTED = {
    "string_type": "text",
    "list_type": "a list",
    "dict_type": "a mapping",
    "model_type": "a mapping",
    "model_attributes_type": "a mapping",
    "int_parsing": "a whole number",
    "int_from_float": "a whole number",
    "int_type": "a whole number",
    "decimal_parsing": "a number",
    "decimal_type": "a number",
    "finite_number": "a number",
    "bool_parsing": "true or false",
    "bool_type": "true or false",
    "date_from_datetime_parsing": "a date such as 2026-11-25",
    "date_parsing": "a date such as 2026-11-25",
    "date_type": "a date such as 2026-11-25",
    "date_from_datetime_inexact": "a date such as 2026-11-25",
}


def _such_as(shape: type[Record], steps: Steps) -> str:
    """An example of a field as it is written, where its record has one."""
    field = _fields_at(shape, steps[:-1]).get(str(steps[-1]))
    if field is None or not field.examples:
        return ""
    written = yaml.safe_dump({steps[-1]: field.examples[0]}, default_flow_style=True, sort_keys=False, width=sys.maxsize)
    return f", such as {written.strip()[1:-1]}"


def _unspaced(text: Any) -> tuple[str, str] | None:
    """A key and its value that were taken for one word, as no space stands after the colon."""
    found = _UNSPACED.fullmatch(text) if isinstance(text, str) else None
    return (found[1], found[2]) if found else None


def _no_space(place: Place, key: str, value: str, touches: tuple[str, ...]) -> Fault:
    return Fault(place, "unknown-key", f"no space stands after the colon of {quoted(f'{key}:{value}')}",
                 "YAML takes all of it for one word, and the value would be lost", f"put a space after the colon: {key}: {value}",
                 touches=touches)  # fmt: skip


def _unknown_key(table: Table, shape: type[Record], steps: Steps, owner: str) -> Fault:
    known = sorted(_fields_at(shape, steps[:-1]))
    joined = _unspaced(steps[-1])
    if joined and joined[0] in known:
        return _no_space(table.key_place(steps), *joined, (f"{table.place(steps[:-1])} {joined[0]}",))
    meant = difflib.get_close_matches(str(steps[-1]), known, n=1, cutoff=CLOSE)
    return Fault(table.key_place(steps), "unknown-key", f"{quoted(steps[-1])} is not a key of {owner}",
                 _WHY_UNKNOWN, suggest(str(steps[-1]), known),
                 touches=tuple(f"{table.place(steps[:-1])} {key}" for key in meant))  # fmt: skip


def _bad_pattern(table: Table, steps: Steps, value: Any, owner: str, pattern: str) -> Fault:
    place = table.place(steps)
    what = (f"{quoted(value)} is not a well-formed {steps[-1]} of {owner}" if isinstance(steps[-1], str)
            else f"{quoted(value)} in {_field(steps)} of {owner} is not well-formed")  # fmt: skip
    if "https?" in pattern:
        ending = ' and ends with "/"' if pattern.endswith("/$") else ""
        return Fault(place, "bad-address", what, "the outputs link to it",
                     f"write an address that starts with https://{ending}")  # fmt: skip
    if pattern == PHONE_PATTERN:
        return Fault(place, "bad-phone", what, "a driver dials it as it stands on the card",
                     'write seven digits or more, and x4 for "extension 4", such as 819 555-0101 x4; '
                     'brackets, "+", "-" and "." may stand between')  # fmt: skip
    form = "component-id.short-name" if r"\." in pattern else "lower-case-words-with-hyphens"
    plain = re.sub(r"[^a-z0-9]+", "-", unicodedata.normalize("NFKD", str(value)).encode("ascii", "ignore").decode().lower())
    such = f", such as {quoted(plain.strip('-'))}" if plain.strip("-") and r"\." not in pattern else ""
    becomes = "ids become names of folders of prints, and" if steps[:1] == ("carrier",) else "ids become addresses of pages and"
    return Fault(place, "bad-id", what, f"{becomes} stay for good", f"write {form}{such}",
                 subject=f"value at {place}", touches=(str(value), str(value).lower()))


def _field(steps: Steps) -> str:
    """The field that a value stands in, by its key: a value of a list by the key of the list."""
    keys = [step for step in steps if isinstance(step, str)]
    return quoted(keys[-1]) if keys else "the table"


def _fields_at(shape: type[BaseModel], steps: Steps) -> dict[str, FieldInfo]:
    """The fields that the shape knows at a place, by their keys."""
    current: Any = shape
    for step in steps:
        if isinstance(current, type) and issubclass(current, BaseModel):
            found = current.model_fields.get(str(step))
            current = found.annotation if found else None
        else:
            arguments = getattr(current, "__args__", ())
            current = arguments[-1] if arguments else None
        current = _record_in(current)
    if isinstance(current, type) and issubclass(current, BaseModel):
        return dict(current.model_fields)
    return {}


def _record_in(annotation: Any) -> Any:
    """An annotation without `| None` and `Annotated`."""
    while hasattr(annotation, "__metadata__"):
        annotation = annotation.__origin__
    if get_origin(annotation) in (Union, UnionType):
        arguments = [a for a in get_args(annotation) if a is not type(None)]
        return _record_in(arguments[0])
    return annotation


def _owner(table: Table, steps: Steps) -> str:
    """The record around a value, by its id, as a person would say it."""
    for end in range(len(steps) - 1, -1, -1):
        around = _value_at(table.data, steps[:end])
        if isinstance(around, dict) and isinstance(around.get("id"), str):
            return quoted(around["id"])
    keys = [str(step) for step in steps[:-1] if isinstance(step, str)]
    return quoted(" / ".join(keys)) if keys else table.name


def _value_at(data: Any, steps: Steps) -> Any:
    for step in steps:
        try:
            data = data[step]
        except (KeyError, IndexError, TypeError):
            return None
    return data


def _kind_of(value: Any) -> str:
    if isinstance(value, dict):
        return "a mapping"
    if isinstance(value, list):
        return "a list"
    return f"the text {quoted(value)}"


def suggest(value: str, choices: list[str], most: int = 12) -> str:
    """How to mend a word that is not among the choices: the closest first, then the others, as far as `most` of them."""
    plain = value.lower().replace(" ", "-")
    close = difflib.get_close_matches(value, choices, n=1, cutoff=CLOSE) or difflib.get_close_matches(plain, choices, n=1, cutoff=CLOSE)
    shown = sorted(choices)
    listed = ", ".join(shown[:most]) + (", …" if len(shown) > most else "")
    if close and len(choices) == 1:
        return f"write {quoted(close[0])}"
    if close:
        return f"write {quoted(close[0])}, or another of: {listed}"
    return f"write one of: {listed}" if shown else "there is nothing to choose from yet"


def text_fields(shape: Any, data: Any, steps: Steps = ()) -> Iterator[tuple[Steps, dict[str, Any]]]:
    """Every text in a table's data: the mappings by language, and the way to each."""
    shape = _record_in(shape)
    if isinstance(shape, type) and issubclass(shape, BaseModel) and isinstance(data, dict):
        for name, field in shape.model_fields.items():
            if name in data:
                yield from _texts_in(field.annotation, data[name], (*steps, name))


def _texts_in(annotation: Any, data: Any, steps: Steps) -> Iterator[tuple[Steps, dict[str, Any]]]:
    annotation = _record_in(annotation)
    origin, arguments = getattr(annotation, "__origin__", None), getattr(annotation, "__args__", ())
    if origin is dict and isinstance(data, dict):
        if arguments[0] == Language:
            yield steps, data
        else:
            for key, value in data.items():
                yield from _texts_in(arguments[1], value, (*steps, key))
    elif origin is list and isinstance(data, list):
        for at, value in enumerate(data):
            yield from _texts_in(arguments[0], value, (*steps, at))
    else:
        yield from text_fields(annotation, data, steps)
