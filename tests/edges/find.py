"""Find the two figures of a pair: `python -m tests.edges.find CLAUSE UNIT BREAKS MEETS STEP`, the clause as in the data.

BREAKS and MEETS are figures of which the first breaks the clause and the second meets it; they are brought together until
they are one STEP apart, and are printed as `found` has them.
"""

import sys
from typing import Any

from circuit.clauses import clause
from tests.designs import loaded
from tests.edges.outcome import drawn, played
from tests.edges.pairs import with_figure, written


def between(row: dict[str, Any], unit: str, breaks: float, meets: float, step: float) -> tuple[float, float]:
    """The two figures, one step apart. Raises ValueError where the ends do not break and meet the clause."""
    one, ask = clause(row["clause"]), played if row.get("played") else drawn

    def is_met(count: int) -> bool:
        said = ask(loaded(with_figure(row, f"{count * step:.10g} {unit}")), one)
        print(f"  {count * step:.10g} {unit}: {said.result.value}; {said.figures}", file=sys.stderr)
        return said.result.is_kept

    low, high = round(breaks / step), round(meets / step)
    if is_met(low) or not is_met(high):
        raise ValueError(f"{row['clause']}: {breaks:g} should break it and {meets:g} should meet it")
    while abs(high - low) > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if is_met(middle) else (middle, high)
    return float(f"{low * step:.10g}"), float(f"{high * step:.10g}")


if __name__ == "__main__":
    key, wanted, *ends = sys.argv[1:]
    (told,) = [row for row in written() if row["clause"] == key]
    print(f"{wanted} = {list(between(told, wanted, *map(float, ends)))}")
