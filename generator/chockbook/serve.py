"""`chockbook serve`: a live preview that builds again when a table, a template or mkdocs.yml changes."""

from __future__ import annotations

import functools
import http.server
import tempfile
import threading
from collections.abc import Callable
from pathlib import Path

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer

from .build import FaultyTables, ProofFailed, preview
from .faults import shown, summary
from .project import Project
from .resources import templates

QUIET_S = 0.3
"""Seconds without a further change before a build starts: editors write a file in several steps."""


class _Changes(FileSystemEventHandler):
    """Sets a flag when something that a build reads has changed."""

    def __init__(self, changed: threading.Event) -> None:
        self.changed = changed

    def on_any_event(self, event: FileSystemEvent) -> None:
        if event.event_type in ("created", "modified", "moved", "deleted") and not event.is_directory:
            self.changed.set()


class _Pages(http.server.SimpleHTTPRequestHandler):
    """Serves the site and keeps silent about it."""

    def log_message(self, format: str, *arguments: object) -> None:
        """Nothing: the terminal is for builds and faults."""

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-store")
        super().end_headers()


class _Server(http.server.ThreadingHTTPServer):
    """Keeps more than the usual five connections waiting: a browser opens many at once, and would be refused."""

    request_queue_size = 128


def serve(
    project: Project, port: int, say: Callable[[str], None], stop: threading.Event | None = None,
    rulebook_id: str | None = None, language: str | None = None,
) -> int:  # fmt: skip
    """Show the site of one book on this machine only, and build it again on every change until stopped.

    Nothing but that site is made, in a folder that goes when the preview ends; the project's output stays as
    it is. Tables with faults are named, and leave the last good site in place.

    Args:
        project: what to build.
        port: a free port on 127.0.0.1.
        say: takes lines for the terminal.
        stop: ends the preview when set; without it, Ctrl-C does.
        rulebook_id: the rulebook to show; the first where it is left out.
        language: the language to show; the first where it is left out.

    Returns:
        The exit code: 0, or 1 where the port is taken.
    """
    with tempfile.TemporaryDirectory(prefix="chockbook-preview-") as folder:
        once_more = functools.partial(rebuild, project, Path(folder) / "preview", say, rulebook_id, language)
        once_more()
        return _show(project, Path(folder) / "preview" / "site", port, say, stop or threading.Event(), once_more)


def _show(
    project: Project, site: Path, port: int, say: Callable[[str], None], stop: threading.Event,
    once_more: Callable[[], bool],
) -> int:  # fmt: skip
    handler = functools.partial(_Pages, directory=str(site))
    try:
        server = _Server(("127.0.0.1", port), handler)
    except OSError as error:
        say(f"port {port} cannot be used: {error.strerror}; name another with --port")
        return 1
    changed = threading.Event()
    observer = Observer()
    for folder in _watched(project):
        observer.schedule(_Changes(changed), str(folder), recursive=folder.is_dir())
    observer.start()
    threading.Thread(target=server.serve_forever, daemon=True).start()
    say(f"preview at http://127.0.0.1:{server.server_port}/ (stop with Ctrl-C)")
    try:
        while not stop.is_set():
            if changed.wait(QUIET_S):
                _settle(changed, stop)
                once_more()
    except KeyboardInterrupt:
        say("preview stopped")
    finally:
        server.shutdown()
        server.server_close()
        observer.stop()
        observer.join()
    return 0


def _watched(project: Project) -> list[Path]:
    return [project.tables, project.config, templates("web"), templates("print")]


def _settle(changed: threading.Event, stop: threading.Event) -> None:
    """Wait until nothing more changes."""
    while changed.is_set() and not stop.is_set():
        changed.clear()
        changed.wait(QUIET_S)


def rebuild(
    project: Project, folder: Path, say: Callable[[str], None],
    rulebook_id: str | None = None, language: str | None = None,
) -> bool:  # fmt: skip
    """Build the preview once and say how it went. False where it did not succeed; the last good one stays."""
    try:
        built = preview(project, folder, rulebook_id, language)
    except FaultyTables as error:
        for line in shown(error.faults):
            say(line)
        say(summary(error.faults))
        return False
    except ProofFailed as error:
        for objection in error.proof.objections:
            say(str(objection))
        return False
    except Exception as error:
        say(f"{type(error).__name__}: {error}")
        return False
    say(f"built edition {built.catalogue.edition.code} in {sum(built.seconds.values()):.1f} s")
    return True
