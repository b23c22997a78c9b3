"""Makes the typing errors that thumbs make: a letter dropped, doubled, swapped, or the next key struck."""

from __future__ import annotations

import random

ROWS = ("qwertyuiop", "asdfghjkl", "zxcvbnm")
KINDS = ("drop", "double", "swap", "neighbour")
SHORTEST = 4
"""Letters of a word that gets an error; shorter ones would become other words."""


def neighbour(letter: str, chance: random.Random) -> str:
    """A key beside a letter's key in the same row."""
    for row in ROWS:
        if letter in row:
            at = row.index(letter)
            return chance.choice([row[place] for place in (at - 1, at + 1) if 0 <= place < len(row)])
    return letter


def misspell_word(word: str, kind: str, chance: random.Random) -> str:
    """The word with one error of a kind."""
    at = chance.randrange(1, len(word) - 1)
    if kind == "drop":
        return word[:at] + word[at + 1 :]
    if kind == "double":
        return word[:at] + word[at] + word[at:]
    if kind == "swap":
        return word[:at] + word[at + 1] + word[at] + word[at + 2 :]
    return word[:at] + neighbour(word[at], chance) + word[at + 1 :]


def misspell(query: str, seed: int) -> str:
    """The query with one error in one of its longer words; the same for the same seed."""
    chance = random.Random(f"{seed} {query}")
    words = query.split(" ")
    long_words = [place for place, word in enumerate(words) if len(word) >= SHORTEST and word.isalpha()]
    if not long_words:
        return query
    place = chance.choice(long_words)
    words[place] = misspell_word(words[place], chance.choice(KINDS), chance)
    return " ".join(words)
