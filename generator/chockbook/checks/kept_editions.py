"""The former editions that a project keeps: source_tables/editions/<code>.json, each a catalogue.json with its number.

They are what the site tells holders of old cards by, so one that cannot be read stops the build.
"""

from __future__ import annotations

from pathlib import Path

from ..editions import EditionUnreadable, Kept, read_edition
from ..faults import Fault, Place, quoted
from ..tables import leads_out

RULE = "kept-edition"
FOLDER = "editions"
MEND = "write it anew with: chockbook keep REVISION, or remove it"
WHY = "holders of cards of that edition could not be told what changed"


def read_kept(tables: Path) -> tuple[list[Kept], list[Fault]]:
    """The former editions in the order in which they were kept, and what is wrong with their files."""
    kept: dict[int, Kept] = {}
    faults: list[Fault] = []
    for path in sorted((tables / FOLDER).glob("*.json")):
        name = f"{tables.name}/{FOLDER}/{path.name}"
        try:
            if leads_out(path, name):
                raise EditionUnreadable(f"{path.name} is a link that leads out of the project")
            if not path.is_file():
                raise EditionUnreadable(f"{path.name} is not a file")
            data = read_edition(path.read_bytes(), path.name)
        except (EditionUnreadable, OSError) as error:
            why = str(error) if isinstance(error, EditionUnreadable) else f"{path.name} cannot be read"
            faults.append(Fault(Place(name), RULE, why, WHY, MEND))
            continue
        code, number = data["edition"]["code"], data.get("kept")
        if code != path.stem or type(number) is not int or number < 1:
            faults.append(Fault(Place(name), RULE, f"the file holds edition {quoted(code)} with number {quoted(number)}",
                                WHY, MEND))  # fmt: skip
        elif number in kept:
            faults.append(Fault(Place(name), RULE, f"its number {number} is also that of {quoted(kept[number].code)}", WHY,
                                MEND))  # fmt: skip
        else:
            kept[number] = Kept(number, data)
    return [kept[number] for number in sorted(kept)], faults
