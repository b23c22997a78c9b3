"""The web reference: Markdown pages from views, and the site that MkDocs makes of them."""

from .escape import escape
from .site import SiteFault, build_site
from .write import write_pages

__all__ = ["SiteFault", "build_site", "escape", "write_pages"]
