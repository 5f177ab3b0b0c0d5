"""Plastic tube lies where it is too hot for it.

Why
---
Plastic air-brake tube is made for 93 degrees Celsius at most. The compressor's head gives its air at 150 to 220
degrees, and an exhaust pipe or a turbocharger is far above that.

What happens
------------
The tube softens, swells and lets go all at once; whatever it carried is lost.

What is not checked
-------------------
How hot it really gets, and heat that the design does not mention: it says so with `near heat`. Heat shields are not
known.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    tube pump.2 -> wet: size 5/8 in, length 3 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    hose pump.2 -> wet: bore 5/8 in, length 3 m, material metal-braid
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    plastic = circuit.having(Trait.MELTS)
    hot = evidence.discharge_lines
    cool = 0
    for line in plastic:
        if line in hot:
            compressor = circuit.having(Trait.COMPRESSES)[0]
            yield not_met(line.name, line.span, f"{line.title} carries the compressor's hot air, and it is plastic",
                        "use metal pipe or a hose with metal braid up to the first reservoir or the dryer",
                        also=((compressor.span, "the compressor"),))
        elif line.settings["near"] == "heat":
            yield not_met(line.name, line.span, f"{line.title} passes heat, and it is plastic",
                        "lead it elsewhere, or use metal pipe or a hose made for the heat")
        else:
            cool += 1
    if cool:
        yield met("plastic tubes", circuit.vehicle.span,
                  f"{cool} plastic tubes: none is said to pass heat, none carries the compressor's hot air")


RULE = Rule("plastic-tube-too-hot", "plastic tube is kept from heat", "error", check)
