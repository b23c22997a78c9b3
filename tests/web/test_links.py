"""linkchecker finds no broken link or anchor in the built site."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest


def linkchecker() -> str:
    """The program, beside this Python or on the path."""
    beside = Path(sys.executable).with_name("linkchecker")
    found = str(beside) if beside.exists() else shutil.which("linkchecker")
    if found is None:
        pytest.skip("linkchecker is not installed")
    return found


def run(address: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """linkchecker with its anchor check over a site, nothing outside it followed."""
    settings = folder / "linkcheckerrc"
    settings.write_text("[AnchorCheck]\n[checking]\nthreads=4\nmaxrequestspersecond=10000\n[filtering]\ncheckextern=0\n", encoding="utf-8")
    command = [linkchecker(), "--config", str(settings), "--no-status", "--recursion-level=-1", address]
    return subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)


def test_no_link_or_anchor_is_broken(site, address, tmp_path):
    done = run(address + "index.html", tmp_path)
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]
    assert "0 errors found" in done.stdout
    assert "0 warnings found" in done.stdout
