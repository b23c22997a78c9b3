"""The edition's code is the same for every way of writing the same thing, and another for every other meaning."""

from __future__ import annotations

import copy
import sys
import unicodedata
from decimal import Decimal
from pathlib import Path

import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "editions"))

from tables_of_tests import BEFORE

from chockbook.catalogue import TABLES, edition_code
from chockbook.catalogue.edition import BOOKKEEPING, NO_ORDER

DATA = {path.name: yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader) for path in sorted(BEFORE.glob("*.yaml"))}
CONTENT = {"catalogue.yaml": ("systems", "components", "defects"), "rulebooks.yaml": ("rulebooks",),
           "sources.yaml": ("sources",), "limits.yaml": ("limits",), "route.yaml": ("stations",),
           "jurisdictions.yaml": ("jurisdictions",), "words.yaml": ("cautions",)}  # fmt: skip
ORDERED = ("severities", "actions", "stations", "steps", "items", "rows", "duties", "systems", "components", "defects")


def code(data: dict) -> str:
    """The code of tables given as data."""
    shaped = {name: TABLES[name].model_validate(data[name]) for name in CONTENT}
    records = [record for name, keys in CONTENT.items() for key in keys for record in getattr(shaped[name], key)]
    return edition_code(records, shaped["words.yaml"].words)


def places(value, kind, steps=()):
    """Steps to every value of a kind."""
    if isinstance(value, kind):
        yield steps
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for step, one in inner:
        yield from places(one, kind, (*steps, step))


def at(data, steps):
    """The value at the end of some steps."""
    for step in steps:
        data = data[step]
    return data


ONLY_CONTENT = {name: {key: DATA[name][key] for key in keys} for name, keys in CONTENT.items()}
LISTS = [steps for steps in places(ONLY_CONTENT, list) if len(at(DATA, steps)) > 1]
TEXTS = [steps for steps in places(ONLY_CONTENT, str) if steps[-1] not in BOOKKEEPING]
TYPED = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=True)
SAME = code(DATA)


@TYPED
@given(st.randoms(use_true_random=False), st.integers(1, 9), st.sampled_from([True, False, None]),
       st.sampled_from(["'", '"', "|", ">", None]))  # fmt: skip
def test_layout_quotes_style_and_order_of_keys_mean_nothing(chance, indent, flow, quotes):
    def mixed(value):
        if isinstance(value, dict):
            keys = list(value)
            chance.shuffle(keys)
            return {key: mixed(value[key]) for key in keys}
        return [mixed(one) for one in value] if isinstance(value, list) else value

    written = {name: yaml.safe_dump(mixed(data), indent=indent, default_flow_style=flow, default_style=quotes,
                                    sort_keys=False, allow_unicode=True, width=50) for name, data in DATA.items()}  # fmt: skip
    read = {name: yaml.load("# a comment\n\n" + text, yaml.BaseLoader) for name, text in written.items()}
    assert code(read) == SAME


@TYPED
@given(st.sampled_from(LISTS), st.randoms(use_true_random=False))
def test_the_order_of_a_list_means_what_is_said_of_it(steps, chance):
    data = copy.deepcopy(DATA)
    values = at(data, steps)
    before = list(values)
    chance.shuffle(values)
    means_nothing = steps[-1] in NO_ORDER or (len(steps) > 1 and steps[-2] in NO_ORDER)
    means_nothing = means_nothing or (len(steps) == 2 and steps[-1] in ("sources", "limits", "jurisdictions"))
    assert (code(data) == SAME) == (means_nothing or values == before)


def test_lists_with_an_order_are_not_taken_for_sets():
    assert not NO_ORDER & set(ORDERED)


@TYPED
@given(st.sampled_from(TEXTS), st.sampled_from([" x", "q"]))
def test_every_changed_text_is_another_edition(steps, added):
    data = copy.deepcopy(DATA)
    old = at(data, steps)
    around = at(data, steps[:-1])
    try:
        around[steps[-1]] = str(Decimal(old) + 1)
    except ArithmeticError:
        around[steps[-1]] = old + added
    try:
        changed = code(data)
    except ValueError:  # a choice or an id that the shape does not take
        return
    assert changed != SAME


def test_most_texts_were_changeable():
    free = [steps for steps in TEXTS if steps[-1] in ("en", "fr", "locator", "value")]
    assert len(free) > len(TEXTS) / 3


def test_noughts_spaces_and_the_coding_of_accents_mean_nothing():
    data = copy.deepcopy(DATA)
    row = data["limits.yaml"]["limits"][0]["rows"][1]
    assert row["value"] == "1.5"
    row["value"] = "1.500"
    defect = data["catalogue.yaml"]["defects"][0]
    defect["condition"]["en"] = "The  horn\n  makes no sound"
    text = data["catalogue.yaml"]["components"][1]["name"]["fr"]
    data["catalogue.yaml"]["components"][1]["name"]["fr"] = unicodedata.normalize("NFD", text)
    assert "\u0300" in data["catalogue.yaml"]["components"][1]["name"]["fr"]
    assert code(data) == SAME


def test_a_label_is_no_content_and_a_stating_word_is():
    label, stating = copy.deepcopy(DATA), copy.deepcopy(DATA)
    label["words.yaml"]["words"]["title"]["en"] = "Another title"
    stating["words.yaml"]["words"]["by-driver"]["en"] = "carrier"
    assert code(label) == SAME != code(stating)


def test_looking_again_without_a_change_is_the_same_edition():
    data = copy.deepcopy(DATA)
    assert {"checked_on", "checked_by", "review_by"} <= BOOKKEEPING
    data["sources.yaml"]["sources"][2] |= {"checked_on": "2026-03-01", "checked_by": "editor", "review_by": "2027-03-01"}
    assert code(data) == SAME
