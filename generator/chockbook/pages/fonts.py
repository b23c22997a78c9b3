"""The reading face as web fonts: Atkinson Hyperlegible, taken from its package and compressed."""

from __future__ import annotations

import struct
import zlib
from importlib.resources import files
from pathlib import Path

FACES = ("Regular", "Bold")
"""No italic: nothing on the pages is set in it."""


def woff_from_truetype(font: bytes) -> bytes:
    """The same font as a WOFF file, which is its tables, each compressed with zlib.

    Raises:
        ValueError: the bytes are not a TrueType font.

    Source: WOFF File Format 1.0 (W3C Recommendation, 2012-12-13), sections 3 to 5; from memory, checked
    by loading the result in a browser.
    """
    flavour, n_tables = struct.unpack_from(">LH", font)
    if flavour != 0x00010000:
        raise ValueError("not a TrueType font")
    tables = [struct.unpack_from(">4sLLL", font, 12 + 16 * place) for place in range(n_tables)]
    directory_size = 44 + 20 * n_tables
    total_size = 12 + 16 * n_tables + sum((length + 3) & ~3 for _, _, _, length in tables)
    directory, bodies, at = b"", b"", directory_size
    for tag, checksum, start, length in sorted(tables):
        plain = font[start : start + length]
        packed = zlib.compress(plain, 9)
        body = packed if len(packed) < length else plain
        directory += struct.pack(">4sLLLL", tag, at, len(body), length, checksum)
        bodies += body + b"\0" * (-len(body) % 4)
        at = directory_size + len(bodies)
    header = struct.pack(
        ">4sLLHHLHHLLLLL", b"wOFF", flavour, at, n_tables, 0, total_size, 1, 0, 0, 0, 0, 0, 0
    )
    return header + directory + bodies


def write_fonts(folder: Path) -> list[Path]:
    """Writes the faces and their licence into a folder.

    Raises:
        FileNotFoundError: the font package is not whole.
        OSError: the folder cannot be written.
    """
    package = files("fontpkg_atkinson_hyperlegible")
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for face in FACES:
        font = package.joinpath(f"files/AtkinsonHyperlegible-{face}.ttf").read_bytes()
        path = folder / f"atkinson-hyperlegible-{face.lower()}.woff"
        path.write_bytes(woff_from_truetype(font))
        written.append(path)
    licence = folder / "LICENSE.txt"
    licence.write_bytes(package.joinpath("LICENSE").read_bytes())
    return [*written, licence]
