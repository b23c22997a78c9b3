"""The same tables give the same bytes, whatever is around the build; more of it: tests/benchmarks/same_bytes.py."""

from __future__ import annotations

import shutil

import pytest
from benchmarks.same_bytes import OTHERS, PLAIN, build, differences, files_of
from projects import tiny_project

AHEAD, BEHIND, ASCII, _, ACCENTS, PRIVATE, _ = OTHERS


@pytest.fixture(scope="module")
def place(tmp_path_factory):
    return tmp_path_factory.mktemp("same")


@pytest.fixture(scope="module")
def plain(place):
    (place / "project").mkdir()
    return build(tiny_project(place / "project"), PLAIN, place)


@pytest.mark.parametrize("around", [AHEAD, BEHIND, ASCII, ACCENTS, PRIVATE], ids=lambda around: around.name)
def test_every_byte_is_the_same(place, plain, around):
    other = build(place / "project", around, place)
    assert len(files_of(plain)) > 100
    assert differences(plain, other) == []


def test_a_single_byte_would_be_seen(place, plain, tmp_path):
    other = shutil.copytree(plain, tmp_path / "other")
    path = other / "data" / "catalogue.csv"
    path.write_bytes(path.read_bytes()[:-1] + b" ")
    (other / "roadside.html").unlink()
    assert differences(plain, other) == ["data/catalogue.csv", "roadside.html"]
