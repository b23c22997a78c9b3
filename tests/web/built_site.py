"""A site of a catalogue, and the pages that it was made from."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from chockbook.catalogue import Catalogue
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


def build_pages(catalogue: Catalogue, folder: Path) -> BuiltSite:
    """Pages and site of a catalogue's rulebook in English."""
    write_pages(catalogue, catalogue.rulebooks[0].id, "en", folder / "pages")
    build_site(MKDOCS_YML, folder / "pages", folder / "site")
    return BuiltSite(catalogue, folder / "pages", folder / "site")
