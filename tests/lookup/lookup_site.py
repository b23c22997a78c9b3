"""A site with the lookup, and a server for it that can stop, change editions, or fail at a file."""

from __future__ import annotations

import contextlib
import http.server
import threading
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from chockbook.catalogue import Catalogue
from chockbook.lookup import seal_pages, write_lookup, write_roadside, write_service_worker
from chockbook.lookup.script import CORE, folder
from chockbook.pages import build_site, write_pages

MKDOCS_YML = Path(__file__).parents[2] / "mkdocs.yml"


@dataclass(frozen=True)
class LookupSite:
    """A finished site, the single file, and the catalogue that they hold."""

    catalogue: Catalogue
    site_dir: Path
    roadside: Path


def core_script() -> str:
    """The page's modules of ranking and of the decision rule, joined, without a scope of their own."""
    return "".join((folder() / "js" / f"{name}.js").read_text("utf-8") for name in CORE)


def build_lookup_site(catalogue: Catalogue, folder: Path) -> LookupSite:
    """Everything of a catalogue's first rulebook in English, sealed and ready for use offline."""
    rulebook = catalogue.rulebooks[0].id
    write_pages(catalogue, rulebook, "en", folder / "pages")
    write_lookup(catalogue, rulebook, "en", folder / "pages")
    build_site(MKDOCS_YML, folder / "pages", folder / "site", date(2026, 3, 4))
    seal_pages(folder / "site")
    write_service_worker(folder / "site", catalogue.edition.code)
    roadside = write_roadside(catalogue, rulebook, "en", folder / "roadside.html")
    return LookupSite(catalogue, folder / "site", roadside)


class _ManyAtOnce(http.server.ThreadingHTTPServer):
    """Keeps more than the usual five connections waiting: a browser opens many at once, and would be refused."""

    allow_reuse_address = True
    request_queue_size = 128


@dataclass
class Server:
    """Serves a folder on one port of this machine; stops and starts again there."""

    folder: Path
    broken: str = ""
    """Name of a file that is answered with 404."""
    port: int = 0
    _server: http.server.ThreadingHTTPServer | None = field(default=None, repr=False)

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}/"

    def start(self) -> Server:
        owner = self

        class Handler(http.server.SimpleHTTPRequestHandler):
            def __init__(self, *args: object) -> None:
                super().__init__(*args, directory=str(owner.folder))

            def do_GET(self) -> None:
                if owner.broken and self.path.split("?")[0].endswith(owner.broken):
                    self.send_error(404)
                    return
                super().do_GET()

            def log_message(self, format: str, *args: object) -> None:
                """Says nothing."""

            def copyfile(self, source: object, outputfile: object) -> None:
                with contextlib.suppress(BrokenPipeError, ConnectionResetError):
                    super().copyfile(source, outputfile)

            def end_headers(self) -> None:
                self.send_header("Cache-Control", "no-cache")
                super().end_headers()

        self._server = _ManyAtOnce(("127.0.0.1", self.port), Handler)
        self.port = self._server.server_port
        threading.Thread(target=self._server.serve_forever, daemon=True).start()
        return self

    def stop(self) -> None:
        if self._server:
            self._server.shutdown()
            self._server.server_close()
            self._server = None
