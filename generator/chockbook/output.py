"""Outputs, a folder or a file, are written beside and put in place whole: the last good one is never half-written."""

from __future__ import annotations

import contextlib
import ctypes
import os
import secrets
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

STAGING_PREFIX = ".chockbook-"
_AT_FDCWD = -100
_RENAME_EXCHANGE = 2


class OutputBusy(RuntimeError):
    """Another build is writing the same output folder."""


class OutputForeign(RuntimeError):
    """The output folder holds something that no build of ours has made."""


def put_whole(path: Path, content: bytes) -> None:
    """Write a file beside its place and move it there: whoever opens it finds the former one or the new one, whole.

    Args:
        path: the file; its folder is made if needed. What is not a plain file, such as a terminal, is written as it is.
        content: all of it.

    Raises:
        OSError: it cannot be written; the former file stays, and nothing is left beside it.
    """
    path = Path(os.path.realpath(path))
    path.parent.mkdir(parents=True, exist_ok=True)
    if path.exists() and not path.is_file():
        path.write_bytes(content)
        return
    unfinished = path.with_name(f"{STAGING_PREFIX}{secrets.token_hex(6)}")
    try:
        with unfinished.open("xb") as file:
            file.write(content)
        unfinished.replace(path)
    except BaseException as error:
        with contextlib.suppress(OSError):
            unfinished.unlink()
        if isinstance(error, OSError):  # said of the file that was asked for, not of the one beside it
            raise OSError(error.errno, error.strerror, str(path)) from error
        raise


@contextlib.contextmanager
def filling(folder: Path) -> Iterator[Path]:
    """A folder that is filled file by file, by one run at a time; what a stopped run left in it is removed.

    Raises:
        OutputBusy: another run is filling the folder.
        OSError: the folder cannot be written.
    """
    folder = Path(os.path.abspath(folder))
    folder.mkdir(parents=True, exist_ok=True)
    with _alone(folder):
        for left in sorted(folder.glob(f"{STAGING_PREFIX}*")):
            if left.is_dir() and not left.is_symlink():
                shutil.rmtree(left, ignore_errors=True)
            else:
                left.unlink(missing_ok=True)
        yield folder


@contextlib.contextmanager
def replacing(output: Path, mark: str = "data/catalogue.json") -> Iterator[Path]:
    """A staging folder beside the output, which takes its place when the block ends well.

    On any exception the staging folder is removed and the output stays as it was. Left-overs of a killed
    build are removed by the next one.

    Args:
        output: the folder to replace; it need not exist.
        mark: a file by which an output of ours is known, so that no other folder is ever replaced.

    Raises:
        OutputBusy: another build holds the output.
        OutputForeign: the output exists, is not empty and does not hold the mark.
        OSError: the folder around the output cannot be written.
    """
    output = Path(os.path.abspath(output))
    output.parent.mkdir(parents=True, exist_ok=True)
    if output.is_symlink() or (output.exists() and not output.is_dir()):
        raise OutputForeign(f"{output} is not a folder of its own; name another output folder")
    if output.is_dir() and any(output.iterdir()) and not (output / mark).is_file():
        raise OutputForeign(f"{output} holds files that were not built here; empty it or name another folder")
    with _alone(output):
        _sweep(output)
        staging = Path(tempfile.mkdtemp(prefix=f"{STAGING_PREFIX}{output.name}-", dir=output.parent))
        try:
            # mkdtemp makes private folders; an output is for everyone whom the umask allows.
            staging.chmod(0o777 & ~_umask())
            yield staging
            _swap(staging, output)
        finally:
            shutil.rmtree(staging, ignore_errors=True)


def _swap(staging: Path, output: Path) -> None:
    """Put the staging folder in the output's place, in one step where the system can."""
    if not output.exists():
        staging.rename(output)
        return
    if _exchange(staging, output):
        return
    aside = staging.with_name(staging.name + "-old")
    output.rename(aside)
    try:
        staging.rename(output)
    except OSError:
        aside.rename(output)
        raise
    shutil.rmtree(aside, ignore_errors=True)


def _exchange(one: Path, other: Path) -> bool:
    """Exchange two folders in one step (Linux: renameat2 with RENAME_EXCHANGE). False where unsupported."""
    if not sys.platform.startswith("linux"):
        return False
    try:
        rename = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return False
    return rename(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE) == 0


@contextlib.contextmanager
def _alone(output: Path) -> Iterator[None]:
    """Hold the lock of an output folder; the system lets go of it even where the process is killed.

    The file goes with the lock. A build that waited at a file that has just gone holds nothing, and is turned away.
    """
    path = output.with_name(f"{STAGING_PREFIX}{output.name}.lock")
    with path.open("a") as lock:
        try:
            if sys.platform == "win32":
                import msvcrt

                msvcrt.locking(lock.fileno(), msvcrt.LK_NBLCK, 1)
            else:
                import fcntl

                fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            raise OutputBusy(f"another build is writing {output}; wait for it to end") from error
        if not _stands_at(path, lock.fileno()):
            raise OutputBusy(f"another build has just written {output}; build again")
        try:
            yield
        finally:
            if sys.platform != "win32":
                path.unlink(missing_ok=True)
    if sys.platform == "win32":  # there, no open file can be removed
        with contextlib.suppress(OSError):
            path.unlink()


def _stands_at(path: Path, descriptor: int) -> bool:
    """Whether the file at a path is still the one that was opened."""
    try:
        return os.path.samestat(path.stat(), os.fstat(descriptor))
    except OSError:
        return False


def _sweep(output: Path) -> None:
    """Remove what a killed build left; bring back an output that was put aside in mid-swap."""
    for left in sorted(output.parent.glob(f"{STAGING_PREFIX}{output.name}-*")):
        if left.name.endswith("-old") and not output.exists():
            left.rename(output)
        else:
            shutil.rmtree(left, ignore_errors=True)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
