"""A class of two sheets made by hand: the same five questions in other places, with their choices in another order."""

from __future__ import annotations

from chockbook.drill.keys import Asked, Keys
from chockbook.drill.sheets import Setting

ONE, TWO = "abc123-01", "abc123-02"
YES_NO = ("Minor", "Major")


def asked(
    name: str, system: str, choices: tuple[str, ...], answer: str, severity: str = "minor", kind: str = "severity"
) -> Asked:
    """A question; its id is made of kind and name."""
    entry = f"{system}.{name}"
    return Asked(f"{kind}-{name}", kind, 2, system, severity, (entry,), f"Question {name}?", choices, answer)


SHEETS = {
    # Right answers: A, B, C, A, B
    ONE: (
        asked("a", "horn", ("Minor", "Major"), "A"),
        asked("b", "horn", ("Minor", "Major"), "B", "major"),
        asked("c", "tires", ("10 mm", "13 mm", "16 mm"), "C", "", "figure"),
        asked("d", "tires", ("3 mm", "2 mm", "1 mm"), "A", "", "figure"),
        asked("e", "tires", ("Major", "Minor"), "B"),
    ),
    # The same in another order. Right answers: B, C, A, A, B
    TWO: (
        asked("e", "tires", ("Major", "Minor"), "B"),
        asked("d", "tires", ("1 mm", "2 mm", "3 mm"), "C", "", "figure"),
        asked("b", "horn", ("Major", "Minor"), "A", "major"),
        asked("c", "tires", ("16 mm", "10 mm", "13 mm"), "A", "", "figure"),
        asked("a", "horn", ("Major", "Minor"), "B"),
    ),
}
KEYS = Keys("12345678", "abc123", Setting("on-s1", "en", 2, 5, "by hand"), SHEETS)

HEAD = "sheet,student,answers\n"
