"""The ready workflow runs the commands of the README, and puts each former edition where its code says."""

from __future__ import annotations

import os
import re
import subprocess

import pytest
import yaml
from projects import TESTS

ROOT = TESTS.parent
BUILT = "mkdir -p dist/site && cp edition.txt dist/site/index.html"


@pytest.fixture(scope="module")
def workflow():
    return yaml.safe_load((ROOT / ".github" / "workflows" / "publish.yml").read_text(encoding="utf-8"))


def step(workflow, name: str) -> str:
    [found] = [one["run"] for one in workflow["jobs"]["publish"]["steps"] if one.get("name", "").startswith(name)]
    return found


def test_the_workflow_builds_as_the_readme_says(workflow):
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    [command] = re.findall(r"<!-- build command -->\n```sh\n(.*)\n```\n<!-- end -->", readme)
    assert step(workflow, "Build and prove").strip() == command


def test_what_is_uploaded_is_the_site_and_the_rights_are_the_least(workflow):
    steps = workflow["jobs"]["publish"]["steps"]
    assert [one["with"]["path"] for one in steps if "upload" in one.get("uses", "")] == ["dist/site"]
    assert workflow["permissions"] == {"contents": "read", "pages": "write", "id-token": "write"}
    assert all(one["uses"].startswith("actions/") for one in steps if "uses" in one)


def test_each_tagged_edition_stands_in_a_folder_of_its_code(workflow, tmp_path):
    """The step as it is written, with the one command that installs and builds put aside for a copy."""
    script = step(workflow, "Former editions")
    build = "python3 -m venv .venv && .venv/bin/python -m pip install --quiet . && .venv/bin/chockbook build"
    assert script.count(build) == 1
    who = {f"GIT_{role}_{what}": "a@example.org" for role in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")}

    def shell(text):
        subprocess.run(["bash", "-euo", "pipefail", "-c", text], cwd=tmp_path, env={**os.environ, **who}, check=True,
                       capture_output=True)  # fmt: skip

    shell("git init --quiet . && printf first > edition.txt && git add -A && git commit -qm one")
    shell("git tag edition-0123abcd")
    shell("printf second > edition.txt && git commit -qam two && git tag edition-4567cdef && git tag v1")
    shell("printf third > edition.txt && git commit -qam three")
    shell(BUILT)
    shell(script.replace(build, BUILT))
    site = tmp_path / "dist" / "site"
    found = {path.relative_to(site).as_posix(): path.read_text() for path in site.rglob("*") if path.is_file()}
    assert found == {"index.html": "third", "0123abcd/index.html": "first", "4567cdef/index.html": "second"}
