"""Every fault of ours crosses from a worker process to the build whole; one that cannot would break the pool."""

from __future__ import annotations

import copy
import importlib
import pickle
import pkgutil
from concurrent.futures import BrokenExecutor
from fractions import Fraction

import pytest

import chockbook
from chockbook.build import FaultyTables, ProofFailed
from chockbook.catalogue.measure import UnfitMeasure
from chockbook.catalogue.quantity import Malformed, Quantity
from chockbook.faults import Fault, Place
from chockbook.pages import SiteFault
from chockbook.printing import CardOverflow
from chockbook.printing.carrier_documents import NotPrinted
from chockbook.proof import Proof
from chockbook.proof.objection import Objection
from chockbook.results.cells import BadQuote
from chockbook.workers import WorkersLost, catalogue_at_work, workers

FAULT = Fault(Place("a.yaml", 3, 7), "bad-id", "no", "why", "mend")
PROOF = Proof(2, ("site",), (Objection("print/cards.pdf", "tire.flat", "is not there"),))


def samples(tiny):
    """A raised fault of each class that is made from more than one message."""
    return {
        SiteFault: SiteFault(["a.md: no"], ["a.md"]),
        CardOverflow: CardOverflow("tire.flat", 130.5, 110.25, "a6"),
        FaultyTables: FaultyTables([FAULT]),
        ProofFailed: ProofFailed(PROOF),
        Malformed: Malformed("no-number", "3 stone", "stone", "fr"),
        NotPrinted: NotPrinted(2, "tire.flat does not fit"),
        BadQuote: BadQuote("a quote is not closed", 7),
        UnfitMeasure: UnfitMeasure("unit-needed", tiny.limits[0], Quantity(Fraction(3, 2), None)),
    }


def faults_of_ours() -> list[type[Exception]]:
    found = set()
    for module in pkgutil.walk_packages(chockbook.__path__, "chockbook."):
        if module.name != "chockbook.__main__":
            for value in vars(importlib.import_module(module.name)).values():
                ours = isinstance(value, type) and value.__module__.startswith("chockbook.")
                if ours and issubclass(value, Exception):
                    found.add(value)
    return sorted(found, key=lambda one: one.__qualname__)


def held(error: Exception) -> dict:
    return {name: repr(value) for name, value in vars(error).items() if not name.startswith("__")}


@pytest.mark.parametrize("kind", faults_of_ours(), ids=lambda kind: kind.__name__)
def test_a_fault_is_the_same_after_the_journey(kind, tiny):
    made = samples(tiny)
    if kind not in made:
        assert "__init__" not in vars(kind), f"give a sample of {kind.__name__}"
    error = made.get(kind) or kind("it does not fit")
    for arrived in (pickle.loads(pickle.dumps(error)), copy.copy(error)):
        assert type(arrived) is kind
        assert str(arrived) == str(error) != ""
        assert held(arrived) == held(error)


def test_all_faults_are_looked_at():
    assert len(faults_of_ours()) >= 25


def _raise() -> None:
    raise CardOverflow(catalogue_at_work().entries[0].id, 130.5, 110.25)


def _vanish() -> None:
    import os

    os._exit(9)


def test_a_fault_comes_out_of_a_worker_process(tiny):
    with workers(tiny, 2) as pool, pytest.raises(CardOverflow) as raised:
        pool.submit(_raise).result()
    assert raised.value.needed_mm == 130.5
    assert raised.value.entry_id == tiny.entries[0].id


def test_a_worker_that_vanishes_is_told_in_one_line(tiny):
    with pytest.raises(WorkersLost) as raised, workers(tiny, 2) as pool:
        pool.submit(_vanish).result()
    assert isinstance(raised.value.__cause__, BrokenExecutor)
    assert str(raised.value).count("\n") == 0
