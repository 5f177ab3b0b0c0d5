"""What a script does, as inputs that change over time, and what it adds to the network: feeds, holes, torn lines,
rigs."""

from collections.abc import Iterable
from math import pi

from circuit.gas.flow import SHARP_HOLE, tube
from circuit.declaring.traits import Trait
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.model.places import NoSuchPlace, device_named, port_named
from circuit.sim.arrays import BOTH_WAYS
from circuit.sim.assemble import Timetable
from circuit.sim.network import Network, conductance_of, feeding_situation
from circuit.sim.script import Action, Engine, Script
from circuit.sim.sums import starting, variables
from circuit.units import ATMOSPHERE


class Course:
    """How one input goes: moments with the value and its rise a second from then on."""

    def __init__(self, value: float):
        self.moments: list[tuple[float, float, float]] = [(0.0, value, 0.0)]

    def at(self, time: float) -> float:
        start, value, rate = next(m for m in reversed(self.moments) if m[0] <= time)
        return value + rate * (time - start)

    def go(self, time: float, to: float, over: float) -> None:
        """From `time` on towards a value, whatever was under way."""
        value = self.at(time)
        self.moments = [moment for moment in self.moments if moment[0] < time]
        if over > 0.0:
            self.moments += [(time, value, (to - value) / over), (time + over, to, 0.0)]
        else:
            self.moments.append((time, to, 0.0))


def doubled(circuit: Circuit, actions: Iterable[Action]) -> frozenset[str]:
    """Devices that are read both open and shut, or whole and torn, because the script changes them."""
    names = set()
    for action in actions:
        if action.what in ("open", "shut", "burst"):
            device = device_named(circuit, action.place)
            if action.what == "burst" or Trait.SHUTS_BY_HAND in device.kind.traits:
                names.add(device.name)
    return frozenset(names)


