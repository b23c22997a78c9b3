"""linkchecker finds no broken link or anchor in the built site."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from built_site import build_pages, serve


def linkchecker() -> str:
    """The program, beside this Python or on the path."""
    beside = Path(sys.executable).with_name("linkchecker")
    found = str(beside) if beside.exists() else shutil.which("linkchecker")
    if found is None:
        pytest.skip("linkchecker is not installed")
    return found


def run(address: str, folder: Path, *plugins: str) -> str:
    """What linkchecker says of a site, nothing outside it followed.

    Raises:
        AssertionError: it found an error.
    """
    settings = folder / "linkcheckerrc"
    sections = "".join(f"[{plugin}]\n" for plugin in plugins)
    settings.write_text(f"{sections}[checking]\nthreads=4\nmaxrequestspersecond=10000\n", encoding="utf-8")
    command = [linkchecker(), "--config", str(settings), "--no-status", "--recursion-level=-1", address]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]
    return done.stdout


def test_no_link_of_the_site_is_broken(site, address, tmp_path):
    said = run(address + "index.html", tmp_path)
    assert "0 warnings found. 0 errors found." in said
    checked = int(re.search(r"(\d+) links in", said)[1])
    assert checked > len(site.html_files), "not every page was reached"


def test_no_anchor_is_broken_on_any_page_type(small, tmp_path):
    """The anchors of the whole site are followed in test_pages.py; linkchecker reads a page anew for each."""
    with serve(build_pages(small, tmp_path).site_dir) as address:
        assert "0 warnings found. 0 errors found." in run(address + "index.html", tmp_path, "AnchorCheck")


def test_linkchecker_sees_a_broken_link_and_a_broken_anchor(small, tmp_path):
    built = build_pages(small, tmp_path)
    page = built.site_dir / "cautions.html"
    text = page.read_text(encoding="utf-8")
    with serve(built.site_dir) as address:
        page.write_text(text.replace("</article>", '<a href="gone.html">x</a></article>'), encoding="utf-8")
        with pytest.raises(AssertionError, match=r"gone\.html"):
            run(address + "index.html", tmp_path)
        page.write_text(
            text.replace("</article>", '<a href="route.html#gone">x</a></article>'), encoding="utf-8"
        )
        with pytest.raises(AssertionError, match="gone"):
            run(address + "index.html", tmp_path, "AnchorCheck")
