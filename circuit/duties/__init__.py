"""What each place of a vehicle has to do, one file for each sort of place. A file that declares DUTIES holds some; no list."""

from functools import cache
from importlib import import_module
from pathlib import Path

from circuit.duties.cases import Cases
from circuit.duties.duty import Duty, Entry, Kept
from circuit.judging.evidence import Evidence


@cache
def every() -> tuple[Duty, ...]:
    """All duties, in the order of their files and of each file. Raises ValueError for two of one name."""
    found: dict[str, Duty] = {}
    for path in sorted(Path(__file__).resolve().parent.glob("*.py")):
        if path.stem == "__init__":
            continue
        for duty in getattr(import_module(f"circuit.duties.{path.stem}"), "DUTIES", ()):
            if duty.name in found:
                raise ValueError(f"circuit/duties/{path.name} declares {duty.name} a second time")
            found[duty.name] = duty
    return tuple(found.values())


def held(evidence: Evidence) -> tuple[Entry, ...]:
    """Every duty of every place of a circuit, kept, broken or not decided: judged from the circuit at rest, once."""
    if "held" not in evidence.kept:
        cases = cases_of(evidence)
        evidence.kept["held"] = tuple(Entry(duty, found) for duty in every() for found in duty.judge(cases))
    found: tuple[Entry, ...] = evidence.kept["held"]
    return found


def cases_of(evidence: Evidence) -> Cases:
    """The states in which its duties are held, each settled once."""
    found: Cases = evidence.kept.setdefault("cases", Cases(evidence))
    return found


__all__ = ["Cases", "Duty", "Entry", "Kept", "cases_of", "every", "held"]
