"""What a device kind declares. Parser, graph, rules, simulation, fault study and drawing read this one value.

A device stores air, lets air pass, or both. A `Passage` is a way between two ports and a function of the pressures
that says by how many Pa it is pushed open: positive is open, negative is shut. The static graph asks the function with
"full here, empty there"; a simulation asks it at every step. They are two readings of the same thing.
"""

from collections.abc import Callable, Mapping
from enum import Enum, auto
from math import pi
from types import MappingProxyType
from typing import NamedTuple

from circuit.gas.volume import Knots
from circuit.kinds.symbol import Symbol

OUTSIDE = "outside"
"""The port name for the atmosphere in a passage, for what opens straight to it without a port of its own."""

Pressures = Mapping[str, float]
"""Port number to absolute Pa."""
Settings = Mapping[str, float]
"""Setting name to SI value; pressures are absolute Pa. Words and texts are strings."""
State = Mapping[str, float]
"""Name of a state variable to its value: a pedal from 0 to 1, a knob or a latch 0 or 1."""


class Role(Enum):
    """What a port is for; the first digit of its number follows ISO 6786 (1 in, 2 out, 3 exhaust, 4 control)."""

    SUPPLY = "supply"
    DELIVERY = "delivery"
    EXHAUST = "exhaust"
    CONTROL = "control"
    SPACE = "space"
    """The one space of a thing that is only a space or hangs on one: reservoir, tee, chamber, gauge."""
    END = "end"
    """One end of a line."""


class Trait(Enum):
    """A promise about a kind that rules ask for; PROMISES says what it must declare for it."""

    STORES_AIR = auto()
    """Keeps air for later use: a reservoir."""
    DRAINS_WATER = auto()
    """Lets water out of the space it sits on."""
    DRAINS_BY_ITSELF = auto()
    """Does so without a hand."""
    RELIEVES = auto()
    """Opens its space to atmosphere above a set pressure."""
    COMPRESSES = auto()
    """Feeds air from the atmosphere."""
    GOVERNS = auto()
    """Switches the compressor off and on by a sensed pressure."""
    DRIES = auto()
    ONE_WAY = auto()
    """Exists to let air pass one way only."""
    SELECTS_HIGHER = auto()
    """Delivers the higher of two pressures."""
    KEEPS_BACK = auto()
    """Shuts while its feed is below a set pressure, so that what hangs on it cannot empty the feed."""
    SHUTS_BY_HAND = auto()
    """Can be shut by a hand and stay shut."""
    SERVICE_CONTROL = auto()
    """The driver's foot or hand applies the service brakes with it."""
    PARK_CONTROL = auto()
    REPEATS_CONTROL = auto()
    """A relay: delivers from its supply what its control port shows."""
    SERVICE_ACTUATOR = auto()
    SPRING_ACTUATOR = auto()
    """A spring applies it; air holds it off."""
    WARNS_LOW = auto()
    SHOWS_PRESSURE = auto()
    LIGHTS_STOP_LAMP = auto()
    COUPLES_VEHICLES = auto()
    CAPS = auto()
    """Closes the coupling head it sits on."""
    USES_AIR = auto()
    """Takes air for another purpose than braking."""
    JOINS = auto()
    """A fitting that only joins lines."""
    LINE = auto()
    """Joins two ports: written `KIND FROM -> TO`."""
    DIRECT = auto()
    """A line without length or bore: the two ports are one space."""
    OPEN_END = auto()
    """Ends a line in the open air, on purpose."""
    TRAILER_SUPPLY = auto()
    """Fills a trailer's tanks and holds its springs off from the supply line."""
    BLOWS_OFF = auto()
    """Rests the compressor by letting what comes in at its first port out to the atmosphere."""
    COOLS = auto()
    """Takes the heat of compression out of the air that passes it."""
    ADDS_ANTIFREEZE = auto()
    """Puts alcohol into the air, which spoils desiccant behind it."""
    PARTS_ROOMS = auto()
    """The inner wall between two reservoirs in one shell."""
    SWITCHED_BY_CURRENT = auto()
    """Worked by a coil: the state variable `energised` is 1 with current; its setting says how it stands without."""
    MELTS = auto()
    """A line that heat destroys: plastic tube."""
    STIFF = auto()
    """A line that breaks where its two ends move against each other."""
    TAKES_SUPPLY_LINE = auto()
    """A trailer's supply line comes to its port 1."""
    PROTECTS_TOWING = auto()
    """Shuts a line to the trailer below a set pressure, so that a lost trailer leaves the towing vehicle its air."""
    TRAILER_HAND_CONTROL = auto()
    """A hand applies the trailer's service brakes with it, without the foot."""
    GRADUATES_SPRINGS = auto()
    """A hand lets the spring brakes on by degrees with it."""
    MODULATES_SPRINGS = auto()
    """Lets the spring brakes on with the pedal when the service circuit that it senses at 42 is lost."""
    SENSES_LOAD = auto()
    """Delivers a smaller share of its signal the less the vehicle carries."""
    LEVELS = auto()
    """Holds the ride height by filling and emptying the bags behind its port 2."""
    TESTS_PRESSURE = auto()
    """A workshop's gauge can be joined to it."""
    LIMITS_BY_HAND = auto()
    """A hand takes a share of some brakes away."""
    LOCKS = auto()
    """Stays applied by a mechanical lock without air."""


