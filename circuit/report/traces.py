"""Pressures over time as a CSV file: gauge bar, with the unit in each heading."""

from collections.abc import Iterable

from circuit.model.trace import Trace


def csv(traces: Iterable[tuple[str, Trace]]) -> str:
    """Every space's pressure at the end of every step, traces below each other; a trace's label is the first column."""
    lines: list[str] = []
    known: tuple[str, ...] = ()
    for label, trace in traces:
        if trace.names != known:
            known = trace.names
            heads = (_quoted(f"{name} [bar above atmosphere]") for name in known)
            lines.append(",".join(['"run"', '"time [s]"', *heads]))
        for time, row in zip(trace.times, trace.pressures):
            lines.append(",".join([_quoted(label), f"{float(time):.6g}",
                                   *(f"{(float(p) - trace.atmosphere) / 1e5:.5g}" for p in row)]))
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    return '"' + text.replace('"', '""') + '"'
