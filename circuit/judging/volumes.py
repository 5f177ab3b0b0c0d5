"""Which reservoirs and chambers count against each other, for the volume rule and the volume sheet."""

from typing import NamedTuple

from circuit.judging.evidence import Evidence
from circuit.model.devices import Device


class Share(NamedTuple):
    """Reservoirs and the chambers they serve. Volumes in m3.

    rule_total: True for the share a truck's clause judges (all brake reservoirs together), None for one circuit.
    """

    name: str
    tanks: tuple[Device, ...]
    chambers: tuple[Device, ...]
    rule_total: bool | None

    @property
    def tank_volume(self) -> float:
        return sum(float(tank.settings["volume"]) for tank in self.tanks)

    @property
    def chamber_volume(self) -> float:
        return sum(counted_volume(chamber) for chamber in self.chambers)

    @property
    def ratio(self) -> float:
        return self.tank_volume / self.chamber_volume if self.chamber_volume else float("inf")


def counted_volume(chamber: Device) -> float:
    """The volume a chamber counts with, m3: the lower of its table row and its published volume (571.121 S5.1.2.1)."""
    known = [v for v in (chamber.settings["rated-volume"], chamber.settings["holds"]) if v is not None]
    return float(min(known) if known else chamber.settings["full-volume"])


def counts(evidence: Evidence, tank: Device) -> tuple[bool, str]:
    """Whether a reservoir counts as brake volume, and why.

    Its plumbing must feed the brakes and its role must not be another; auxiliary air never counts (NHTSA
    interpretation nht72-2.37).
    """
    role = tank.settings["role"]
    if role in ("auxiliary", "regeneration", "parking"):
        return False, f"its role is {role}: never brake volume"
    if tank in evidence.service_reservoirs:
        return True, "feeds brake chambers"
    if tank in evidence.supply_reservoirs:
        return True, "supply reservoir ahead of the service reservoirs"
    return False, "its air reaches no brake"


def shares(evidence: Evidence) -> tuple[Share, ...]:
    """The whole vehicle first where the clause counts it whole (powered vehicles), then each store by itself.

    Reservoirs joined by ways that never shut are one store (our reading).
    """
    circuit = evidence.circuit
    found = []
    if not circuit.is_towed:
        counted = tuple(tank for tank in circuit.reservoirs if counts(evidence, tank)[0])
        if counted:
            found.append(Share("the vehicle", counted, evidence.chambers, True))
    for group in evidence.stores:
        names = {tank.name for tank in group}
        chambers = tuple(c for c in evidence.chambers if any(t.name in names for t in evidence.serving[c.name]))
        counted = tuple(tank for tank in group if counts(evidence, tank)[0])
        if counted and chambers:
            found.append(Share("+".join(tank.name for tank in counted), counted, chambers, None))
    return tuple(found)
