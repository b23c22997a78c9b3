"""The same pages and the same mkdocs.yml also build with Zensical, which reads MkDocs projects.

MkDocs 1.x is no longer developed, so the way to a successor stays open: no plugin of ours, no theme override.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from built_site import MKDOCS_YML, build_pages, serve
from test_links import run


def zensical() -> str:
    """The command, beside this Python or on the path."""
    beside = Path(sys.executable).with_name("zensical")
    found = str(beside) if beside.exists() else shutil.which("zensical")
    if found is None:
        pytest.skip("zensical is not installed (it comes with the extra `zensical`)")
    return found


def test_the_pages_build_with_zensical_and_no_link_or_anchor_is_broken(small, tmp_path):
    command = zensical()
    built = build_pages(small, tmp_path / "mkdocs")
    project = tmp_path / "zensical"
    shutil.copytree(built.pages_dir, project / "pages")
    settings = MKDOCS_YML.read_text(encoding="utf-8")
    settings = re.sub(r"^docs_dir:.*$", "docs_dir: pages", settings, flags=re.MULTILINE)
    settings = re.sub(r"^site_dir:.*$", "site_dir: site", settings, flags=re.MULTILINE)
    (project / "mkdocs.yml").write_text(settings, encoding="utf-8")
    done = subprocess.run([command, "build", "--strict", "--config-file", "mkdocs.yml"], cwd=project,
                          capture_output=True, text=True, timeout=120, check=False)  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    pages = {path.relative_to(built.site_dir) for path in built.html_files}
    assert {path for path in pages if not (project / "site" / path).is_file()} == set()
    with serve(project / "site") as address:
        assert "0 warnings found. 0 errors found." in run(address + "index.html", tmp_path, "AnchorCheck")
