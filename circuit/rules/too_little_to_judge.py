"""So little of the vehicle is written that what is not found means nothing.

Why
---
A rule that finds no brake has nothing to object to. A design without brakes, without parking brakes or without air must not
look like one that keeps every rule.

What happens
------------
The verdict would say nothing is wrong of a vehicle that cannot stop, or cannot be parked.

What is not checked
-------------------
Whether what is missing was left out of the file or of the vehicle.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    park-valve park
    tube dry -> park.1: size 3/8 in, length 2 m
    spring-chamber left: type 30/30, stroke 2.5 in, axle front, side left
    tube foot.2 -> left.service: size 3/8 in, length 2 m
    tube park.2 -> left.spring: size 3/8 in, length 2 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.causes import listed, loose_ends
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.circuit import Circuit

SOURCES = "a source of air (a compressor, or a head that it comes to)"
STORES = "a service reservoir"
BRAKES = "service brakes (a chamber at each wheel)"
PEDAL = "a foot valve"
PARKING = "a parking brake (spring chambers, or another lock, and what lets them on)"
HEADS = "a supply head and a control head at the front"
AXLES = "axles"


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    vehicle = circuit.vehicle
    missing = [what for what, there in _parts(circuit) if not there]
    if missing:
        yield not_met(vehicle.name, vehicle.span, f"there is not enough here to judge a {vehicle.vehicle_class} by: missing "
                      f"{listed(missing)}", "write down what the vehicle has; what it has not, it needs",
                      also=loose_ends(circuit))
    else:
        yield met(vehicle.name, vehicle.span, f"{vehicle.name} has air, stores, service and parking brakes to be judged")


def _parts(circuit: Circuit) -> Iterator[tuple[str, bool]]:
    """What a vehicle of its class cannot be without, and whether something of the kind is written."""
    heads = {head.settings["line"] for head in circuit.having(Trait.COUPLES_VEHICLES) if head.settings["end"] == "front"}
    yield AXLES, bool(circuit.axles)
    yield STORES, bool(circuit.reservoirs_for("service"))
    yield BRAKES, bool(circuit.having(Trait.SERVICE_ACTUATOR)) or any(axle.hydraulic for axle in circuit.axles)
    if circuit.is_towed:
        yield HEADS, {"supply", "control"} <= heads
    else:
        yield SOURCES, bool(circuit.having(Trait.COMPRESSES)) or bool(heads)
        yield PEDAL, bool(circuit.having(Trait.SERVICE_CONTROL))
        springs = circuit.having(Trait.SPRING_ACTUATOR)
        yield PARKING, bool(circuit.having(Trait.LOCKS) or (springs and circuit.having(Trait.PARK_CONTROL))
                            or any(axle.by_cable for axle in circuit.axles))


RULE = Rule("too-little-to-judge", "there is enough here to judge", "error", check, missing=True)
