"""A catalogue with something hostile around every text that its tables hold."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace

from pydantic import BaseModel

FREE_LINES = {"locator", "issuer", "edition", "letter", "contact", "part"}


def spoil(value, payload, name=""):
    """The same records with a payload around every text that the tables may hold."""
    if isinstance(value, BaseModel):
        changed = {n: spoil(getattr(value, n), payload, n) for n in type(value).model_fields}
        return value.model_copy(update=changed)
    if is_dataclass(value):
        return replace(
            value, **{f.name: spoil(getattr(value, f.name), payload, f.name) for f in fields(value)}
        )
    if isinstance(value, Mapping):
        if set(value) == {"en"}:
            words = value["en"]
            around = [f"{payload} {w} {payload}" for w in ([words] if isinstance(words, str) else words)]
            return {"en": around[0] if isinstance(words, str) else type(words)(around)}
        return {key: spoil(inside, payload) for key, inside in value.items()}
    if isinstance(value, (list, tuple)):
        return type(value)(spoil(inside, payload) for inside in value)
    if isinstance(value, str) and name in FREE_LINES:
        return f"{value} {payload}"
    return value
