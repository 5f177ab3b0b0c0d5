"""How much air passes a restriction: the sonic-conductance law of ISO 6358 and the conductance of holes and tubes.

Numbers in, numbers out, SI, pressures absolute. `conductance` is the sonic conductance C in m3/(s Pa), where
1 L/(s bar) is 1e-8; `ratio` is the critical pressure ratio b below which the flow no longer grows; `subsonic` is the
exponent m. The reference density and temperature are in `circuit.gas.constants`.
"""

from math import ceil, pi, sqrt
from typing import NamedTuple

from circuit.gas.constants import GAS_CONSTANT, KAPPA, REFERENCE_DENSITY, REFERENCE_TEMPERATURE

CRITICAL_RATIO = (2 / (KAPPA + 1)) ** (KAPPA / (KAPPA - 1))
"""Pressure ratio at which an ideal nozzle chokes: 0.528282."""
CHOKED: float = sqrt(KAPPA / GAS_CONSTANT) * (2 / (KAPPA + 1)) ** ((KAPPA + 1) / (2 * (KAPPA - 1)))
"""kg/s through an ideal choked nozzle is CHOKED times area times pressure over the root of temperature: 0.040415."""
SHARP_HOLE = 0.65
"""Discharge coefficient of a sharp-edged hole; the orifice tables of compressed-air handbooks say 0.65."""
LAMINAR = 0.01
"""Width of the smooth zone around no flow: from a pressure ratio of about 1 - LAMINAR (1 - b) / 2."""
PIECE = 3.0
"""m of a line that is taken as one piece; common practice, no source."""
OWN_ENDS = 510.0
"""What the fit of a tube has for entrance and exit, as a length over bore^1.25."""
LEAST = 1e-3
"""m that a further piece begins with: a shorter one would let through so much that its pressures lose their digits."""
MOST_PIECES = 7


class Throat(NamedTuple):
    """The shape of a restriction's flow curve. ratio: b. subsonic: m. source: where the values are from."""

    ratio: float
    subsonic: float
    source: str


_TYPICAL = "typical of such elements, from memory; m of the 1989 edition of ISO 6358"
THROATS: dict[str, Throat] = {
    "hole": Throat(0.5, 0.5, "near the ideal nozzle's 0.528; " + _TYPICAL),
    "poppet": Throat(0.3, 0.5, "0.2 to 0.4; " + _TYPICAL),
    "fitting": Throat(0.4, 0.5, "0.35 to 0.5; " + _TYPICAL),
    "bed": Throat(0.15, 0.55, "0 to 0.2 with m 0.5 to 0.6; " + _TYPICAL),
}
"""By kind of element: a hole or open end, a valve seat, a coupling or cock, a bed of desiccant or a filter mesh. A
tube's own ratio follows from its bore and length."""


def share(pressure_ratio: float, ratio: float, subsonic: float = 0.5, laminar: float = LAMINAR) -> float:
    """The flow as a share of the choked flow at the same upstream pressure, 0 to 1.

    ISO 6358: 1 for r <= b, else (1 - ((r - b)/(1 - b))^2)^m. Its slope at r = 1 has no bound, so it is replaced by
    y ((1 + d)/(y + d))^(1 - m) with y = 1 - ((r - b)/(1 - b))^2 and d = `laminar`: smooth through no flow, exact when
    choked. laminar: 0 gives the law as printed.

    pressure_ratio: downstream over upstream, 0 to 1.

    >>> share(0.2, 0.3), round(share(6 / 7, 0.3, laminar=0.0), 4)
    (1.0, 0.6054)
    """
    if pressure_ratio <= ratio:
        return 1.0
    y = 1.0 - ((pressure_ratio - ratio) / (1.0 - ratio)) ** 2
    if y <= 0.0:
        return 0.0
    return y * float(((1.0 + laminar) / (y + laminar)) ** (1.0 - subsonic))


def mass_flow(
    conductance: float, ratio: float, upstream: float, downstream: float,
    temperature: float = REFERENCE_TEMPERATURE, subsonic: float = 0.5, laminar: float = LAMINAR,
) -> float:
    """Mass flow from the upstream to the downstream side, kg/s; negative when the downstream side is the higher.

    ISO 6358: C rho0 p1 sqrt(T0/T1) share. temperature: K, of the side the air comes from.

    A tank at 600 kPa and 293 K, a hole of 10 mm: with R = 286.5 a textbook has 0.1114 kg/s, 0.1 % more.

    >>> round(mass_flow(hole(0.010, 1.0), CRITICAL_RATIO, 600e3, 100e3, 293.0), 4)
    0.1113
    """
    if downstream > upstream:
        return -mass_flow(conductance, ratio, downstream, upstream, temperature, subsonic, laminar)
    choked = conductance * REFERENCE_DENSITY * upstream * sqrt(REFERENCE_TEMPERATURE / temperature)
    return choked * share(downstream / upstream, ratio, subsonic, laminar)


