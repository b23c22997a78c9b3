"""The data half of CHANGELOG.md: a section for each step from edition to edition, which people's words never leave."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

from ..catalogue import Catalogue
from ..editions import Difference
from .changes import change_line, heading, view_difference

MOST = 30
"""Lines of one kind of change; the others are counted."""
HEADING = "## Data"


class ChangelogWritten(ValueError):
    """A section that we would refresh was changed by hand."""


def refresh(path: Path, catalogue: Catalogue, difference: Difference) -> str:
    """The text of a changelog with the section of this step written, or refreshed where it stands.

    Raises:
        ChangelogWritten: somebody changed the section by hand; nothing of it is lost that way.
        OSError: the file cannot be read.
    """
    text = path.read_text(encoding="utf-8") if path.is_file() else "# Changelog\n"
    body = section(catalogue, difference)
    name = f"{difference.old['code']} {difference.new['code']}"
    whole = f"<!-- data {name} {_seal(body)} -->\n{body}<!-- end of data {name} -->\n"
    found = re.search(rf"<!-- data {name} ([0-9a-f]*) -->\n(.*?)<!-- end of data {name} -->\n", text, re.DOTALL)
    if found:
        if _seal(found[2]) != found[1]:
            raise ChangelogWritten(f"the section of {name.replace(' ', ' to ')} in {path} was changed by hand; move those "
                                   "words out of it first")  # fmt: skip
        return text[: found.start()] + whole + text[found.end() :]
    if re.search(rf"^{HEADING}$", text, re.MULTILINE):
        return re.sub(rf"^{HEADING}\n", lambda _: f"{HEADING}\n\n{whole}", text, count=1, flags=re.MULTILINE)
    return f"{text.rstrip()}\n\n{HEADING}\n\n{whole}"


def section(catalogue: Catalogue, difference: Difference) -> str:
    """A step as Markdown, in the first language."""
    language = catalogue.languages[0].code
    view = view_difference(catalogue, difference, None, language)
    lines = [f"### {view.new_date}, edition {view.new}", "", heading(catalogue, view, language), ""]
    for kind in view.kinds:
        lines += [f"{kind.name}: {len(kind.changes)}", ""]
        lines += [f"- {_inert(change_line(change))}" for change in kind.changes[:MOST]]
        if len(kind.changes) > MOST:
            lines.append(f"- … {len(kind.changes) - MOST}")
        lines.append("")
    return "\n".join(lines)


def _seal(body: str) -> str:
    return hashlib.sha256(body.encode("utf-8")).hexdigest()[:12]


def _inert(text: str) -> str:
    return re.sub(r"([\\`*_\[\]<>#|])", r"\\\1", text)
