"""The last good output is whole, whatever happens to the next build."""

from __future__ import annotations

import pytest

from chockbook.output import OutputBusy, OutputForeign, replacing


def good(output):
    (output / "data").mkdir(parents=True)
    (output / "data" / "catalogue.json").write_text("good")
    return output


def write(folder, text):
    (folder / "data").mkdir()
    (folder / "data" / "catalogue.json").write_text(text)


def left_over(tmp_path):
    return sorted(path.name for path in tmp_path.iterdir())


def test_a_build_that_ends_well_takes_the_place_of_the_last(tmp_path):
    output = good(tmp_path / "dist")
    with replacing(output) as staging:
        write(staging, "new")
    assert (output / "data" / "catalogue.json").read_text() == "new"
    assert left_over(tmp_path) == ["dist"]


def test_a_build_that_fails_leaves_the_last_one_and_nothing_else(tmp_path):
    output = good(tmp_path / "dist")
    with pytest.raises(ZeroDivisionError), replacing(output) as staging:  # noqa: PT012  (it fails half-way)
        write(staging, "half")
        raise ZeroDivisionError
    assert (output / "data" / "catalogue.json").read_text() == "good"
    assert left_over(tmp_path) == ["dist"]


def test_the_first_build_makes_the_folder(tmp_path):
    with replacing(tmp_path / "deep" / "dist") as staging:
        write(staging, "new")
    assert (tmp_path / "deep" / "dist" / "data" / "catalogue.json").read_text() == "new"


def test_a_folder_with_other_files_is_never_replaced(tmp_path):
    (tmp_path / "dist").mkdir()
    (tmp_path / "dist" / "thesis.txt").write_text("mine")
    with pytest.raises(OutputForeign), replacing(tmp_path / "dist"):
        pass
    assert (tmp_path / "dist" / "thesis.txt").read_text() == "mine"


def test_a_link_is_never_replaced(tmp_path):
    good(tmp_path / "elsewhere")
    (tmp_path / "dist").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(OutputForeign), replacing(tmp_path / "dist"):
        pass


def test_two_builds_of_one_output_do_not_mix(tmp_path):
    output = good(tmp_path / "dist")
    with replacing(output) as staging:
        write(staging, "first")
        with pytest.raises(OutputBusy), replacing(output):
            pass
    assert (output / "data" / "catalogue.json").read_text() == "first"


def test_what_a_killed_build_left_is_swept_away(tmp_path):
    output = good(tmp_path / "dist")
    (tmp_path / ".chockbook-dist-killed").mkdir()
    with replacing(output) as staging:
        write(staging, "new")
    assert left_over(tmp_path) == ["dist"]


def test_an_output_put_aside_in_mid_swap_comes_back(tmp_path):
    good(tmp_path / ".chockbook-dist-killed-old")
    with pytest.raises(ZeroDivisionError), replacing(tmp_path / "dist"):
        raise ZeroDivisionError
    assert (tmp_path / "dist" / "data" / "catalogue.json").read_text() == "good"
