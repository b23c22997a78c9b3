"""A site of a catalogue, and the pages that it was made from."""

from __future__ import annotations

import contextlib
import functools
import http.server
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from chockbook.catalogue import Catalogue
from chockbook.lookup import write_lookup
from chockbook.pages import build_site, write_pages

MKDOCS_YML = Path(__file__).parents[2] / "mkdocs.yml"


@dataclass(frozen=True)
class BuiltSite:
    """A site on disk and the pages that it was made from."""

    catalogue: Catalogue
    pages_dir: Path
    site_dir: Path

    @property
    def html_files(self) -> list[Path]:
        """Every page of the site that we wrote; the theme's own page for wrong addresses is not ours."""
        found = [path for path in sorted(self.site_dir.rglob("*.html")) if path.name != "404.html"]
        assert found, "the site has no page"
        return found


def write_book(catalogue: Catalogue, rulebook_id: str, language: str, folder: Path) -> None:
    """The pages of a book, with the start page, which the lookup writes."""
    write_pages(catalogue, rulebook_id, language, folder)
    write_lookup(catalogue, rulebook_id, language, folder)


def build_pages(catalogue: Catalogue, folder: Path) -> BuiltSite:
    """Pages and site of a catalogue's rulebook in English."""
    write_book(catalogue, catalogue.rulebooks[0].id, "en", folder / "pages")
    build_site(MKDOCS_YML, folder / "pages", folder / "site", date(2026, 3, 4))
    return BuiltSite(catalogue, folder / "pages", folder / "site")


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        """Says nothing."""

    def copyfile(self, source: object, outputfile: object) -> None:
        """Sends a file; a visitor who goes away before its end is no news."""
        with contextlib.suppress(BrokenPipeError, ConnectionResetError):
            super().copyfile(source, outputfile)

    def end_headers(self) -> None:
        # By this header a server tells linkchecker that it may ask as fast as it likes.
        self.send_header("LinkChecker", "welcome")
        super().end_headers()


class _ManyAtOnce(http.server.ThreadingHTTPServer):
    """Keeps more than the usual five connections waiting: a browser opens many at once, and would be refused."""

    request_queue_size = 128


@contextlib.contextmanager
def serve(folder: Path) -> Iterator[str]:
    """Serves a folder on this machine; gives the address, ending in "/"."""
    handler = functools.partial(_Quiet, directory=str(folder))
    with _ManyAtOnce(("127.0.0.1", 0), handler) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_port}/"
        finally:
            server.shutdown()
            thread.join()
