"""Markdown pages to a site, through MkDocs in this process; every warning stops the build."""

from __future__ import annotations

import errno
import logging
import os
import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.exceptions import Abort, BuildError, ConfigurationError

from ..catalogue.edition import seconds_of

_OF_THE_DISK = frozenset(
    getattr(errno, name) for name in ("ENOSPC", "EDQUOT", "EFBIG", "EIO", "EROFS") if hasattr(errno, name)
)
"""What the system says of a disk that is full, at its limit, broken or locked: no setting can be blamed for it."""
_EPOCH = "SOURCE_DATE_EPOCH"
"""The variable by which reproducible-builds.org has programs told the date instead of the clock."""
SHOWN = 10
"""Messages that the text of a fault holds; the others are in its list."""


class SiteFault(Exception):
    """MkDocs objected to the pages or to the configuration."""

    def __init__(self, messages: list[str], pages: list[str]) -> None:
        self.messages = messages
        """What MkDocs said."""
        self.pages = pages
        """Pages at fault, such as "components/seat-belt.md", each once."""
        shown = messages[:SHOWN]
        more = len(messages) - len(shown)
        super().__init__(
            "the site was not built: " + "; ".join(shown) + (f"; and {more} more" if more else "")
        )

    def __reduce__(self) -> tuple[type[SiteFault], tuple[list[str], list[str]]]:
        """How it travels from a worker process."""
        return SiteFault, (self.messages, self.pages)


class _Objections(logging.Handler):
    """Keeps what MkDocs would have printed."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.messages: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.messages.append(record.getMessage())


def pages_named(messages: list[str]) -> list[str]:
    """The page that each message of MkDocs is about, which it names first; each page once, in order."""
    found = (re.search(r"[\w./-]+\.md\b", message) for message in messages)
    return list(dict.fromkeys(name.group() for name in found if name))


def build_site(
    config_file: Path, pages_dir: Path, site_dir: Path, issued: date, language: str = "en", theme_names: tuple[str, ...] = ()
) -> None:
    """Builds the site of a folder of pages with an MkDocs configuration, in strict mode and silence.

    The folders take the place of those that the configuration names.

    Args:
        config_file: the project's mkdocs.yml.
        pages_dir: the Markdown pages.
        site_dir: the folder to write.
        issued: the day of issue, which MkDocs dates the site's map with instead of today.
        language: code of the pages' language, for the theme's own words.
        theme_names: names of the switches between light and dark, in the order of the palettes.

    Raises:
        SiteFault: the configuration cannot be used, or MkDocs warned of anything, such as a link to a
            page or heading that does not exist; the fault names the pages.
        OSError: the disk is full, or cannot be written.
    """
    log = logging.getLogger("mkdocs")
    objections = _Objections()
    passes_on, log.propagate = log.propagate, False
    log.addHandler(objections)
    try:
        config = load_config(
            str(config_file), docs_dir=str(pages_dir.resolve()), site_dir=str(site_dir.resolve()), strict=True
        )
        config.theme["language"] = language
        _name_switches(config.theme.get("palette"), theme_names)
        config.plugins.on_startup(command="build", dirty=False)
        try:
            with _dated(issued):
                build(config)
        finally:
            config.plugins.on_shutdown()
    except (Abort, BuildError, ConfigurationError) as stopped:
        messages = objections.messages or [str(stopped)]
        raise SiteFault(messages, pages_named(messages)) from stopped
    except OSError as stopped:
        if stopped.errno in _OF_THE_DISK:
            raise
        raise SiteFault([*objections.messages, _unusable(config_file, stopped)], []) from stopped
    except Exception as stopped:  # the settings are a person's own: theme and plugins may raise anything at them
        raise SiteFault([*objections.messages, _unusable(config_file, stopped)], []) from stopped
    finally:
        log.removeHandler(objections)
        log.propagate = passes_on
    if objections.messages:
        raise SiteFault(objections.messages, pages_named(objections.messages))
    _slim(site_dir, language)


@contextmanager
def _dated(issued: date) -> Iterator[None]:
    """What a build reads of the clock is the day of issue: the same pages give the same bytes on another day."""
    before = os.environ.get(_EPOCH)
    os.environ[_EPOCH] = str(seconds_of(issued))
    try:
        yield
    finally:
        if before is None:
            del os.environ[_EPOCH]
        else:
            os.environ[_EPOCH] = before


def _unusable(config_file: Path, error: Exception) -> str:
    return f"{config_file.name}: MkDocs cannot use these settings ({type(error).__name__}: {error})"


def _name_switches(palettes: object, names: tuple[str, ...]) -> None:
    """Writes the names of the switches between light and dark, where the settings have such switches."""
    for palette, name in zip(palettes if isinstance(palettes, list) else (), names, strict=False):
        toggle = palette.get("toggle") if isinstance(palette, dict) else None
        if isinstance(toggle, dict):
            toggle["name"] = name


def _slim(site_dir: Path, language: str) -> None:
    """Leaves out what no reader needs: source maps of the theme, and search rules of other languages."""
    for path in site_dir.glob("assets/**/*.map"):
        path.unlink()
    for path in site_dir.glob("assets/javascripts/lunr/min/lunr.*.min.js"):
        name = path.name.split(".")[1]
        if language == "en" or name not in (language, "stemmer", "multi"):
            path.unlink()
    if language == "en":
        shutil.rmtree(site_dir / "assets" / "javascripts" / "lunr", ignore_errors=True)
