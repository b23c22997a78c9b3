"""What a class got wrong as lines of plain text, for a terminal of 80 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator, Sequence

from ..catalogue import Catalogue
from .results import ResultsView, ShareView
from .wording import fixed_word

WIDTH = 80
NAME_WIDTH = 38
MOST_QUESTIONS = 10
MOST_PAIRS = 8


def results_lines(catalogue: Catalogue, view: ResultsView, language: str, every: bool = False) -> Iterator[str]:
    """The results: the class, each student, what was missed, and what the next drill asks more about.

    Args:
        catalogue: gives the fixed words.
        view: the results in the language.
        language: its code.
        every: all questions and pairs instead of the first ones.
    """

    def word(key: str) -> str:
        return fixed_word(catalogue, key, language)

    yield word("results-title")
    for line in (view.about, *view.notices):
        yield from _wrapped(line)
    yield ""
    for line in view.teach:
        yield from _wrapped(line)
    yield ""
    for line in view.head:
        yield from _wrapped(line)
    yield ""
    yield _row(word("results-students"), "", word("results-right"), word("results-blank"))
    for one in view.students:
        yield _row(f"{one.student}, {one.sheet}", one.percent, one.counted, str(one.blank or ""))
    for key, shares in (("results-systems", view.systems), ("results-severities", view.severities),
                        ("results-kinds", view.kinds), ("results-levels", view.levels)):  # fmt: skip
        yield from _share_lines(word(key), shares, word)
    yield ""
    shown = view.questions if every else view.questions[:MOST_QUESTIONS]
    yield word("results-questions") + _of(shown, view.questions, word)
    for one in shown:
        yield from _wrapped(f"{one.number}. {one.text}", "  ", "     ")
        figures = (f"; {word('results-discrimination')} {one.point_biserial}; "
                   f"{word('results-upper-lower')} {one.upper_lower}")  # fmt: skip
        none = one.point_biserial == one.upper_lower == "–"
        yield from _wrapped(f"{one.percent} ({one.counted}){'' if none else figures}", "     ", "     ")
        yield from _wrapped(f"{one.answer} {one.ticked}".rstrip(), "     ", "     ")
    if not shown:
        yield from _wrapped(word("results-none-missed"), "  ", "  ")
    yield ""
    pairs = view.pairs if every else view.pairs[:MOST_PAIRS]
    yield word("results-pairs") + _of(pairs, view.pairs, word)
    for pair in pairs:
        yield from _wrapped(f"{pair.says} {pair.where}", "  - ", "    ")
    if not pairs:
        yield from _wrapped(word("results-no-pairs"), "  ", "  ")
    yield ""
    yield word("results-next")
    yield from _wrapped(view.next_says, "  ", "  ")
    yield ""
    yield from _wrapped(word("aid-line"))


def _share_lines(title: str, shares: Sequence[ShareView], word: Callable[[str], str]) -> Iterator[str]:
    yield ""
    yield _row(title, "", word("results-right"), word("results-discrimination"))
    for one in shares:
        yield _row(f"{one.number:>2}. {one.name}", one.percent, one.counted, one.discrimination)


def _row(name: str, percent: str, counted: str, last: str) -> str:
    indented = f"  {name}" if percent else name
    if len(indented) > NAME_WIDTH:
        indented = indented[: NAME_WIDTH - 1] + "…"
    return f"{indented:<{NAME_WIDTH}}{percent:>7}{counted:>16}{last:>17}".rstrip()


def _wrapped(text: str, first: str = "", following: str = "") -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=following, break_on_hyphens=False) or [""]


def _of(shown: Sequence[object], of_all: Sequence[object], word: Callable[[str], str]) -> str:
    if len(shown) == len(of_all):
        return ""
    told = word("results-first").replace("{shown}", str(len(shown))).replace("{number}", str(len(of_all)))
    return f" {told}"
