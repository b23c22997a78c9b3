"""Look-ups and decisions as lines of plain text, for the terminal."""

from __future__ import annotations

from collections.abc import Iterator

from ..catalogue import Catalogue
from .decision import DecisionView, OutcomeView
from .entry import RulingView, view_entry
from .wording import fixed_word, joined


def beware_line(catalogue: Catalogue, language: str, number: int, unlisted: str | None, loose: bool) -> str:
    """What to know before the first of so many entries is trusted; "" where there is nothing to say."""

    def word(key: str, **values: object) -> str:
        text = fixed_word(catalogue, key, language)
        for name, value in values.items():
            text = text.replace("{" + name + "}", str(value))
        return text

    if unlisted:
        told = word("lookup-unlisted", name=unlisted)
        return f"{told} {word('lookup-nearest', number=number)}" if number else told
    return word("lookup-loose", number=number) if loose else ""


def found_lines(catalogue: Catalogue, entry_id: str, rulebook_id: str, language: str) -> Iterator[str]:
    """A defect that was found: the answer first, then what to do, how to check, and the source."""

    def word(key: str) -> str:
        return fixed_word(catalogue, key, language)

    def told(key: str, text: str) -> str:
        return joined(catalogue, word(key), text, language)

    entry = view_entry(catalogue, catalogue.entry[entry_id], rulebook_id, language)
    yield f"{entry.heading}   [{entry.id}]"
    for ruling in entry.rulings:
        when = f" ({ruling.applies_when})" if ruling.applies_when else ""
        yield f"  {ruling.outcome.upper()} - {ruling.severity_name}{when}"
        if entry.otherwise:
            yield f"    {told('lookup-otherwise', entry.otherwise)}"
        for number, action in enumerate(ruling.actions, 1):
            yield f"    {number}. {action.text}" + ("" if action.confirmed else f" ({word('not-confirmed')})")
    yield f"  {told('how-to-check', entry.check)}"
    for ruling in entry.rulings:
        yield f"  {told('source', _source(ruling, word('letter-not-confirmed')))}"
    yield ""


def _source(ruling: RulingView, letter: str) -> str:
    standing = ruling.basis_name if ruling.locator_confirmed or not ruling.confirmed else f"{ruling.basis_name}; {letter}"
    return f"{ruling.source_title}, {ruling.locator} ({standing})"


def decision_lines(catalogue: Catalogue, decision: DecisionView, language: str) -> Iterator[str]:
    """What findings mean: the whole first, then each unit, the steps in order, and what to write."""

    def word(key: str) -> str:
        return fixed_word(catalogue, key, language)

    if decision.outcome:
        yield _of_severity(decision.outcome.outcome.upper(), decision.outcome)
        yield ""
    for unit in decision.units:
        yield _of_severity(joined(catalogue, unit.unit_name, unit.outcome.outcome, language), unit.outcome)
        for found in unit.findings:
            when = f" ({found.applies_when})" if found.applies_when else ""
            mark = "" if found.confirmed else f" [{word('not-confirmed')}]"
            yield f"  {found.heading} - {found.outcome.severity_name}{when}{mark}"
            if found.otherwise:
                says = found.otherwise.severity_name if found.otherwise.severity_id else found.otherwise.outcome
                yield f"    {joined(catalogue, found.otherwise_when or word('lookup-otherwise'), says, language)}"
    yield ""
    if decision.steps:
        yield joined(catalogue, word("what-to-do"), "", language).rstrip()
    for number, step in enumerate(decision.steps, 1):
        mark = "" if step.confirmed else f" ({word('not-confirmed')})"
        concerns = joined(catalogue, step.by_name, "; ".join(dict.fromkeys(step.concerns)), language)
        yield f"  {number}. {step.text}{mark} - {concerns}"
    if decision.steps:
        yield ""
    yield from decision.report
    yield ""
    yield word("aid-line")


def _of_severity(words: str, outcome: OutcomeView) -> str:
    """An outcome with the severity it belongs to; one that is not settled has none."""
    return f"{words} - {outcome.severity_name}" if outcome.severity_id else words
