"""The live preview: it serves the site, and builds again when a table changes."""

from __future__ import annotations

import re
import threading
import time
import urllib.request

from projects import tiny_project

from chockbook.project import Project
from chockbook.serve import serve

PATIENCE_S = 60


def wait_for(condition) -> bool:
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        if condition():
            return True
        time.sleep(0.1)
    return False


def test_a_changed_table_changes_the_page_and_a_faulty_one_does_not(tmp_path):
    project = Project(tiny_project(tmp_path))
    said: list[str] = []
    stop = threading.Event()
    preview = threading.Thread(target=serve, args=(project, 0, said.append, stop))
    preview.start()
    try:
        assert wait_for(lambda: any("preview at" in line for line in said)), said
        address = re.search(r"http://\S+/", next(line for line in said if "preview at" in line)).group()

        def page() -> str:
            return urllib.request.urlopen(f"{address}components/tire.html").read().decode()

        assert "A tire is flat" in page()
        table = project.tables / "catalogue.yaml"
        text = table.read_text(encoding="utf-8")
        table.write_text(text.replace("A tire is flat", "A tire has no air"), encoding="utf-8")
        assert wait_for(lambda: "A tire has no air" in page()), said
        table.write_text(text.replace("limits: [tread]", "limits: [tred]"), encoding="utf-8")
        assert wait_for(lambda: any('there is no limit "tred"' in line for line in said)), said
        assert "A tire has no air" in page()
    finally:
        stop.set()
        preview.join(PATIENCE_S)
    assert not preview.is_alive()
