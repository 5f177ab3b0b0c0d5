"""Faults over time, in words."""

import textwrap
from collections.abc import Iterable

from circuit.faults.study import Study
from circuit.faults.times import Timeline
from circuit.report.faults.mending import in_unit
from circuit.report.situations import unit_of
from circuit.report.words import CAUTION, count
from circuit.report.words import FAST as _FAST

WIDTH = 110


def _row(word: str, says: str) -> list[str]:
    if not says:
        return []
    lines = textwrap.wrap(says, WIDTH, initial_indent=f"  {word:<5} ", subsequent_indent=" " * 8,
                          break_on_hyphens=False)
    return [line.replace(_FAST, " ") for line in lines]


def _told(study: Study, line: Timeline) -> str:
    unit = unit_of(study.circuit)
    engine = "the engine runs" if line.running else "the engine stands still"
    happens = ", ".join(f"{event.says} after {_seconds(event.time)}" for event in line.events) or "nothing comes on"
    kept = ", ".join(f"{name} {in_unit(pressure, unit)}" for name, pressure in line.last.items())
    ended = "" if line.complete else "; the run did not reach its end"
    wrong = f"; graph and simulation disagree: {'; '.join(line.disagrees)}" if line.disagrees else ""
    return f"simulated for {_seconds(line.until)}, {engine}: {happens}; at the end {kept}{ended}{wrong}"


def times_table(study: Study, found: Iterable[Timeline]) -> str:
    """Bursts and leaks with their times."""
    found = tuple(found)
    lines = [f"Faults over time: {study.circuit.vehicle.title}  ({study.circuit.source.name})", ""]
    for line in found:
        grace = "" if line.grace is None else (
            f"; first loss {_seconds(abs(line.grace))} {'after' if line.grace >= 0 else 'before'} the warning")
        lines += _row("fault", line.name) + _row("then", _told(study, line) + grace) + [""]
    wrong = sum(bool(line.disagrees) for line in found)
    lines.append(f"{count(len(found), 'fault')} simulated, {wrong} where graph and simulation disagree")
    return "\n".join([*lines, *textwrap.wrap(CAUTION, WIDTH)]) + "\n"


def _seconds(time: float) -> str:
    return f"{time:.1f}{_FAST}s" if time < 120 else f"{time / 60:.1f}{_FAST}min"
