"""Where the air of a simulation went: what was held, came and left, and what is missing in the sum."""

from collections.abc import Iterable
from typing import Any

from circuit.model.trace import Trace
from circuit.report.study_words import table

ROUNDING = 1e-9
"""Share of the air held beyond which a sum has lost more than roundings; ours come to some 1e-12."""


def balance(traces: Iterable[tuple[str, Trace]]) -> str:
    """A table in g of air, a row for each run, and how exactly each was worked out."""
    rows = [("run", "at first", "at last", "made", "from outside", "let out", "missing")]
    said = []
    for label, trace in traces:
        held = trace.balance
        first, last, made, fed, vented = (f"{round(1e3 * value, 3) + 0.0:.3f}" for value in held[:5])
        rows.append((label, first, last, made, fed, vented, f"{held.drift:.0e} of it"))
        worth = "to its end, with the accuracy asked for" if trace.complete else "SHORT of what was asked; see the notes"
        said.append(f"  {label}: {trace.steps} steps, {worth}")
        if abs(held.drift) > ROUNDING:
            said.append(f"  {label}: MORE IS MISSING THAN ROUNDING EXPLAINS: do not rely on this run")
    if not said:
        return "\nAir balance: nothing was simulated\n"
    return "\n".join(["", "Air balance, g: predicted, all spaces together", *table(rows), *said]) + "\n"


def as_data(traces: Iterable[tuple[str, Trace]]) -> list[dict[str, Any]]:
    """The same for other programs, kg; drift as a share of the most that was held."""
    return [{"run": label, **{name: float(value) for name, value in trace.balance._asdict().items()},
             "steps": trace.steps, "complete": trace.complete} for label, trace in traces]
