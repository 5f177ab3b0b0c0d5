"""Correct designs of many shapes, drawn by seed: what a checker that knows its trade finds nothing wrong with.

Each is put together from ways that the trade builds a thing (common practice, no source): how the air is made and dried, how it
is shared among the reservoirs, how each axle is applied and released, how the springs are held off and let on, what a towing
vehicle gives its trailer, which users of air there are. Nothing here knows a rule or a duty.
"""

from collections.abc import Callable, Sequence
from random import Random

_MOTOR = ("truck", "truck", "bus", "tractor", "tractor")
_USERS = {"horn": "horn horn", "seat": "consumer seat: use \"driver's seat\"", "doors": "consumer doors: use \"door engines\"",
          "ride": "consumer ride: use \"suspension bags\", volume 30 L"}
_TRAILERS = ("semi-trailer", "semi-trailer", "full-trailer", "dolly")


def shape(seed: int) -> str:
    """A whole design. About two in three are motor vehicles."""
    draw = Random(seed)
    sort = draw.choice(_MOTOR) if draw.random() < 0.65 else draw.choice(_TRAILERS)
    return _Trailer(draw, sort).text() if sort in _TRAILERS else _Motor(draw, sort).text()


class _Design:
    """Rows of a design under way, in the units and with the spread that were drawn for it."""

    def __init__(self, draw: Random, sort: str) -> None:
        self.draw, self.sort = draw, sort
        self.rows: list[str] = []
        self.bar = draw.random() < 0.4

    def add(self, *rows: str) -> None:
        self.rows += rows

    def pick(self, *ways: Callable[[], None]) -> None:
        """One of several ways to build the same thing."""
        self.draw.choice(ways)()

    def psi(self, value: float) -> str:
        return f"{value * 0.0689476:.1f} bar" if self.bar else f"{value:g} psi"

    def metres(self, low: float, high: float) -> str:
        return f"{self.draw.uniform(low, high):.1f} m"

    def tube(self, start: str, end: str, size: str, low: float, high: float) -> None:
        self.add(f"tube {start} -> {end}: size {size}, length {self.metres(low, high)}")

    def hose(self, start: str, end: str) -> None:
        self.add(f"hose {start} -> {end}: bore 3/8 in, length {self.metres(0.5, 1.2)}, ends moving")

    def tank(self, name: str, litres: int, role: str) -> None:
        self.add(f"reservoir {name}: volume {litres} L, rated {self.psi(150)}, role {role}",
                 f"drain {name}-drain: on {name}, placed lowest")

    def text(self) -> str:
        raise NotImplementedError

    def springs(self, names: Sequence[str], feed: str, service: str, name: str) -> None:
        """Lets the springs of these chambers on and off close by, with or without holding the two forces apart."""
        def quick() -> None:
            self.add(f"quick-release-valve {name}: deliveries {len(names)}")

        def apart() -> None:
            self.add(f"anti-compound-release {name}: deliveries {len(names)}")
            self.tube(service, f"{name}.4", "3/8 in", 0.3, 0.8)

        self.pick(quick, apart)
        self.tube(feed, f"{name}.1", "3/8 in", 0.5, 2)
        for each in names:
            self.hose(f"{name}.2", f"{each}.12")