def from_area(area: float) -> float:
    """Sonic conductance of an effective area, m3/(s Pa): K S / (rho0 sqrt(T0)).

    area: m2, the discharge coefficient included. 1 mm2 is 0.1992 L/(s bar).

    >>> round(from_area(1e-6) * 1e8, 4)
    0.1992
    """
    return CHOKED * area / (REFERENCE_DENSITY * sqrt(REFERENCE_TEMPERATURE))


def hole(diameter: float, discharge: float = SHARP_HOLE) -> float:
    """Sonic conductance of a round hole, m3/(s Pa). diameter: m. discharge: its coefficient.

    The handbook table of air through orifices gives 26.0 scfm for 1/8 in at 100 psig, 70 °F, coefficient 1.

    >>> from circuit.gas.constants import density
    >>> flow = mass_flow(hole(0.0254 / 8, 1.0), CRITICAL_RATIO, 114.7 * 6894.757, 101325.0, 294.26)
    >>> round(flow / density(101325.0, 294.26) / 0.3048**3 * 60, 1)
    26.1
    """
    return from_area(discharge * pi / 4 * diameter**2)


def hole_passing(flow: float, pressure: float, temperature: float = REFERENCE_TEMPERATURE) -> float:
    """Diameter, m, of the sharp hole that passes a choked flow, kg/s, from an absolute pressure, Pa.

    >>> round(mass_flow(hole(hole_passing(2e-3, 8e5)), 0.5, 8e5, 1e5) * 1e3, 6)
    2.0
    """
    conductance = flow / (REFERENCE_DENSITY * pressure * sqrt(REFERENCE_TEMPERATURE / temperature))
    return sqrt(conductance / hole(1.0))


def tube(bore: float, length: float) -> tuple[float, float]:
    """Sonic conductance and critical ratio of a smooth tube: C = 0.029 d^2 / sqrt(L/d^1.25 + 510), b = 474 C/d^2.

    bore, length: m. b is held at 0.5 at most, as for a short fitting. A common fit for plastic tube, from memory; 2 to
    8 % below choked adiabatic flow with friction for 4 to 15 mm and 0.5 to 12 m.

    >>> c, b = tube(0.00638, 6.0)
    >>> round(c * 1e8, 2), round(b, 2)
    (1.91, 0.22)
    """
    conductance = 0.029 * bore**2 / sqrt(length / bore**1.25 + OWN_ENDS)
    return conductance, min(0.5, 474.0 * conductance / bore**2)


def shares(length: float) -> tuple[float, ...]:
    """How a line of a length, m, is cut into pieces: the share of it that each has, from end to end.

    Up to `PIECE` it is one piece, and for each two more of them there is one more at either end. These begin with next
    to no length and grow as fast as the line until all are alike, so no figure jumps with the length, and none depends
    on which end is named first. Beyond the last two the pieces stretch.

    >>> shares(3.0), shares(4.0), [round(share * 6.0, 9) for share in shares(6.0)]
    ((1.0,), (0.25, 0.5, 0.25), [2.0, 2.0, 2.0])
    """
    pieces = min(MOST_PIECES, 1 + 2 * ceil(max(0.0, length - PIECE - LEAST) / (2 * PIECE)))
    if pieces == 1:
        return (1.0,)
    end = min(1 / pieces, 1.0 - (pieces - 2) * PIECE / length)
    return (end, *[(1.0 - 2 * end) / (pieces - 2)] * (pieces - 2), end)


def piece(bore: float, length: float, share: float) -> tuple[float, float]:
    """Conductance and ratio of one piece of a tube, its `share` of the length, in a row that passes what the whole does.

    C_s = C sqrt((1 - b_s)/((1 - b) share)), with b_s of a tube of that piece's length: exact for small drops, within
    0 to 6 % more when choked.

    >>> piece(0.00638, 6.0, 1.0) == tube(0.00638, 6.0)
    True
    """
    whole, ratio = tube(bore, length)
    _, own = tube(bore, length * share)
    return whole * sqrt((1 - own) / ((1 - ratio) * share)), own
