"""What makes and treats the air has to do: be stopped, be started again, be purged; and what stores it, to fill."""

from collections.abc import Iterator

from circuit.declaring.traits import Role, Trait
from circuit.duties.cases import EMPTY, Cases
from circuit.duties.duty import Duty, Found, judged, undecided
from circuit.model.settling import after
from circuit.model.devices import Device


def stopped(cases: Cases) -> Iterator[Found]:
    """The governor's signal comes to the unloader of each compressor at cut-out."""
    for pump, spaces in _unloaders(cases):
        if not spaces:
            yield undecided(pump, "how it is stopped: it has no signal port, and nothing written lets its air off")
        elif not cases.circuit.having(Trait.GOVERNS):
            yield judged(pump, False, cases.resting.says, "there is no governor: nothing stops it")
        else:
            most = max(cases.gauge(cases.resting.air, space) for space in spaces)
            yield judged(pump, most > EMPTY, cases.resting.says,
                         "the governor's signal works its unloader" if most > EMPTY else "nothing works its unloader")


def pumps(cases: Cases) -> Iterator[Found]:
    """Between cut-out and cut-in the signal is gone, and the compressor works."""
    for pump, spaces in _unloaders(cases):
        if spaces and cases.circuit.having(Trait.GOVERNS):
            again = after(cases.resting.air, cases.driving.air)
            most = max(cases.gauge(again, space) for space in spaces)
            yield judged(pump, most < EMPTY, "below cut-in", "its unloader is let go" if most < EMPTY
                         else "its unloader is still worked: it does not pump")


def purges(cases: Cases) -> Iterator[Found]:
    """The dryer's purge is worked when the compressor rests, and shut again."""
    for dryer in cases.circuit.having(Trait.DRIES):
        ports = dryer.kind.ports_as(Role.CONTROL)
        if not ports or not ports[0].required or not cases.circuit.having(Trait.GOVERNS):
            continue
        space = cases.circuit.space_of(dryer, ports[0].number)
        on = cases.gauge(cases.resting.air, space)
        off = cases.gauge(after(cases.resting.air, cases.driving.air), space)
        yield judged(dryer, on > EMPTY > off, cases.resting.says, "its purge is worked, and let go below cut-in"
                     if on > EMPTY > off else f"nothing works port {ports[0].number}: it never purges" if on <= EMPTY
                     else f"port {ports[0].number} is never let go: it purges at all times")


def fills(cases: Cases) -> Iterator[Found]:
    for tank in cases.circuit.reservoirs:
        air, space = cases.evidence.filling, cases.circuit.store(tank)
        if cases.evidence.sources:
            yield judged(tank, cases.gauge(air, space) > EMPTY, "filled from empty", f"it comes to {cases.says(air, space)}")


def serves(cases: Cases) -> Iterator[Found]:
    """A service reservoir feeds a brake, or what works one."""
    circuit, air = cases.circuit, cases.braking.air
    goals = [circuit.service_space(chamber) for chamber in cases.evidence.chambers]
    goals += [circuit.store(head) for head in cases.evidence.rear_heads if head.settings["line"] == "control"]
    working = air.commanding(goals)
    for tank in circuit.reservoirs_for("service"):
        if cases.evidence.chambers:
            works = circuit.store(tank) in working or bool(cases.evidence.served[tank.name])
            yield judged(tank, works, cases.braking.says, "it feeds brakes" if works else "no brake takes its air")


def keeps(cases: Cases) -> Iterator[Found]:
    """A reservoir of the brakes keeps its air when another is lost."""
    circuit = cases.circuit
    brakes = circuit.reservoirs_for("service", "parking")
    for tank in brakes:
        for other in circuit.reservoirs:
            if circuit.store(other) in cases.evidence.zone(circuit.store(tank)):
                continue
            if circuit.store(tank) in cases.evidence.emptied(circuit.store(other)):
                yield judged(tank, False, f"with {other.name} lost", "it empties too")
                break
        else:
            if len(circuit.reservoirs) > 1:
                yield judged(tank, True, "with each other reservoir lost in turn", "it keeps its air")


def _unloaders(cases: Cases) -> Iterator[tuple[Device, list[int]]]:
    """Each compressor that a signal rests, with the ports that take it; one whose air is let off needs none."""
    for pump in cases.circuit.having(Trait.COMPRESSES):
        delivered = cases.evidence.zone(cases.circuit.space_of(pump, "2"))
        if not any(cases.circuit.store(unit) in delivered for unit in cases.circuit.having(Trait.BLOWS_OFF)):
            yield pump, [cases.circuit.space_of(pump, port.number) for port in pump.kind.ports_as(Role.CONTROL)]


DUTIES = (
    Duty("compressor-stopped", "source of air", "be stopped at cut-out", stopped,
         "join a governor's signal to its unloader", explained_by=("governor-misplaced", "port-open")),
    Duty("compressor-started", "source of air", "pump again below cut-in", pumps,
         "take its unloader's signal from a governor that lets it go", explained_by=("governor-misplaced", "exhaust-blocked")),
    Duty("dryer-purges", "treatment of air", "purge each time the compressor rests", purges,
         "join its control port to the governor's signal", explained_by=("dryer-without-purge", "port-open")),
    Duty("reservoir-fills", "reservoir", "fill", fills, "lead air to it", explained_by=(
        "reservoir-not-filled", "part-backwards", "port-open", "reservoir-and-springs-crossed", "coupling-lines-crossed",
        "stored-air-escapes", "control-and-supply-crossed")),
    Duty("service-reservoir-serves", "service reservoir", "feed a brake", serves,
         "feed a brake valve or a relay from it, or give it the role it has", explained_by=(
             "circuit-not-as-declared", "brake-not-applied", "reservoir-not-filled", "part-backwards", "port-open")),
    Duty("reservoir-keeps", "reservoir of the brakes", "keep its air when another reservoir is lost", keeps,
         "put a check valve into its inlet", explained_by=("reservoir-not-held", "circuits-not-separate", "part-backwards",
                                                         "auxiliary-not-protected", "parking-reservoir-not-held")),
)
