"""A file of weights: how much more often a drill asks about each system, as JSON or YAML."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import yaml

LARGEST = 64 * 1024
"""Bytes; the weights of a hundred systems take some three thousand."""


def read_weights(path: Path) -> tuple[tuple[str, float], ...]:
    """The weights of a file such as {"systems": {"tires": 2}}, by system in the order of the alphabet.

    Raises:
        OSError: the file cannot be read.
        ValueError: it holds no weights above zero.
    """
    with path.open("rb") as file:
        raw = file.read(LARGEST + 1)
    try:
        if len(raw) > LARGEST:
            raise ValueError("it is larger than 64 KiB")
        found: Any = yaml.load(raw.decode("utf-8-sig"), yaml.BaseLoader)
        weights = tuple(sorted((str(name), float(weight)) for name, weight in found["systems"].items()))
    except yaml.YAMLError as error:
        raise ValueError(f"{path} is not a file of weights: it is neither JSON nor YAML") from error
    except (KeyError, TypeError, AttributeError, ValueError, RecursionError) as error:
        raise ValueError(f"{path} is not a file of weights: {error!r}") from error
    if any(not 0 < weight < float("inf") for _, weight in weights):
        raise ValueError(f"{path} has a weight that is not above zero")
    return weights


def write_weights(weights: Mapping[str, float], note: str, path: Path) -> None:
    """Write weights with a note on where they come from: YAML for a name in .yaml or .yml, else JSON.

    Raises:
        OSError: the file cannot be written.
    """
    data = {"note": note, "systems": dict(weights)}
    if path.suffix.lower() in (".yaml", ".yml"):
        text = yaml.safe_dump(data, allow_unicode=True, sort_keys=False, width=100)
    else:
        text = json.dumps(data, ensure_ascii=False, indent=1) + "\n"
    path.write_text(text, encoding="utf-8", newline="\n")
