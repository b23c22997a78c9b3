"""The roadside lookup: finds the defect that plain words mean, and decides what findings mean together."""

from .index import LookupIndex
from .indexing import NoSearchWords, build_index
from .offline import write_service_worker
from .ranking import Finder, LookedUp, find, look_up
from .seal import Unsealable, seal_pages
from .write import write_lookup, write_roadside

__all__ = [
    "Finder",
    "LookedUp",
    "LookupIndex",
    "NoSearchWords",
    "Unsealable",
    "build_index",
    "find",
    "look_up",
    "seal_pages",
    "write_lookup",
    "write_roadside",
    "write_service_worker",
]
