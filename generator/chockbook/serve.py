"""`chockbook serve`: a live preview that builds again when a table, a template or mkdocs.yml changes."""

from __future__ import annotations

import functools
import http.server
import threading
from collections.abc import Callable
from pathlib import Path

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer

from .build import FaultyTables, ProofFailed, build
from .faults import summary
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


def serve(project: Project, port: int, say: Callable[[str], None], stop: threading.Event | None = None) -> int:
    """Build, serve on this machine only, and build again on every change until stopped.

    A build with faults prints them and leaves the last good site in place.

    Args:
        project: what to build.
        port: a free port on 127.0.0.1.
        say: takes lines for the terminal.
        stop: ends the preview when set; without it, Ctrl-C does.

    Returns:
        The exit code: 0, or 1 where the port is taken.
    """
    stop = stop or threading.Event()
    rebuild(project, say)
    handler = functools.partial(_Pages, directory=str(project.output / "site"))
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
                rebuild(project, say)
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


def rebuild(project: Project, say: Callable[[str], None]) -> bool:
    """Build once and say how it went. False where it did not succeed; the last good output stays."""
    try:
        built = build(project)
    except FaultyTables as error:
        for fault in error.faults:
            say(str(fault))
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
