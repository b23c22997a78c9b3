"""The schemas for editors, read by another program: what the project ships fits them, and a slip of the pen does not.

Judged by the jsonschema library, an implementation of JSON Schema (draft 2020-12) that is not ours.
"""

from __future__ import annotations

import re
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator
from projects import SHIPPED

from chockbook.exports import editor_schemas

TABLES = sorted(path.stem for path in SHIPPED.glob("*.yaml"))
CARRIERS = sorted((SHIPPED / "carriers").glob("*.yaml"))


def objections(schema: str, written: Any) -> list[str]:
    found = editor_schemas()[f"{schema}.schema.json"]
    Draft202012Validator.check_schema(found)
    return [error.message for error in Draft202012Validator(found).iter_errors(written)]


class _Texts(yaml.SafeLoader):
    """A reader as of YAML 1.2: dates are texts, and so are words such as "on" and "yes"."""


_OTHERS = ("tag:yaml.org,2002:timestamp", "tag:yaml.org,2002:bool")
_Texts.yaml_implicit_resolvers = {
    letter: [one for one in found if one[0] not in _OTHERS] for letter, found in yaml.SafeLoader.yaml_implicit_resolvers.items()
}
_Texts.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile("true|false"), list("tf"))


def read(text: str) -> Any:
    """A file as editors read it for a schema."""
    return yaml.load(text, Loader=_Texts)


@pytest.mark.parametrize("name", TABLES)
def test_a_shipped_table_fits_its_schema(name):
    assert objections(name, read((SHIPPED / f"{name}.yaml").read_text("utf-8"))) == []


@pytest.mark.parametrize("path", CARRIERS, ids=lambda path: path.stem)
def test_a_shipped_carriers_file_fits_its_schema(path):
    assert objections("carrier", read(path.read_text("utf-8"))) == []


@pytest.mark.parametrize(("old", "new"), [("units:", "unit:"), ("role: dispatch", "role: dispatcher"), ("what: deck", "what: decks")])
def test_a_slip_in_a_carriers_file_is_told_by_its_schema(old, new):
    text = CARRIERS[0].read_text("utf-8")
    assert old in text
    assert objections("carrier", read(text.replace(old, new, 1))) != []
