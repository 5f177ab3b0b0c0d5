"""The volume sheet: chambers, reservoirs, what they are to each other, and what one application takes. No simulation."""

from math import isfinite
from typing import NamedTuple

from circuit.clauses import Clause
from circuit.gas.chamber import push
from circuit.judging.evidence import Evidence
from circuit.judging.storage import Draw, draws, spring_draws
from circuit.judging.volumes import Share, counted_volume, counts, shares
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.studies.holding import asked
from circuit.units import ATMOSPHERE, gauge, to_si

FORCE_AT = to_si("90 psi", "pressure")
QUESTION = "reservoirs-too-small"
APPLICATIONS = (1, 5, 8)
"""After how many full applications it is told what is left."""


class CountedChamber(NamedTuple):
    """stroke: m. counts: m3 at full stroke, and why: where that is from. push: N, pressure times area."""

    name: str
    axle: str
    side: str
    type: str
    stroke: float
    counts: float
    why: str
    push: float


class CountedReservoir(NamedTuple):
    """volume: m3. counts: whether its air is brake volume, and why."""

    name: str
    role: str
    volume: float
    counts: bool
    why: str


class Ratio(NamedTuple):
    """Reservoirs and the chambers they serve, m3. ratio: None without chambers. asked, needed: what a clause wants, m3 of
    reservoirs, None where none is held to it. left: shares of gauge pressure after APPLICATIONS, by volumes alone. parts:
    the names of all."""

    serves: str
    reservoirs: float
    chambers: float
    ratio: float | None
    asked: float | None
    needed: float | None
    left: tuple[float, ...]
    parts: tuple[str, ...]

    @property
    def margin(self) -> float | None:
        """m3 to spare."""
        return None if self.needed is None else self.reservoirs - self.needed


class Taken(NamedTuple):
    """What is filled at a time, m3, at rest and at the sheet's pressure. free_air: m3 of free air that it takes."""

    by: str
    what: str
    at_rest: float
    filled: float
    free_air: float


class Sizes(NamedTuple):
    """pressure: absolute Pa for push and free air. estimated: whether a chamber's volume is in no table. clause: that asks
    for a ratio. vehicles: the ratios of each vehicle of a combination by itself, which is what rules ask."""

    circuit: Circuit
    pressure: float
    chambers: tuple[CountedChamber, ...]
    reservoirs: tuple[CountedReservoir, ...]
    ratios: tuple[Ratio, ...]
    fills: tuple[Taken, ...]
    estimated: bool
    clause: Clause | None
    vehicles: "tuple[tuple[str, Sizes], ...]" = ()


def sizes(evidence: Evidence, sets: tuple[str, ...] = (), pressure: float = FORCE_AT,
          vehicles: tuple[tuple[str, Sizes], ...] = ()) -> Sizes:
    """The sheet of one design."""
    circuit = evidence.circuit
    clause = next(iter(asked(circuit, QUESTION, sets)), None) if evidence.chambers else None
    fills = tuple(_filled(draw, what, pressure) for what, found in (
        ("one application", draws(evidence)), ("lifting the springs", spring_draws(evidence))) for draw in found)
    tanks = tuple(CountedReservoir(tank.name, str(tank.settings["role"]), float(tank.settings["volume"]), *counts(evidence, tank))
                  for tank in circuit.reservoirs)
    return Sizes(circuit, pressure, tuple(_chamber(chamber, pressure) for chamber in evidence.chambers), tanks,
                 tuple(_ratio(circuit, share, clause) for share in shares(evidence)), fills,
                 any(_is_estimated(chamber) for chamber in evidence.chambers), clause, vehicles)


def _chamber(chamber: Device, pressure: float) -> CountedChamber:
    settings = chamber.settings
    return CountedChamber(chamber.name, str(settings["axle"]), str(settings["side"]), str(settings["type"]),
                          float(settings["stroke"]), counted_volume(chamber), _why(chamber),
                          push(gauge(pressure), settings["area"]))


def _why(chamber: Device) -> str:
    """Where a chamber's counted volume is from."""
    if _is_estimated(chamber):
        return "estimated: type and stroke are not in the table"
    if chamber.settings["rated-volume"] is None:
        return "published by its maker, declared"
    return "rated-volume table" if chamber.settings["holds"] is None else "lower of table and published"


def _is_estimated(chamber: Device) -> bool:
    return chamber.settings["rated-volume"] is None and chamber.settings["holds"] is None


def _ratio(circuit: Circuit, share: Share, clause: Clause | None) -> Ratio:
    held = clause is not None and (share.rule_total is True or circuit.is_towed)
    ratio = float(clause.values["ratio"]) if held and clause is not None else None
    k = share.ratio
    left = tuple((k / (k + 1)) ** number for number in APPLICATIONS) if isfinite(k) else ()
    return Ratio(share.name, share.tank_volume, share.chamber_volume, k if isfinite(k) else None, ratio,
                 None if ratio is None else ratio * share.chamber_volume, left,
                 tuple(device.name for device in (*share.tanks, *share.chambers)))


def _filled(draw: Draw, what: str, pressure: float) -> Taken:
    idle, full = draw.taken(ATMOSPHERE), draw.taken(pressure)
    return Taken(draw.name, what, idle, full, (pressure * full - ATMOSPHERE * idle) / ATMOSPHERE)
