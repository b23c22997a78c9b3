"""Worker processes that hold the catalogue: it is sent to each once, and not with each piece of work."""

from __future__ import annotations

import multiprocessing
import multiprocessing.connection
import os
import pickle
import threading
from collections.abc import Iterator
from concurrent.futures import BrokenExecutor, Executor, ProcessPoolExecutor, ThreadPoolExecutor
from contextlib import contextmanager

from .catalogue import Catalogue

_AT_WORK: list[Catalogue] = []


class WorkersLost(RuntimeError):
    """A worker process ended before its work did: the system stopped it, or could not start it."""


def catalogue_at_work() -> Catalogue:
    """The catalogue of the worker in which this is called."""
    return _AT_WORK[0]


def _take(pickled: bytes) -> None:
    _AT_WORK[:] = [pickle.loads(pickled)]


def _start_worker(pickled: bytes) -> None:
    """Take the catalogue, and see to it that nothing is written any more once the build is killed."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_end_with, args=(parent.sentinel,), daemon=True).start()
    _take(pickled)


def _end_with(sentinel: int) -> None:
    multiprocessing.connection.wait([sentinel])
    os._exit(1)


@contextmanager
def workers(catalogue: Catalogue, processes: int) -> Iterator[Executor]:
    """Workers for pieces of work on a catalogue: a thread of this process for one, processes for several.

    Args:
        catalogue: what catalogue_at_work gives in each worker.
        processes: how many work at once.

    Raises:
        WorkersLost: a worker process ended before its work did, as where memory runs out.
    """
    # Pickled here and once: a thread that pickled it for each worker could meet a lookup being filled.
    pickled = pickle.dumps(catalogue)
    if processes == 1:
        with ThreadPoolExecutor(1, initializer=_take, initargs=(pickled,)) as executor:
            yield executor
    else:
        spawn = multiprocessing.get_context("spawn")
        try:
            with ProcessPoolExecutor(processes, spawn, _start_worker, (pickled,)) as executor:
                yield executor
        except BrokenExecutor as error:
            why = "a worker process was stopped from outside, as the system does when memory runs out"
            raise WorkersLost(why) from error
