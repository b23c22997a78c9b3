"""A catalogue as large as wished, made from the shipped one: entries of the same shape, made-up words."""

from __future__ import annotations

import random
from dataclasses import replace

from chockbook.catalogue import Catalogue

SYLLABLES = (
    "ba",
    "cor",
    "del",
    "fin",
    "gra",
    "hul",
    "jen",
    "kal",
    "lom",
    "mar",
    "nip",
    "orn",
    "pel",
    "qui",
    "ros",
    "sta",
    "tun",
    "vel",
    "wig",
    "zan",
)


def made_up_word(chance: random.Random) -> str:
    """A word of two to four syllables."""
    return "".join(chance.choice(SYLLABLES) for _ in range(chance.randint(2, 4)))


def large_catalogue(shipped: Catalogue, n_entries: int, seed: int = 1) -> Catalogue:
    """A catalogue of so many entries: copies of those that the first rulebook
    speaks of, each copy with words of its own."""
    chance = random.Random(seed)
    spoken_of = [entry for entry in shipped.entries if entry.rulings_under(shipped.rulebooks[0].id)]
    components, entries = [], []
    copy = 0
    while len(entries) < n_entries:
        copy += 1
        here = {}
        for component in shipped.components:
            name = {language: f"{text} {made_up_word(chance)}" for language, text in component.name.items()}
            here[component.id] = component.model_copy(update={"id": f"{component.id}-{copy}", "name": name})
        components += here.values()
        for entry in spoken_of[: n_entries - len(entries)]:
            component = here[entry.component.id]
            entries.append(
                replace(
                    entry,
                    id=f"{component.id}.{entry.slug}",
                    component=component,
                    condition={
                        language: f"{text} {made_up_word(chance)}"
                        for language, text in entry.condition.items()
                    },
                    aliases={
                        language: (*words, f"{made_up_word(chance)} {words[0]}")
                        for language, words in entry.aliases.items()
                    },
                )
            )
    return replace(shipped, components=tuple(components), entries=tuple(entries))
