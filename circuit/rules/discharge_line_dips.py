"""The compressor's discharge line has a dip, or rises on its way.

Why
---
The hot air cools in the line and drops its water there. Where the line falls all the way, the water runs on into the
dryer or the wet reservoir; in a dip it stays.

What happens
------------
In frost the water in the dip becomes an ice plug: the pressure does not build, and the safety valve, if there is none
before the plug, does not help the compressor. The brakes keep what is stored, so this is a warning.

What is not checked
-------------------
The true run of the line: a design says it with `run falling`, `level`, `rising` or `dipping`.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    hose pump.2 -> wet: bore 5/8 in, length 3 m, material metal-braid, run dipping

Good
----
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    hose pump.2 -> wet: bore 5/8 in, length 3 m, material metal-braid, run falling
"""

from collections.abc import Iterator, Mapping

from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided

_FAULTY = {"dipping": "has a dip, where water gathers", "rising": "rises, so its water runs back and stays in it"}


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    for line in evidence.discharge_lines:
        run = line.settings.get("run")
        if run in _FAULTY:
            yield not_met(line.name, line.span, f"the discharge line {line.title} {_FAULTY[run]}",
                        "lay it so that it falls all the way from the compressor")
        elif run is None:
            yield undecided(line.name, line.span, f"the design does not say how the discharge line {line.title} lies",
                            "`run falling` on it, if it falls all the way")
        else:
            yield met(line.name, line.span, f"the discharge line {line.title} is {run}")


RULE = Rule("discharge-line-dips", "the discharge line falls all the way", "warning", check)
