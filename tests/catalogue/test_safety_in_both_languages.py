"""How to check says the same safety step in every language: who is held back, what is chocked, what is switched off.

The words of each step are common practice of the trade in English and French; the texts are the shipped tables'.
"""

from __future__ import annotations

import re

import pytest

from chockbook.catalogue import Catalogue

STEPS = {
    "chock": (r"\bchock", r"\bcal(?:er|é|ée|és|ées)\b"),
    "engine stopped": (r"engine (?:is )?(?:off|stopped|cold)|stop the engine", r"moteur (?:arrêté|froid)|(?:arrêter|couper) le moteur"),
    "everyone clear": (r"\b(?:everyone|well|stand|people|nobody)\b[^.;]*?\b(?:clear|away|back|beside)\b|keep clear",
                       r"personne (?:à proximité|à côté|ne touche|dans)|(?:à l'écart|s'écarter|éloigner)"),
    "helper": (r"\bhelper|\bpartner|\bsomeone\b|someone else", r"\bun aide\b|une aide|autre personne|quelqu'un"),
    "parking brakes set": (r"\b(?:set the parking brakes?|parking brakes? (?:is |are )?set)\b",
                           r"\bserrer (?:les|le) freins? de stationnement|freins? de stationnement (?:est |sont )?serrés?"),
}  # fmt: skip


@pytest.mark.parametrize("step", STEPS)
def test_a_safety_step_of_a_check_stands_in_both_languages(step: str, shipped: Catalogue) -> None:
    english, french = (re.compile(pattern, re.IGNORECASE) for pattern in STEPS[step])
    one_sided = [
        entry.id
        for entry in shipped.entries
        if bool(english.search(entry.check["en"])) != bool(french.search(entry.check["fr"]))
    ]
    assert one_sided == []


def test_the_words_of_each_step_are_met(shipped: Catalogue) -> None:
    for step, (english, _) in STEPS.items():
        assert any(re.search(english, entry.check["en"], re.IGNORECASE) for entry in shipped.entries), step