class _Motor(_Design):
    """Truck, bus or tractor with two service circuits and spring brakes."""

    def text(self) -> str:
        draw = self.draw
        fronts = 2 if self.sort == "truck" and draw.random() < 0.25 else 1
        self.front = [f"front-{n + 1}" for n in range(fronts)] if fronts > 1 else ["front"]
        self.rear = [f"rear-{n + 1}" for n in range(draw.choice((1, 1, 2, 2, 3)))]
        self.one, self.two = draw.choice((("pri", "sec"), ("rear-tank", "front-tank"), ("tank-1", "tank-2")))
        tows = self.sort == "tractor"
        self.add(f"vehicle it: class {self.sort}, title \"Drawn {self.sort}\"{', tows yes' if tows else ''}", "rules us-federal")
        for place, axle in enumerate((*self.front, *self.rear)):
            self.add(f"axle {axle}: position {place + 1}")
        self._source()
        self._stores()
        self._pedal(tows)
        for axle in self.front:
            self._front_axle(axle)
        self._rear_axles()
        self._parking(tows)
        if tows:
            self._to_trailer()
        if self.sort == "bus" or draw.random() < 0.5:
            self._users()
        rears = " and ".join(self.rear)
        parked = " and ".join(axle for axle in self.rear if axle != self.tag)
        self.add(f"circuit primary: reservoirs {self.one}, axles {rears}",
                 f"circuit secondary: reservoirs {self.two}, axles {' and '.join(self.front)}",
                 f"circuit parking: role parking, reservoirs {self.one} and {self.two}, axles {parked}")
        return "\n".join(self.rows) + "\n"

    def _source(self) -> None:
        self.add(f"compressor pump: displacement {self.draw.choice((15, 18, 25)) + 5 * len(self.rear)} cfm",
                 f"governor gov: cut-in {self.psi(104)}, cut-out {self.psi(125)}")
        self.tube("gov.2", "pump.4", "1/4 in", 0.5, 2)
        self.pick(self._purge_tank, self._twin, self._wet_only)
        self.tank("wet", self.draw.choice((15, 20, 25)), "supply")
        self.tube("wet", "gov.1", "1/4 in", 0.3, 1)
        self.add(f"safety-valve relief: on wet, opens-at {self.psi(150)}")

    def _purge_tank(self) -> None:
        self.add(f"air-dryer dryer: heated {self.draw.choice(('yes', 'no'))}",
                 f"hose pump.2 -> dryer.1: bore 5/8 in, length {self.metres(3, 5)}, material metal-braid, run falling")
        self.tube("dryer.21", "wet", "5/8 in", 0.5, 2)
        self.tube("gov.2", "dryer.4", "1/4 in", 0.3, 1)
        self.tank("purge-tank", 5, "regeneration")
        self.tube("dryer.22", "purge-tank", "3/8 in", 0.3, 0.8)
        self.add(f"safety-valve purge-relief: on purge-tank, opens-at {self.psi(150)}")

    def _twin(self) -> None:
        self.add("twin-tower-dryer dryer", "plug gov.2",
                 f"hose pump.2 -> dryer.1: bore 5/8 in, length {self.metres(3, 5)}, material metal-braid, run falling")
        self.tube("dryer.21", "wet", "5/8 in", 0.5, 2)

    def _wet_only(self) -> None:
        self.add(f"hose pump.2 -> wet: bore 5/8 in, length {self.metres(3, 6)}, material metal-braid, run falling", "plug gov.2")

    def _stores(self) -> None:
        self.tank(self.one, 30 + 20 * len(self.rear), "service")
        self.tank(self.two, 25 * len(self.front) + (10 if self.sort == "tractor" else 0), "service")
        for tank in (self.one, self.two):
            self.add(f"low-pressure-switch {tank}-warning: on {tank}, on-below {self.psi(65)}", f"gauge {tank}-gauge: on {tank}",
                     f"check-valve {tank}-check")
            self.tube("wet", f"{tank}-check.1", "1/2 in", 0.2, 1)
            self.tube(f"{tank}-check.2", tank, "1/2 in", 0.3, 2)
        if self.draw.random() < 0.3:
            self.add(f"test-point {self.one}-test: on {self.one}")

    def _pedal(self, tows: bool) -> None:
        """Each circuit's delivery comes to a block, so that what is joined there needs no counting."""
        self.add("dual-foot-valve foot")
        self.tube(self.one, "foot.11", "1/2 in", 3, 6)
        self.tube(self.two, "foot.12", "1/2 in", 2, 5)
        self.add(f"manifold front-block: holes {len(self.front) + 3}")
        self.tube("foot.21", "rear-signal", "3/8 in", 0.2, 1)
        self.tube("foot.22", "front-block", "1/2 in", 0.2, 1)
        self.add("double-check-valve pedal-shuttle", f"stop-lamp-switch lamp: on either, on-above {self.psi(5)}",
                 f"manifold either: holes {3 if tows else 2}")
        self.tube("pedal-shuttle.2", "either", "3/8 in", 0.2, 0.5)
        self.tube("rear-signal", "pedal-shuttle.11", "3/8 in", 0.2, 1)
        self.tube("front-block", "pedal-shuttle.12", "3/8 in", 0.2, 1)

    def _front_axle(self, axle: str) -> None:
        left, right = f"{axle}-left", f"{axle}-right"
        kind = self.draw.choice(("chamber", "brake-cylinder"))
        for name, side in ((left, "left"), (right, "right")):
            self.add(f"{kind} {name}: type 20, stroke 2.25 in, axle {axle}, side {side}")

        def release() -> None:
            self.add(f"quick-release-valve {axle}-release")
            self.tube("front-block", f"{axle}-release.1", "1/2 in", 1, 3)
            self._wheels(f"{axle}-release.2", left, right)

        def relay() -> None:
            self.add(f"relay-valve {axle}-relay: deliveries 2")
            self.tube("front-block", f"{axle}-relay.4", "3/8 in", 1, 3)
            self.tube(self.two, f"{axle}-relay.1", "1/2 in", 1, 3)
            self._wheels(f"{axle}-relay.2", left, right)

        def straight() -> None:
            self.add(f"tee {axle}-tee")
            self.tube("front-block", f"{axle}-tee", "1/2 in", 1, 3)
            self._wheels(f"{axle}-tee", left, right)

        self.pick(release, relay, straight)

    def _wheels(self, source: str, *chambers: str) -> None:
        modulated = self.draw.random() < 0.3
        for each in chambers:
            if modulated:
                self.add(f"antilock-modulator {each}-modulator")
                self.tube(source, f"{each}-modulator.1", "1/2 in", 0.3, 0.8)
                self.hose(f"{each}-modulator.2", each)
            else:
                self.hose(source, each)

    def _rear_axles(self) -> None:
        """One relay for all rear axles, or one for each."""
        self.tag = self.rear[-1] if len(self.rear) > 1 and self.draw.random() < 0.3 else ""
        groups = [self.rear] if len(self.rear) == 1 or self.draw.random() < 0.5 else [[axle] for axle in self.rear]
        self.relays: list[tuple[str, list[str]]] = []
        self.add(f"manifold rear-signal: holes {len(groups) + 2}")
        for place, group in enumerate(groups):
            relay = f"relay-{place + 1}"
            wheels = [(f"{axle}-{side}", axle, side) for axle in group for side in ("left", "right")]
            self.add(f"relay-valve {relay}: deliveries {len(wheels) + 1}")
            self.tube("rear-signal", f"{relay}.4", "3/8 in", 3, 8)
            self.tube(self.one, f"{relay}.1", "5/8 in", 0.5, 2)
            with_springs = []
            for name, axle, side in wheels:
                if axle == self.tag:
                    self.add(f"chamber {name}: type 30, stroke 2.5 in, axle {axle}, side {side}")
                else:
                    self.add(f"spring-chamber {name}: type 30/30, stroke 2.5 in, axle {axle}, side {side}")
                    with_springs.append(name)
                self.hose(f"{relay}.2", name if axle == self.tag else f"{name}.11")
            if with_springs:
                self.relays.append((relay, with_springs))
            else:
                self.add(f"plug {relay}.2")

    def _parking(self, tows: bool) -> None:
        if tows:
            self.add(f"dash-module dash: pops-out-at {self.psi(30)}, trailer-pops-out-at {self.psi(45)}")
            self.tube(self.one, "dash.primary", "3/8 in", 1, 3)
            self.tube(self.two, "dash.secondary", "3/8 in", 1, 3)
            feed = "dash.park"
        else:
            self.add("double-check-valve park-shuttle", f"park-valve park: pops-out-at {self.psi(30)}")
            self.tube(self.one, "park-shuttle.11", "3/8 in", 1, 3)
            self.tube(self.two, "park-shuttle.12", "3/8 in", 1, 3)
            self.tube("park-shuttle.2", "park.1", "3/8 in", 0.5, 2)
            feed = "park.2"
        self.add("spring-brake-modulating-valve modulator")
        self.tube(feed, "modulator.1", "3/8 in", 3, 7)
        self.tube(self.one, "modulator.42", "1/4 in", 0.5, 2)
        self.tube("front-block", "modulator.41", "1/4 in", 3, 7)
        if len(self.relays) > 1:
            self.add(f"manifold park-block: holes {len(self.relays) + 1}")
            self.tube("modulator.2", "park-block", "1/2 in", 0.3, 1)
        for place, (relay, wheels) in enumerate(self.relays):
            feed = "park-block" if len(self.relays) > 1 else "modulator.2"
            self.springs(wheels, feed, f"{relay}.2", f"spring-release-{place + 1}")
            if not any(f"{relay}.2 -> spring-release" in row for row in self.rows):
                self.add(f"plug {relay}.2")

    def _to_trailer(self) -> None:
        self.add(f"tractor-protection-valve protection: opens-at {self.psi(45)}, shuts-at {self.psi(40)}")
        signal = "either"
        if self.draw.random() < 0.5:
            self.add("double-check-valve hand-shuttle", "trailer-hand-valve hand")
            self.tube(signal, "hand-shuttle.11", "3/8 in", 0.2, 0.5)
            self.tube(self.two, "hand.1", "3/8 in", 0.5, 2)
            self.tube("hand.2", "hand-shuttle.12", "3/8 in", 0.2, 1)
            signal = "hand-shuttle.2"
        self.tube("dash.trailer", "protection.1", "1/2 in", 3, 7)
        self.tube(signal, "protection.11", "3/8 in", 3, 7)
        for port, name, line in (("2", "supply-head", "supply"), ("21", "control-head", "control")):
            self.add(f"coupling-hose protection.{port} -> {name}: bore 3/8 in, length 4 m, form coil",
                     f"coupling-head {name}: line {line}, end rear")

    def _users(self) -> None:
        """Users of air behind a protection valve, with or without a reservoir of their own."""
        self.add(f"pressure-protection-valve user-guard: opens-at {self.psi(85)}, shuts-at {self.psi(75)}")
        self.tube("wet", "user-guard.1", "1/2 in", 0.2, 1)
        users = self.draw.sample(("horn", "seat", "doors", "ride"), 2)
        if self.draw.random() < 0.6:
            self.tank("user-tank", self.draw.choice((20, 30, 40)), "auxiliary")
            source = "user-tank"
        else:
            self.add("manifold user-block: holes 3")
            source = "user-block"
        self.tube("user-guard.2", source, "1/2 in", 0.5, 2)
        for each in users:
            self.add(_USERS[each])
            self.tube(source, each, "3/8 in" if each == "ride" else "1/4 in", 1, 4)


