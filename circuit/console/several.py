"""Many designs checked in the order they were named: those kept from an earlier run, the others on all cores."""

import os
from collections.abc import Iterator, Sequence

from circuit.console import keeping
from circuit.console.checked import Checked, How, checked

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from circuit.console.gating import Gated

FEW = 4
"""Designs below which no further process is worth its start."""

_gated: "Gated | None" = None
_how: How = How()


def results(names: Sequence[str], how: How, gated: "Gated", jobs: int, keeps: bool, tell: "Any") -> Iterator[Checked]:
    """The result of each design, in their order. jobs: processes, 0 for one on each core. keeps: whether results are kept, and
    those of earlier runs taken. Raises Misruled."""
    found = {name: keeping.recalled(name, gated.made_of(name, how)) if keeps else None for name in names}
    missing = [name for name, known in found.items() if known is None]
    for name in missing:
        gated.gate(name)
    fresh = _fresh(missing, how, gated, min(jobs or _cores(), len(missing)), tell)
    for name in names:
        known = found[name]
        if known is None:
            known = next(fresh)
            if keeps:
                keeping.keep(name, gated.made_of(name, how), known)
        yield known
    if keeps and missing:
        from circuit import cache

        cache.tidy(keeping.BEGIN)


def _fresh(names: list[str], how: How, gated: "Gated", jobs: int, tell: "Any") -> Iterator[Checked]:
    if jobs < 2 or len(names) < FEW:
        for name in names:
            yield checked(name, how, gated.gate(name), tell)
        return
    import multiprocessing

    from circuit.verdict import judge  # noqa: F401  (read once, before the processes part)

    ways = multiprocessing.get_all_start_methods()
    with multiprocessing.get_context("fork" if "fork" in ways else ways[0]).Pool(jobs, _begin, (gated, how)) as pool:
        yield from pool.imap(_one, names, chunksize=max(1, min(8, len(names) // (4 * jobs))))


def _begin(gated: "Gated", how: How) -> None:
    global _gated, _how
    _gated, _how = gated, how


def _one(name: str) -> Checked:
    assert _gated is not None
    return checked(name, _how, _gated.gate(name))


def _cores() -> int:
    """Cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
