"""What every valve has to do whatever it is for: its inlets get air, its signal ports get a signal that comes and goes."""

from collections.abc import Iterator

from circuit.declaring.kind import Port
from circuit.declaring.traits import Group, Role, Trait
from circuit.duties.cases import EMPTY, PLAY, Cases
from circuit.duties.duty import Duty, Found, judged
from circuit.model.devices import SPACE_OUTSIDE, Device

_WORK = (Group.GUARD, Group.DRIVER, Group.MODULATE, Group.TOWING)


def brake_inlets(cases: Cases) -> Iterator[Found]:
    yield from _fed(cases, Role.SUPPLY, brakes=True)


def other_inlets(cases: Cases) -> Iterator[Found]:
    yield from _fed(cases, Role.SUPPLY, brakes=False)


def signals(cases: Cases) -> Iterator[Found]:
    yield from _fed(cases, Role.CONTROL, brakes=True)
    yield from _fed(cases, Role.CONTROL, brakes=False)


def signal_goes(cases: Cases) -> Iterator[Found]:
    """The signal of a relay is empty in some state of hands and feet."""
    for relay in cases.circuit.having(Trait.REPEATS_CONTROL):
        signal = relay.kind.port("control")
        assert signal is not None
        least, most = cases.range_of(cases.circuit.space_of(relay, signal.number), cases.handled)
        if most > EMPTY:
            yield judged(relay, least < most - PLAY, "in every state of hands and feet",
                         f"port {signal.number} has air at all times" if least > EMPTY
                         else f"port {signal.number} gets it")


def own_supply(cases: Cases) -> Iterator[Found]:
    """A relay's supply is a store: charged while nothing is asked, and not the line that is its signal."""
    for relay in cases.circuit.having(Trait.REPEATS_CONTROL):
        supply, signal = relay.kind.port("1"), relay.kind.port("control")
        assert supply is not None and signal is not None
        ways = [cases.circuit.space_of(relay, port.number) for port in (supply, signal)]
        if SPACE_OUTSIDE in ways:
            continue
        air, down = cases.driving.air, cases.braking.air
        same = ways[0] in cases.evidence.zone(ways[1])
        signalled = cases.gauge(down, ways[0]) > EMPTY > cases.gauge(air, ways[0])
        if same or signalled:
            yield judged(relay, False, cases.driving.says, f"port {supply.number} is fed by its own signal" if same
                         else f"port {supply.number} has air only while the pedal is down: it is fed by a signal")
        elif cases.gauge(air, ways[0]) > EMPTY:
            yield judged(relay, True, cases.driving.says, f"port {supply.number} stands at {cases.says(air, ways[0])}")


def right_way(cases: Cases) -> Iterator[Found]:
    """A valve that air may pass either way has its supply port towards the store, though it works at rest when turned."""
    circuit = cases.circuit
    for valve in circuit.devices:
        ways = circuit.ways_of.get(valve.name, ())
        ports = [valve.kind.ports_as(role) for role in (Role.SUPPLY, Role.DELIVERY, Role.EXHAUST)]
        if valve.is_line or [len(some) for some in ports] != [1, 1, 1] or not any(way.passage.both_ways for way in ways):
            continue
        supply, delivery = (circuit.space_of(valve, some[0].number) for some in ports[:2])
        if SPACE_OUTSIDE not in (supply, delivery) and supply != delivery:
            ahead = supply in cases.evidence.could_reach(frozenset({delivery}))
            behind = delivery in cases.evidence.could_reach(frozenset({supply}))
            yield judged(valve, ahead or not behind, "in every state", f"port {ports[0][0].number} is towards the store" if ahead
                         else f"air comes to it at port {ports[1][0].number}" if behind else "no air comes to either side")


def _fed(cases: Cases, role: Role, brakes: bool) -> Iterator[Found]:
    """Ports that something has to come to, in whatever state."""
    circuit = cases.circuit
    for device in circuit.devices:
        if device.is_line or device.has(Trait.COUPLES_VEHICLES) or (device.kind.group in _WORK) is not brakes:
            continue
        due = [port for port in device.kind.ports_as(role) if _is_due(cases, device, port)]
        lacking = [port for port in due if cases.range_of(circuit.space_of(device, port.number))[1] < EMPTY]
        if due:
            many = "s" if len(lacking or due) > 1 else ""
            names = " and ".join(port.number for port in lacking or due)
            yield judged(device, not lacking, "in any state of hands, feet and switches",
                         f"no air ever comes to port{many} {names}" if lacking else f"port{many} {names}: air comes to it")


def _is_due(cases: Cases, device: Device, port: Port) -> bool:
    key = (device.name, port.number)
    return cases.circuit.space[key] != SPACE_OUTSIDE and (
        port.required or (key not in cases.circuit.plugged and bool(cases.circuit.used.get(key))))


_UNFED = ("port-open", "part-backwards", "reservoir-not-filled", "brake-not-applied", "governor-misplaced",
          "dryer-without-purge", "spring-not-held-off", "signals-exchanged", "control-and-supply-crossed",
          "coupling-lines-crossed", "stored-air-escapes", "heads-crossed", "towing-vehicle-not-protected",
          "trailer-signal-from-one-circuit")

DUTIES = (
    Duty("brake-valve-fed", "valve", "get air at each inlet", brake_inlets, "lead air to that port",
         explained_by=_UNFED),
    Duty("valve-fed", "fitting or auxiliary valve", "get air at each inlet", other_inlets, "lead air to that port", "warning",
         _UNFED),
    Duty("valve-right-way", "valve that air passes either way", "stand with its supply port towards the store", right_way,
         "exchange what is joined to its supply and delivery ports", explained_by=("part-backwards",)),
    Duty("signal-comes", "valve with a signal port", "get a signal at each signal port", signals,
         "join that port to what should command it", explained_by=_UNFED),
    Duty("signal-goes", "relay", "get a signal that comes and goes", signal_goes,
         "take its signal from what a hand or foot works", explained_by=("brake-not-released", *_UNFED)),
    Duty("relay-fed-from-store", "relay", "be fed from a store, not from a signal", own_supply,
         "lead a line from a reservoir to its supply port", explained_by=_UNFED),
)
