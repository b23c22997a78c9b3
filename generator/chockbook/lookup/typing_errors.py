"""How far a mistyped word is from a word of the catalogue, and which of them are nearest.

site_templates/web/lookup/js/typing_errors.js does the same, step for step; tests hold the two together.
"""

from __future__ import annotations

from collections.abc import Sequence

FAR = 3
"""A distance that is too far for any word."""
NEAR_QUALITY = (100, 84, 60)
"""How much a match counts by distance, in hundredths."""
OTHER_START = 8
"""Taken off where the first letters differ, in hundredths: people rarely mistype the first letter."""
SHORTEST = 3
"""Letters of the shortest word that is taken for a mistyped one."""


def most_errors(length: int) -> int:
    """Typing errors that a word of so many letters may hold."""
    if length < 4:
        return 0
    return 1 if length < 8 else 2


def distance(typed: str, word: str, most: int) -> int:
    """Letters to drop, add, change or swap with a neighbour to get from one word to the other.

    FAR where that is more than `most` (optimal string alignment, see Damerau 1964).
    """
    if abs(len(typed) - len(word)) > most:
        return FAR
    before: list[int] = []
    last = list(range(len(word) + 1))
    for i, letter in enumerate(typed, 1):
        row = [i]
        for j, other in enumerate(word, 1):
            steps = min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (letter != other))
            if i > 1 and j > 1 and letter == word[j - 2] and typed[i - 2] == other:
                steps = min(steps, before[j - 2] + 1)
            row.append(steps)
        if min(row) > most:
            return FAR
        before, last = last, row
    return last[-1] if last[-1] <= most else FAR


def skeleton(word: str) -> str:
    """The consonants of a word, doubled ones once: what stays when vowels are mistaken."""
    kept = ""
    for letter in word:
        if letter not in "aeiouy" and not kept.endswith(letter):
            kept += letter
    return kept


def letter_set(word: str) -> int:
    """Which letters a word has, one bit a letter."""
    bits = 0
    for letter in word:
        bits |= 1 << (ord(letter) - 97 if letter >= "a" else 26 + (ord(letter) - 48) % 4)
    return bits


class NearWords:
    """Finds the words of a vocabulary that are nearest to a mistyped one."""

    def __init__(self, words: Sequence[str]) -> None:
        self._words = words
        self._sets = [letter_set(word) for word in words]

    def nearest(self, typed: str) -> list[tuple[int, int]]:
        """Places in the vocabulary of the nearest words, with how much each counts in hundredths.

        Only words at the least distance are given. A word may hold one error more than `most_errors` where
        its consonants are right; one of three letters may lack a vowel.
        """
        if len(typed) < SHORTEST:
            return []
        most = most_errors(len(typed))
        look = 2 if most else 1
        bones, bits = skeleton(typed), letter_set(typed)
        best = FAR
        found: list[tuple[int, int]] = []
        for place, word in enumerate(self._words):
            if abs(len(word) - len(typed)) > look or (bits ^ self._sets[place]).bit_count() > 2 * look:
                continue
            if len(word) < SHORTEST or (most == 0 and len(word) == len(typed)):
                continue
            steps = distance(typed, word, look)
            if steps > most and (steps == FAR or skeleton(word) != bones):
                continue
            if steps < best:
                best, found = steps, []
            if steps == best:
                found.append((place, NEAR_QUALITY[steps] - (OTHER_START if word[0] != typed[0] else 0)))
        return found