class Plan:
    """Puts a script into a network. courses: by input slot."""

    def __init__(self, network: Network, script: Script, engine: Engine):
        self.network, self.script, self.circuit = network, script, network.circuit
        self.courses: dict[int, Course] = {}
        self.rigs: dict[str, int] = {}
        self.fed: dict[str, tuple[int, int]] = {}
        self._stand()
        self._turn(0.0, engine)
        for rig in script.rigs:
            self._attach(rig)
        self._feed_at_start()
        for action in sorted(script.actions, key=lambda a: a.at):
            self.act(action)

    # --- how it starts -----------------------------------------------------------------------------------------------

    def _stand(self) -> None:
        for (name, variable), slot in list(self.network.sums.inputs.items()):
            if name in self.circuit.by_name and variable in variables(self.circuit.by_name[name]):
                stands = self.circuit.by_name[name].kind.state(self.script.situation)
                self.network.sums.start[slot] = float(stands.get(variable, 0.0))
        for (name, variable), value in self.script.states.items():
            device = device_named(self.circuit, name)
            self.network.sums.start[self._slot(device, variable)] = value

    def _turn(self, time: float, engine: Engine, of_rated: float = 1.0) -> None:
        for slot, speed in self.network.sources.values():
            share = 0.0 if not engine.running else of_rated if engine.speed is None else engine.speed / speed
            self._set(slot, time, share)

    def _attach(self, rig) -> None:  # type: ignore[no-untyped-def]
        device, port = port_named(self.circuit, rig.place)
        node = self.network.node(self.circuit.space[device.name, port.number])
        if node < 0:
            raise NoSuchPlace(f"`{rig.place}` is open to the air: no rig can be attached there")
        if rig.bore and rig.length:
            conductance, _ = tube(rig.bore, rig.length)
            own = rig.volume + pi / 4 * rig.bore**2 * rig.length
        else:
            conductance, own = conductance_of(device, "conductance"), rig.volume
        self.rigs[rig.name] = self.network.new_node(rig.name, own)
        self.network.working[self.rigs[rig.name]] = True
        self.network.between(node, self.rigs[rig.name], conductance, (rig.name, "", ""), BOTH_WAYS)

    def _feed_at_start(self) -> None:
        for device in self.circuit.devices:
            if device.kind.source is not None:
                continue
            for port in device.kind.feeds(device.settings, self.script.situation):
                pressure = self.script.pressures.get(device.name, full_pressure(self.circuit))
                if pressure > ATMOSPHERE:
                    self._feed(f"{device.name}.{port}", pressure, 0.0, 0.0)

    # --- what is done ------------------------------------------------------------------------------------------------

    def act(self, action: Action) -> None:
        """Does one thing of a script."""
        what = action.what
        if what == "engine":
            self._turn(action.at, Engine(action.to > 0.0, action.size or None), action.to)
        elif what in ("press", "release", "move", "push", "pull"):
            self._move(action)
        elif what in ("open", "shut"):
            self._by_hand(action)
        elif what == "feed":
            self._feed(action.place, action.to, action.at, action.over, action.size)
        elif what == "stop feeding":
            device, port = port_named(self.circuit, action.place)
            if (fed := self.fed.get(f"{device.name}.{port.number}")) is not None:
                self._set(fed[1], action.at, 0.0)
        elif what == "uncouple":
            self._uncouple(device_named(self.circuit, action.place), action.at)
        elif what == "couple":
            self._couple(device_named(self.circuit, action.place), action.at)
        elif what == "burst":
            device = device_named(self.circuit, action.place)
            if not device.is_line:
                raise NoSuchPlace(f"`{action.place}` is not a line: it cannot burst")
            self._set(self.network.sums.slot((device.name, "whole"), 1.0), action.at, 0.0)
            torn = self._gate(device.name, "torn")
            self.network.broken(device, torn)
            self._set(torn, action.at, 1.0)
        elif what == "leak":
            device, port = port_named(self.circuit, action.place)
            node = self.network.node(self.circuit.space[device.name, port.number])
            for key in [key for key in self.network.sums.inputs if key[0] == action.place and key[1].startswith("leaks ")]:
                self._set(self.network.sums.inputs[key], action.at, 0.0)
            if action.size == 0.0:
                return
            gate = self._gate(action.place, f"leaks {len(self.network.elements)}")
            if node >= 0:
                self.network.hole(node, SHARP_HOLE * pi / 4 * action.size**2, gate, device.name)
            self._set(gate, action.at, 1.0)
        else:
            raise ValueError(f"a script cannot {what}")

    def _move(self, action: Action) -> None:
        device = device_named(self.circuit, action.place)
        kind = device.kind
        if action.what in ("push", "pull"):
            stands = kind.state("driving" if action.what == "push" else "parked")
            chosen = [action.variable] if action.variable else list(kind.when.get("parked", kind.rest))
            for variable in chosen:
                self._set(self._slot(device, variable), action.at, float(stands.get(variable, 0.0)))
                self._take_along(device, variable, action.at, float(stands.get(variable, 0.0)))
            return
        variable = action.variable or driven(device)
        to = starting(device, variable) if action.what == "release" else action.to
        self._course(self._slot(device, variable)).go(action.at, to, action.over)
        self._take_along(device, variable, action.at + action.over, to)

    def _take_along(self, device: Device, variable: str, at: float, to: float) -> None:
        """What a knob that a hand has put to 0 takes along."""
        for latch in device.kind.latches:
            if latch.taken_by == variable and to == 0.0:
                self._set(self._slot(device, latch.variable), at, 0.0)

    def _by_hand(self, action: Action) -> None:
        device = device_named(self.circuit, action.place)
        opens = action.what == "open"
        if Trait.SHUTS_BY_HAND in device.kind.traits:
            for state in ("open", "shut"):
                slot = self.network.sums.slot((device.name, f"stands {state}"), 0.0)
                self._set(slot, action.at, float((state == "open") == opens))
        else:
            self._set(self._slot(device, "open"), action.at, float(opens))

    def _feed(self, place: str, pressure: float, at: float, over: float, conductance: float = 0.0) -> None:
        device, port = port_named(self.circuit, place)
        where = f"{device.name}.{port.number}"
        if where not in self.fed:
            node = self.network.node(self.circuit.space[device.name, port.number])
            if node < 0:
                raise NoSuchPlace(f"`{place}` is open to the air: it cannot be fed")
            sums = self.network.sums
            self.fed[where] = (sums.slot((where, "pressure"), self.network.ambient), self._gate(where, "fed"))
            self.network.feeding(node, *self.fed[where], conductance or conductance_of(device, "conductance"),
                                 device.name)
        held, gate = self.fed[where]
        self._set(gate, at, 1.0)
        self._course(held).go(at, pressure + self.network.shift, over)
        situation = feeding_situation(device.kind, device.settings, port.number)
        if situation is not None and device.kind.source is None:
            self._stand_as(device, situation, at)

    def _uncouple(self, head: Device, at: float) -> None:
        ends = next((c.ends for c in self.circuit.couplings if head.name in c.ends), None)
        if ends is not None:
            for name in ends:
                self._open_at_end(self.circuit.by_name[name], at)
            self._part(ends, at)
            return
        for port in head.kind.ports:
            if (fed := self.fed.get(f"{head.name}.{port.number}")) is not None:
                self._set(fed[1], at, 0.0)
        self._stand_as(head, "parked", at)
        if not head.kind.feeds(head.settings, "driving") + head.kind.feeds(head.settings, "braking"):
            self._open_at_end(head, at)

    def _open_at_end(self, head: Device, at: float) -> None:
        """Lets the air of a head out that nothing in the drawing is coupled to: at the rear of what it belongs to."""
        if head.settings.get("seals") == "yes":
            return
        known = (head.name, "off") in self.network.sums.inputs
        gate = self._gate(head.name, "off")
        if known:
            return self._set(gate, at, 1.0)
        element = self.network.between(self.network.node(self.circuit.store(head)), -1,
                                       conductance_of(head, "conductance"), (head.name, "", ""))
        self.network.elements[element] = self.network.elements[element]._replace(gate=gate)
        self._set(gate, at, 1.0)

    def _couple(self, head: Device, at: float) -> None:
        """Undoes what uncoupling did."""
        ends = next((c.ends for c in self.circuit.couplings if head.name in c.ends), (head.name,))
        for name in ends:
            if (name, "off") in self.network.sums.inputs:
                self._set(self._gate(name, "off"), at, 0.0)
        if (ends[0], "coupled to") in self.network.sums.inputs:
            self._set(self.network.sums.slot((ends[0], "coupled to"), 1.0), at, 1.0)
            return
        for port in head.kind.ports:
            if (fed := self.fed.get(f"{head.name}.{port.number}")) is not None:
                self._set(fed[1], at, 1.0)
        self._stand_as(head, "driving", at)

    def _part(self, ends: tuple[str, str], at: float) -> None:
        """Shuts the way between two coupled heads."""
        gate = self.network.sums.slot((ends[0], "coupled to"), 1.0)
        nodes = {self.network.node(self.circuit.store(self.circuit.by_name[name])) for name in ends}
        for number, element in enumerate(self.network.elements):
            if {element.start, element.end} == nodes and element.gate == 0:
                self.network.elements[number] = element._replace(gate=gate)
        self._set(gate, at, 0.0)

    def _stand_as(self, device: Device, situation: str, at: float) -> None:
        for variable, value in device.kind.state(situation).items():
            self._set(self._slot(device, variable), at, float(value))

    # --- inputs ------------------------------------------------------------------------------------------------------

    def _slot(self, device: Device, variable: str) -> int:
        if variable not in variables(device):
            raise NoSuchPlace(f"`{device.title}` has no `{variable}`: it has "
                              + (", ".join(variables(device)) or "nothing that moves"))
        return self.network.sums.slot((device.name, variable), starting(device, variable))

    def _gate(self, name: str, variable: str) -> int:
        return self.network.sums.slot((name, variable), 0.0)

    def _course(self, slot: int) -> Course:
        if slot not in self.courses:
            self.courses[slot] = Course(self.network.sums.start[slot])
        return self.courses[slot]

    def _set(self, slot: int, time: float, value: float) -> None:
        self._course(slot).go(time, value, 0.0)

    def timetable(self, until: float) -> Timetable:
        """Segments between all moments at which an input changes its course."""
        moments = {m[0] for course in self.courses.values() for m in course.moments if m[0] < until}
        times = sorted(moments | {0.0, until})
        changes: list[list[tuple[int, float, float]]] = [[] for _ in times[:-1]]
        place = {time: number for number, time in enumerate(times)}
        for slot, course in sorted(self.courses.items()):
            for time, value, rate in course.moments:
                if time < until:
                    changes[place[time]].append((slot, value, rate))
        return Timetable(tuple(times), tuple(tuple(row) for row in changes))


def driven(device: Device) -> str:
    """The state variable that a foot or a hand moves: what differs while braking, or parked, or the first there is."""
    kind = device.kind
    for situation in ("braking", "parked"):
        if kind.when.get(situation):
            return next(iter(kind.when[situation]))
    known = variables(device)
    if not known:
        raise NoSuchPlace(f"`{device.title}` has nothing that a hand or a foot moves")
    return known[0]
