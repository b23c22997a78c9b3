"""Rules that no shape can hold, and the assembly of the catalogue from checked tables."""

from .assemble import Assembly, assemble_folder

__all__ = ["Assembly", "assemble_folder"]