class Group(Enum):
    """Where a kind stands in the list of kinds."""

    SOURCE = "making and treating air"
    STORE = "storing and draining"
    GUARD = "steering and guarding the air"
    DRIVER = "what the driver touches"
    MODULATE = "modulating and speeding up"
    WORK = "doing the work"
    TOWING = "towing interface"
    LINES = "lines and small parts"


class Port(NamedTuple):
    """A space of a device that lines join.

    number: by ISO 6786. words: what the trade or the casting calls it, usable instead of the number.
    holes: how many lines it takes; 0 is any number. holes_from: a `count` setting that says so instead.
    required: when neither joined nor plugged it is a finding (an EXHAUST port is open to atmosphere instead).
    """

    number: str
    role: Role
    words: tuple[str, ...] = ()
    holes: int = 1
    holes_from: str = ""
    required: bool = True


class Typical(NamedTuple):
    """A value taken when the design leaves a setting out. source: where it is from, or what kind of knowledge it is."""

    text: str
    source: str


class Setting(NamedTuple):
    """One word a statement may carry.

    dimension: one of units.DIMENSIONS, or `word` (one of choices), `text`, `name`, `names`, `reference` (a thing or a
    port), `size` (of tube; it gives `bore` too), `bore`, `chamber` (a trade number such as 20 or 30/30), `bound` (at
    least / at most a pressure) or `any` (a share or a pressure).
    typical: taken when left out, and listed as assumed; with neither typical nor required the value is unknown (None).
    usual: where it is unknown, what a study takes that asks for it, and then lists.
    """

    name: str
    dimension: str
    says: str
    typical: Typical | None = None
    required: bool = False
    choices: tuple[str, ...] = ()
    usual: Typical | None = None


class Passage(NamedTuple):
    """A way for air from port `start` to port `end`.

    opening: Pa by which it is pushed open, from pressures, settings and state; None is always open.
    both_ways: air may also pass from end to start while it is open.
    conductance: the setting with its sonic conductance, or "" for a line, whose bore and length give it.
    keeps: the setting with the pressure below which it shuts, so that `start` keeps that much, or "".
    narrow: too narrow for a safety valve at one end to guard the other.
    says: when it is open, in words for a student. throat: the shape of its flow curve, a word of `gas.flow.THROATS`.
    """

    start: str
    end: str
    says: str
    opening: Callable[[Pressures, Settings, State], float] | None = None
    both_ways: bool = False
    conductance: str = "conductance"
    keeps: str = ""
    narrow: bool = False
    throat: str = "poppet"


class Store(NamedTuple):
    """Air kept at a port. volume: m3 from settings and the port's absolute pressure.

    knots: the same as data, for a volume that grows with the pressure; None is a volume that never changes.
    """

    port: str
    volume: Callable[[Settings, float], float]
    knots: Callable[[Settings], Knots] | None = None


class Source(NamedTuple):
    """Air made from the atmosphere by a turning machine.

    port, inlet: where it comes out and where it is taken in. displacement, speed, efficiency, clearance: the settings
    that say so. rests: Pa by which its unloader is pushed open. held: the state variable by which a failure holds it.
    """

    port: str
    inlet: str
    displacement: str
    speed: str
    efficiency: str
    clearance: str
    rests: Callable[[Pressures, Settings, State], float]
    held: str


class Latch(NamedTuple):
    """A state variable that snaps over at one pressure and back at another.

    sets, resets: positive in Pa when the variable becomes 1 or 0; None when only a hand does that.
    """

    variable: str
    sets: Callable[[Pressures, Settings], float] | None
    resets: Callable[[Pressures, Settings], float] | None


