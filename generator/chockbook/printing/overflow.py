"""The error for an entry that no card can hold."""

from __future__ import annotations


class CardOverflow(Exception):
    """An entry with its lane head needs more room than an empty card has; nothing is ever shrunk or cut."""

    def __init__(
        self, entry_id: str, needed_mm: float, room_mm: float, next_format: str | None = None
    ) -> None:
        """Name the entry and say by how much it is too long.

        Args:
            entry_id: the entry.
            needed_mm: height of the lane head and the entry together, in millimetres.
            room_mm: height between head and foot of an empty card, in millimetres.
            next_format: the next larger format, where it is known.
        """
        larger = f"the larger format {next_format}" if next_format else "a larger format"
        super().__init__(
            f"{entry_id} does not fit on a card: with its outcome and actions it needs {needed_mm:.1f} mm "
            f"and an empty card has {room_mm:.1f} mm; shorten its condition, applies_when or locator, or take {larger}"
        )
        self.entry_id = entry_id
        self.needed_mm = needed_mm
        self.room_mm = room_mm
        self.next_format = next_format

    def __reduce__(self) -> tuple[type[CardOverflow], tuple[str, float, float, str | None]]:
        """How it travels from a worker process."""
        return CardOverflow, (self.entry_id, self.needed_mm, self.room_mm, self.next_format)