class _Trailer(_Design):
    """Semi-trailer, full trailer or dolly with spring brakes on all axles or all but one."""

    def text(self) -> str:
        draw = self.draw
        count = {"semi-trailer": (1, 2, 3), "full-trailer": (2, 3), "dolly": (1,)}[self.sort]
        self.axles = [f"axle-{n + 1}" for n in range(draw.choice(count))]
        self.add(f"vehicle it: class {self.sort}, title \"Drawn {self.sort}\"", "rules us-federal")
        for place, axle in enumerate(self.axles):
            self.add(f"axle {axle}: position {place + 1}")
        filters = draw.random() < 0.7
        sources = {}
        for line in ("supply", "control"):
            self.add(f"coupling-head {line}-head: line {line}, end front")
            if filters:
                self.add(f"line-filter {line}-filter: on {line}-head")
            sources[line] = f"{line}-filter.2" if filters else f"{line}-head"
        groups = [self.axles] if len(self.axles) == 1 or draw.random() < 0.4 else [[axle] for axle in self.axles]
        tanks = 1 if draw.random() < 0.5 else len(groups)
        onwards = self.sort == "dolly"
        self.add(f"manifold signal: holes {len(groups) + 1 + onwards}", f"manifold line: holes {2 + onwards}",
                 "trailer-spring-brake-valve springs: deliveries 1", f"manifold stores: holes {tanks + 1}",
                 f"manifold parks: holes {len(groups) + 1}")
        self.tube("springs.spring", "parks", "1/2 in", 0.2, 0.5)
        self.tube("springs.reservoir", "stores", "1/2 in", 0.2, 0.5)
        self.tube(sources["supply"], "line", "1/2 in", 1, 8)
        self.tube("line", "springs.1", "1/2 in", 0.2, 1)
        self.tube(sources["control"], "signal", "1/2 in", 1, 8)
        for n in range(tanks):
            self.tank(f"store-{n + 1}", 30 * len(self.axles) if tanks == 1 else 35 * len(groups[n]), "service")
            self.tube("stores", f"store-{n + 1}", "1/2 in", 0.3, 3)
        for n, group in enumerate(groups):
            wheels = [f"{axle}-{side}" for axle in group for side in ("left", "right")]
            self.add(f"relay-valve relay-{n + 1}: deliveries {len(wheels) + 1}")
            self.tube("signal", f"relay-{n + 1}.4", "3/8 in", 0.5, 3)
            self.tube(f"store-{min(n + 1, tanks)}", f"relay-{n + 1}.1", "5/8 in", 0.4, 1)
            for axle in group:
                for side in ("left", "right"):
                    self.add(f"spring-chamber {axle}-{side}: type 30/30, stroke 2.5 in, axle {axle}, side {side}")
                    self.hose(f"relay-{n + 1}.2", f"{axle}-{side}.11")
            self.springs(wheels, "parks", f"relay-{n + 1}.2", f"spring-release-{n + 1}")
            if not any(f"relay-{n + 1}.2 -> spring-release" in row for row in self.rows):
                self.add(f"plug relay-{n + 1}.2")
        if onwards:
            for line, source in (("supply", "line"), ("control", "signal")):
                self.add(f"cut-out-cock {line}-cock: state open, vented yes", f"coupling-head {line}-rear: line {line}, end rear")
                self.tube(source, f"{line}-cock.1", "1/2 in", 0.5, 2)
                self.add(f"fit {line}-cock.2 -> {line}-rear")
        stores = " and ".join(f"store-{n + 1}" for n in range(tanks))
        axles = " and ".join(self.axles)
        self.add(f"circuit service: reservoirs {stores}, axles {axles}", f"circuit parking: role parking, axles {axles}")
        return "\n".join(self.rows) + "\n"
