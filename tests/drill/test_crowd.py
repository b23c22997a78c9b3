"""Out of a crowd of defects a part is looked at for wrong choices: bounded, always the same, the near ones in it."""

from itertools import islice
from types import SimpleNamespace

from chockbook.drill.choosing import LOOKED_AT, PART, Crowd, nearest


def _entries(number: int) -> list:
    """Three defects to a component, a hundred components to a system."""
    return [
        SimpleNamespace(id=f"part-{n // 3}.fault-{n % 3}", component=SimpleNamespace(id=f"part-{n // 3}"),
                        system=SimpleNamespace(id=f"system-{n // 300}"))
        for n in range(number)
    ]  # fmt: skip


def test_all_of_a_small_crowd_are_looked_at():
    entries = _entries(LOOKED_AT)
    assert Crowd(entries).near("a seed", entries[7]) == entries


def test_of_a_large_crowd_a_bounded_part_is_looked_at_with_the_nearest_in_it():
    entries = _entries(20_000)
    asked = entries[19_999]
    near = Crowd(entries[:19_999]).near("a seed", asked)
    assert len(near) <= 3 * PART
    assert len({one.id for one in near}) == len(near)
    assert "part-6666.fault-0" in {one.id for one in near}
    assert [one.id for one in near] == [one.id for one in Crowd(entries[:19_999]).near("a seed", asked)]
    first = list(islice(nearest("a seed", asked, near), 12))
    assert first[0].component.id == asked.component.id
    assert {one.system.id for one in first} == {asked.system.id}


def test_another_seed_looks_at_others():
    entries = _entries(20_000)
    crowd = Crowd(entries)
    looked_at = [{one.id for one in crowd.near(seed, entries[0])} for seed in ("one", "two", "three")]
    assert looked_at[0] != looked_at[1] or looked_at[1] != looked_at[2]