class Failure(NamedTuple):
    """One thing that goes wrong in service.

    says: what is seen. shuts, opens: passages (start, end) that stay so whatever the pressures; (port, OUTSIDE) in
    opens is a leak. stops: ports that no longer feed. share: how far an opened passage stands open, 1 is fully;
    a passage both shut and opened is narrowed to that. holds: state variables that stay at a value. idle: ports whose
    pressure works nothing any more, as that of a chamber whose stroke is used up.
    """

    name: str
    says: str
    shuts: tuple[tuple[str, str], ...] = ()
    opens: tuple[tuple[str, str], ...] = ()
    stops: tuple[str, ...] = ()
    share: float = 1.0
    holds: Mapping[str, float] = MappingProxyType({})
    idle: tuple[str, ...] = ()


SITUATIONS = ("parked", "driving", "braking")
"""Parked: park control applied, pedal up, a trailer uncoupled. Driving: park control released, pedal up, a trailer
coupled. Braking: as driving, with the pedal down."""


def nothing(settings: Settings, situation: str) -> tuple[str, ...]:
    """Feeds of a kind that feeds nothing."""
    return ()


def nothing_more(settings: Settings) -> Mapping[str, float]:
    """Derived values of a kind that derives none."""
    return {}


class Kind(NamedTuple):
    """A device kind; see the fields' classes.

    name: as written in a design, equal to the file's name with hyphens. aliases: other words for the same thing.
    purpose: one sentence: what it does for the driver. behaviour: some sentences: what the air does.
    rest: state variables and their values in any situation; when: their values in a situation where they differ.
    feeds: ports that give air from outside the drawing in a situation. source: how it makes air. derive: further values
    that follow from the settings, such as a chamber's area from its type; raises ValueError when they contradict each
    other. stage: the column of a drawing it belongs to.
    small: drawn on its host. turns: pairs of ports a fitter could swap by mistake, or that reverse the part.
    rows: the rows of the trade's device list (shared/devices.toml) it covers.
    """

    name: str
    title: str
    group: Group
    purpose: str
    behaviour: str
    ports: tuple[Port, ...]
    settings: tuple[Setting, ...] = ()
    passages: tuple[Passage, ...] = ()
    stores: tuple[Store, ...] = ()
    latches: tuple[Latch, ...] = ()
    failures: tuple[Failure, ...] = ()
    traits: frozenset[Trait] = frozenset()
    aliases: tuple[str, ...] = ()
    rest: Mapping[str, float] = MappingProxyType({})
    when: Mapping[str, Mapping[str, float]] = MappingProxyType({})
    feeds: Callable[[Settings, str], tuple[str, ...]] = nothing
    source: Source | None = None
    derive: Callable[[Settings], Mapping[str, float]] = nothing_more
    symbol: Symbol | None = None
    stage: int = 6
    small: bool = False
    turns: tuple[tuple[str, str], ...] = ()
    rows: tuple[int, ...] = ()

    def port(self, word: str) -> Port | None:
        """The port of a number or a word, or None."""
        for port in self.ports:
            if word == port.number or word in port.words:
                return port
        return None

    def ports_as(self, *roles: Role) -> tuple[Port, ...]:
        """The ports of some roles, in order."""
        return tuple(port for port in self.ports if port.role in roles)

    def setting(self, name: str) -> Setting | None:
        """The setting of that name, or None."""
        return next((setting for setting in self.settings if setting.name == name), None)

    @property
    def only_port(self) -> Port | None:
        """The port meant when a thing with a single space is named without one, or None."""
        return self.ports[0] if len(self.ports) == 1 else None

    def state(self, situation: str) -> dict[str, float]:
        """All state variables of the kind in a situation."""
        return {**self.rest, **self.when.get(situation, {})}


PROMISES: Mapping[Trait, tuple[str, ...]] = {
    Trait.STORES_AIR: ("setting:volume", "setting:rated", "setting:role"),
    Trait.RELIEVES: ("setting:opens-at",),
    Trait.GOVERNS: ("setting:cut-in", "setting:cut-out", "port:sense", "port:unloader"),
    Trait.COMPRESSES: ("port:2",),
    Trait.ONE_WAY: ("port:1", "port:2"),
    Trait.KEEPS_BACK: ("setting:shuts-at",),
    Trait.SHUTS_BY_HAND: ("setting:state",),
    Trait.REPEATS_CONTROL: ("port:1", "port:2", "port:3", "port:control"),
    Trait.SERVICE_ACTUATOR: ("setting:type", "setting:stroke", "setting:axle", "setting:side"),
    Trait.SPRING_ACTUATOR: ("setting:axle", "setting:side"),
    Trait.WARNS_LOW: ("setting:on-below",),
    Trait.LIGHTS_STOP_LAMP: ("setting:on-above",),
    Trait.LINE: ("port:1", "port:2"),
    Trait.MELTS: ("setting:near", "setting:size", "setting:bend"),
    Trait.STIFF: ("setting:ends",),
    Trait.DRAINS_WATER: ("setting:placed",),
    Trait.DRIES: ("port:1",),
    Trait.ADDS_ANTIFREEZE: ("port:2",),
    Trait.SWITCHED_BY_CURRENT: ("setting:without-current",),
    Trait.PARTS_ROOMS: ("setting:between", "port:1", "port:2"),
    Trait.COUPLES_VEHICLES: ("setting:line",),
    Trait.TRAILER_SUPPLY: ("port:1", "port:reservoir", "port:spring"),
    Trait.TAKES_SUPPLY_LINE: ("port:1",),
    Trait.MODULATES_SPRINGS: ("port:1", "port:2", "port:41", "port:42"),
    Trait.SENSES_LOAD: ("port:2",),
    Trait.LEVELS: ("port:1", "port:2", "setting:inlet-check"),
}
"""What a kind with a trait must declare, so that a rule may rely on it."""


