"""Pieces that kinds of many sorts share: settings, sources of values, and openings."""

from collections.abc import Callable

from circuit.declaring.kind import OUTSIDE, Failure, Passage, Port, Pressures, Setting, Settings, State, Store, Typical
from circuit.declaring.traits import Role

COMMON = "common practice, no source"
FROM_MEMORY = "typical part, from memory"


def conductance(text: str, low: str = "", high: str = "") -> Setting:
    """How easily air passes when fully open: the sonic conductance of ISO 6358. low, high: where a sort of valve is known to
    lie, else the range of its dimension."""
    return Setting("conductance", "conductance", "sonic conductance (ISO 6358) when fully open",
                   Typical(text, FROM_MEMORY, low, high, "log" if low else ""))


def feeding(own: str, other: str) -> Callable[[Pressures, Settings, State], float]:
    """How a shuttle lets port `own` feed on: unless `other`, on its far side, is the higher by half of `shifts-at`."""
    return lambda p, s, x: p[own] - p[other] + s["shifts-at"] / 2


def returning(own: str, other: str, out: str) -> Callable[[Pressures, Settings, State], float]:
    """How a shuttle lets air of `out` go back by port `own`: as it feeds, and only while `out` is above `other` too.

    So air never passes from one source by the outlet into the other, however near to each other they are.
    """
    return lambda p, s, x: min(p[own] - p[other] + s["shifts-at"] / 2, p[out] - p[other])


def cavity(litres: float) -> Callable[[Settings, float], float]:
    """The volume of a valve's inside, the same at every pressure. litres: L."""
    return lambda settings, pressure: litres * 1e-3


THREAD = cavity(0.002)
PILOT = cavity(0.005)
SMALL = cavity(0.01)
MEDIUM = cavity(0.02)
SIGNAL = cavity(0.03)
LARGE = cavity(0.05)
ROOMY = cavity(0.08)
VESSEL = cavity(0.1)
"""The insides of parts that say nothing of theirs, from 2 mL behind a gauge's thread to 0.1 L in a bowl; our choice, no
source: small beside the lines that lead there."""
OPEN = 1e5
SHUT = -OPEN
"""Pa that push a passage open or shut which a hand, a coil or a latch moves, whatever the pressures; our choice, far beyond
the 15 kPa over which the simulation opens a valve."""
TINY = 0.005
SLIGHT = 0.01
MODEST = 0.02
STRONG = 0.05
HEAVY = 0.1
"""How far a leak stands open, as a share of wide open; our choice, no source. What stands wider is no leak."""
ON = Setting("on", "reference", "the space it is screwed into")
AXLE = Setting("axle", "name", "the axle it works on", required=True)
SIDE = Setting("side", "word", "left or right, seen by the driver", choices=("left", "right"), required=True)


def deliveries(text: str) -> Setting:
    """How many holes DELIVERY_BY_COUNT has where a design does not say."""
    return Setting("deliveries", "count", "how many holes the delivery port has", Typical(text, COMMON))


def lap(text: str) -> Setting:
    """By how much a valve that follows a signal must be above it before it vents."""
    return Setting("lap", "difference", "difference between feeding and venting", Typical(text, COMMON))


DELIVERIES = deliveries("2")
SUPPLIES = Setting("supplies", "count", "how many holes the supply port has", Typical("1", COMMON))
AHEAD = Setting("opens-at", "difference", "how much the signal stays ahead of the delivery",
                Typical("0.25 bar", COMMON + ": 0.15 to 0.4 bar", "0.15 bar", "0.4 bar"))

SUPPLY = Port("1", Role.SUPPLY, ("supply",))
SUPPLY_BY_COUNT = SUPPLY._replace(holes_from="supplies")
DELIVERY = Port("2", Role.DELIVERY, ("delivery",))
DELIVERY_BY_COUNT = DELIVERY._replace(holes_from="deliveries")
EXHAUST = Port("3", Role.EXHAUST, ("exhaust",))
CONTROL = Port("4", Role.CONTROL, ("control", "service"))

OPEN_WAY = Passage("1", "2", "always open", both_ways=True)
ONE_VOLUME = Store("1", lambda settings, pressure: settings["volume"])
"""The air of a thing that is one space of `volume`."""

LEAKS_AT_THREAD = Failure("leaks", "leaks at its thread", opens=(("4", OUTSIDE),), share=TINY)
SUPPLY_LEAKS = Failure("leaks-supply", "leaks from supply to exhaust while released", opens=(("1", "3"),), share=MODEST)
SUPPLY_LEAKS_OUT = Failure("leaks", "leaks at the exhaust", opens=(("1", "3"),), share=SLIGHT)
DELIVERY_LEAKS_OUT = Failure("leaks", "leaks at the exhaust", opens=(("2", "3"),), share=SLIGHT)
DOES_NOT_APPLY = Failure("does-not-apply", "the piston sticks up", shuts=(("1", "2"),))
DOES_NOT_RELEASE = Failure("does-not-release", "the exhaust stays shut", shuts=(("2", "3"),))
EXHAUST_ICED = Failure("exhaust-iced", "ice or dirt shuts the exhaust: what it works does not let go", shuts=(("2", "3"),))
CONTROL_LEAKS = Failure("control-leaks", "the seal of its piston is worn: signal air leaks to the exhaust while applied",
                        opens=(("4", "3"),), share=MODEST)
DELIVERY_LEAKS = Failure("leaks-delivery", "leaks from delivery to exhaust while applied", opens=(("2", "3"),), share=MODEST)
DOES_NOT_VENT = Failure("does-not-vent", "pulled, and its plunger sticks: what it feeds keeps its air", shuts=(("2", "3"),))
SENSOR_LOST = Failure("sensor-lost", "a wheel sensor, its ring or wire is bad: that wheel can lock, and the lamp stays on",
                      proof="read the fault code, and the sensor's voltage while the wheel is turned by hand")
SEAT_LEAKS = Failure("seat-leaks", "does not seal when shut: a burst behind it goes on emptying what it guards",
                     opens=(("1", "2"),), share=SLIGHT)
SPENT = Failure("desiccant-spent", "the desiccant is oiled or used up: water goes on into the reservoirs",
                proof="open the drains behind it after a day's work: no more than a few drops, and no milky oil, may come")
HEATER_DEAD = Failure("heater-dead", "its heater is dead: the purge valve freezes in frost",
                      proof="measure its heater's resistance cold, and feel that the housing grows warm with the key on")
OPENS_LOW = Failure("opens-low", "its spring has settled: it opens and shuts lower, and keeps less",
                    scales={"opens-at": 0.75, "shuts-at": 0.75})
STUCK_SHUT = Failure("stuck-shut", "nothing passes", shuts=(("1", "2"),))
