"""Push-rod force against pressure at every chamber, and what the foundation brake makes of it: torque and tyre force.

An S-cam turns F times the slack adjuster's length into two shoe pushes of half F L / r at the cam's radius r; the
drum's drag is the brake factor times their mean, at the drum's radius. A disc brake has twice the pads' push times
friction at the disc's effective radius.
"""

from typing import NamedTuple

from circuit.declaring.kind import Setting
from circuit.declaring.traits import Trait
from circuit.gas.chamber import push
from circuit.judging.assumed import Assumed, titles_of
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.studies.hands import PSI, CannotAsk
from circuit.units import ATMOSPHERE, to_si

STEPS = tuple(ATMOSPHERE + psi * PSI for psi in (10, 20, 40, 60, 80, 100, 120))
"""Absolute Pa at which a force is stated."""
RETURN_FORCE = 200.0
"""N of the return spring at rest; typical, from memory: 130 to 270 N."""
RETURN_RATE = 4000.0
"""N/m of the return spring; typical, from memory: 3 to 5 N/mm."""
TORQUE = 0.25
"""How far the torque of brakes of one make scatters with linings, wear and losses; from memory: 20 to 30 %."""
DRUM = ("slack-length", "cam-radius", "cam-efficiency", "brake-factor", "drum-radius")
DISC = ("lever-ratio", "pad-friction", "disc-radius")
TYRE = "tyre-radius"


class Pushed(NamedTuple):
    """One chamber. forces: N at each step, less its return spring. returning: N that its return spring takes at rest, and
    what it takes more at the working stroke. spring: N of a spring brake at working stroke.
    slack: m, None on what has no slack adjuster. gain: N m of brake torque for each N of push, None where nothing
    says what it pushes. tyre: m."""

    name: str
    axle: str
    side: str
    type: str
    area: float
    forces: tuple[float, ...]
    returning: tuple[float, float]
    spring: float | None
    slack: float | None
    gain: float | None
    tyre: float | None

    @property
    def cam_torques(self) -> tuple[float, ...]:
        """N m at the camshaft at each step, before its losses; empty without a slack adjuster."""
        return () if self.slack is None else tuple(force * self.slack for force in self.forces)

    @property
    def torques(self) -> tuple[float, ...]:
        """N m of brake torque at each step; empty where nothing says what is pushed."""
        return () if self.gain is None else tuple(force * self.gain for force in self.forces)

    @property
    def spring_torque(self) -> float | None:
        """N m of brake torque of the spring."""
        return None if self.gain is None or self.spring is None else self.spring * self.gain

    @property
    def tyre_forces(self) -> tuple[float, ...]:
        """N at the tyre's edge at each step, as long as the tyre does not slide."""
        return () if self.tyre is None else tuple(torque / self.tyre for torque in self.torques)


class Forces(NamedTuple):
    """steps: absolute Pa. unknown: chambers without a brake torque."""

    circuit: Circuit
    steps: tuple[float, ...]
    chambers: tuple[Pushed, ...]
    unknown: tuple[str, ...]
    assumed: tuple[Assumed, ...]
    notes: tuple[str, ...]


def forces(circuit: Circuit, steps: tuple[float, ...] = STEPS) -> Forces:
    """Force and torque of every chamber. Raises CannotAsk where there is none."""
    chambers = circuit.having(Trait.SERVICE_ACTUATOR)
    if not chambers:
        raise CannotAsk("there is no brake chamber here")
    found = []
    taken: dict[Setting, list[str]] = {}
    for chamber in chambers:
        settings = chamber.settings
        slack, gain = _brake(chamber, taken)
        found.append(Pushed(chamber.name, settings["axle"], settings["side"], settings["type"], settings["area"],
                            tuple(rod(step, settings["area"], settings["working-stroke"]) for step in steps),
                            (RETURN_FORCE, RETURN_RATE * settings["working-stroke"]),
                            settings.get("spring-force") if chamber.has(Trait.SPRING_ACTUATOR) else None,
                            slack, gain, _value(chamber, TYRE, taken) if gain is not None else None))
    unknown = tuple(p.name for p in found if p.gain is None)
    assumed = tuple(Assumed(titles_of(names), setting.name, setting.usual.text, setting.usual.source)
                    for setting, names in taken.items() if setting.usual is not None)
    return Forces(circuit, steps, tuple(found), unknown, assumed, (
        f"the return spring takes {RETURN_FORCE:.0f} N and {RETURN_RATE / 1e3:.0f} N for each mm of working stroke, "
        "from memory",
        "area as the type says up to the working stroke; it falls by 15 to 25 % near the end, from memory",
        "a drum: torque = push x slack-length x cam-efficiency / (2 x cam-radius) x brake-factor x drum-radius",
        "a disc: torque = push x lever-ratio x 2 x pad-friction x disc-radius",
        "linings and pads cold; hot, wet or glazed ones give much less, and only a test tells the torque"))


def rod(pressure: float, area: float, stroke: float) -> float:
    """Push-rod force, N, at a working stroke: pressure times area less the return spring; never less than 0.

    pressure: absolute Pa. area: m2. stroke: m.

    >>> round(rod(ATMOSPHERE + 100 * 6894.757, 30 * 0.0254**2, 0.0381) / 4.448222)
    2921
    """
    return max(0.0, push(pressure - ATMOSPHERE, area) - RETURN_FORCE - RETURN_RATE * stroke)


def drum_gain(slack: float, cam: float, efficiency: float, factor: float, drum: float) -> float:
    """N m of brake torque for each N on the push rod of an S-cam brake; lengths in m.

    >>> round(drum_gain(5.5, 0.5, 0.75, 1.6, 8.25), 2)
    54.45
    """
    return slack * efficiency / (2 * cam) * factor * drum


def disc_gain(lever: float, friction: float, radius: float) -> float:
    """N m of brake torque for each N on the push rod of a disc brake; radius in m.

    >>> round(disc_gain(15, 0.38, 0.173), 3)
    1.972
    """
    return lever * 2 * friction * radius


def _brake(chamber: Device, taken: dict[Setting, list[str]]) -> tuple[float | None, float | None]:
    """The slack adjuster's length and the gain."""
    for names, gain in ((DRUM, drum_gain), (DISC, disc_gain)):
        values = [_value(chamber, name, taken) for name in names if chamber.kind.setting(name) is not None]
        if len(values) == len(names) and None not in values:
            return (values[0] if names is DRUM else None), gain(*(float(v) for v in values if v is not None))
    return None, None


def _value(chamber: Device, name: str, taken: dict[Setting, list[str]]) -> float | None:
    """A setting as written, or its usual value, noted in `taken`."""
    setting, written = chamber.kind.setting(name), chamber.settings.get(name)
    if setting is None or written is not None or setting.usual is None:
        return None if written is None else float(written)
    taken.setdefault(setting, []).append(chamber.title)
    return float(setting.usual.text) if setting.dimension == "ratio" else to_si(setting.usual.text, setting.dimension)