# --- pieces that several kinds share ------------------------------------------------------------------------------

COMMON = "common practice, no source"
FROM_MEMORY = "typical part, from memory"


def conductance(text: str) -> Setting:
    """How easily air passes when fully open: the sonic conductance of ISO 6358."""
    return Setting("conductance", "conductance", "sonic conductance (ISO 6358) when fully open",
                   Typical(text, FROM_MEMORY))


def feeding(own: str, other: str) -> Callable[[Pressures, Settings, State], float]:
    """How a shuttle lets port `own` feed on: unless port `other`, on its far side, is the higher by half of `shifts-at`."""
    return lambda p, s, x: p[own] - p[other] + s["shifts-at"] / 2


def returning(own: str, other: str, out: str) -> Callable[[Pressures, Settings, State], float]:
    """How a shuttle lets air of `out` go back by port `own`: as it feeds, and only while `out` is above `other` too.

    So air never passes from one source by the outlet into the other, however near to each other they are.
    """
    return lambda p, s, x: min(p[own] - p[other] + s["shifts-at"] / 2, p[out] - p[other])


def cavity(litres: float) -> Callable[[Settings, float], float]:
    """The volume of a valve's inside, the same at every pressure. litres: L."""
    return lambda settings, pressure: litres * 1e-3


ON = Setting("on", "reference", "the space it is screwed into")
AXLE = Setting("axle", "name", "the axle it works on", required=True)
SIDE = Setting("side", "word", "left or right, seen by the driver", choices=("left", "right"), required=True)
DELIVERIES = Setting("deliveries", "count", "how many holes the delivery port has", Typical("2", COMMON))

LENGTH = Setting("length", "length", "length along the line", required=True)
RUN = Setting("run", "word", "how it lies", choices=("falling", "level", "rising", "dipping"))
LINE_ENDS = Setting("ends", "word", "whether its two ends move against each other", Typical("fixed", COMMON),
                    choices=("fixed", "moving"))
LINE_NAME = Setting("name", "name", "a name, where a trial or a waiver needs one")
NEAR = Setting("near", "word", "what it passes closely", choices=("nothing", "heat", "moving-part", "battery"))
ELBOWS = Setting("elbows", "count", "how many elbows are in it; none where nothing is written")
RATED = Setting("rated", "pressure", "highest working pressure its maker gives")
RATED_TO = Setting("rated-to", "temperature", "highest temperature its maker gives")
ELBOW_LENGTH = 0.6
"""m of its own bore that an elbow costs; common practice, no source: 0.3 to 1 m."""


def with_elbows(settings: Settings) -> Mapping[str, float]:
    """The length of straight line that lets through as much as a line with its elbows, m."""
    return {"resisting-length": settings["length"] + ELBOW_LENGTH * (settings["elbows"] or 0)}


LINE_PORTS = (Port("1", Role.END), Port("2", Role.END))
LINE_PASSAGES = (Passage("1", "2", "always open", both_ways=True, conductance=""),)


def _half(settings: Settings, pressure: float) -> float:
    return 0.125 * pi * settings["bore"] ** 2 * settings["length"]


LINE_STORES = (Store("1", _half), Store("2", _half))
"""A line's air, half at each end."""


def line_failures(bursts: str) -> tuple[Failure, ...]:
    """What goes wrong with any line; bursts: how this kind of line comes to burst."""
    return (
        Failure("burst", bursts, opens=(("1", OUTSIDE), ("2", OUTSIDE))),
        Failure("leaks", "leaks at a fitting", opens=(("1", OUTSIDE),), share=0.01),
        Failure("blocked", "kinked, frozen or choked", shuts=(("1", "2"),)),
    )
