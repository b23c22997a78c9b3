"""Worker processes that hold the catalogue: it is sent to each once, and not with each piece of work."""

from __future__ import annotations

import multiprocessing
import pickle
from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from contextlib import contextmanager

from .catalogue import Catalogue

_AT_WORK: list[Catalogue] = []


def catalogue_at_work() -> Catalogue:
    """The catalogue of the worker in which this is called."""
    return _AT_WORK[0]


def _take(pickled: bytes) -> None:
    _AT_WORK[:] = [pickle.loads(pickled)]


@contextmanager
def workers(catalogue: Catalogue, processes: int) -> Iterator[Executor]:
    """Workers for pieces of work on a catalogue: a thread of this process for one, processes for several.

    Args:
        catalogue: what catalogue_at_work gives in each worker.
        processes: how many work at once.
    """
    # Pickled here and once: a thread that pickled it for each worker could meet a lookup being filled.
    pickled = pickle.dumps(catalogue)
    if processes == 1:
        with ThreadPoolExecutor(1, initializer=_take, initargs=(pickled,)) as executor:
            yield executor
    else:
        spawn = multiprocessing.get_context("spawn")
        with ProcessPoolExecutor(processes, mp_context=spawn, initializer=_take, initargs=(pickled,)) as executor:
            yield executor
