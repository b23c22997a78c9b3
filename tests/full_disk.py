"""A disk that fills up: from some point on, nothing more can be opened for writing below a folder."""

from __future__ import annotations

import errno
import hashlib
import os
import sys
from pathlib import Path

_WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT


class Disk:
    """Counts what is opened for writing or made below a folder, and refuses from a given number on."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.room, self.used, self.watching = os.path.realpath(folder), sys.maxsize, 0, False
        sys.addaudithook(self._hook)  # a hook cannot be taken away; it looks only while it is watching

    def _hook(self, event: str, arguments: tuple) -> None:
        if not self.watching or event not in ("open", "os.mkdir"):
            return
        path = arguments[0]
        if not isinstance(path, str | bytes | os.PathLike) or (event == "open" and not _writes(*arguments[1:3])):
            return
        if os.path.realpath(os.fsdecode(path)).startswith(self.folder + os.sep):
            self.used += 1
            if self.used > self.room:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), os.fsdecode(path))

    def with_room_for(self, files: int) -> Disk:
        """The same disk with room for so many files and folders more."""
        self.room, self.used = files, 0
        return self

    def __enter__(self) -> Disk:
        self.watching = True
        return self

    def __exit__(self, *raised: object) -> None:
        self.watching = False


def _writes(mode: object, flags: object) -> bool:
    return any(letter in str(mode or "") for letter in "wax+") or (isinstance(flags, int) and bool(flags & _WRITING))


def everything(folder: Path) -> dict[str, str]:
    """Every file, folder and link below a folder with a hash of what is in it."""
    found = {}
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if path.is_symlink():
            found[name] = f"-> {os.readlink(path)}"
        else:
            found[name] = hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else "folder"
    return found
