"""The words by which rules ask for kinds and ports: roles of ports, traits of kinds and what they promise, groups."""

from collections.abc import Mapping
from enum import Enum, auto


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
    """Delivers a smaller share of its signal the less the vehicle carries, as it feels or as a hand has set it."""
    LEVELS = auto()
    """Holds the ride height by filling and emptying the bags behind its port 2."""
    TESTS_PRESSURE = auto()
    """A workshop's gauge can be joined to it."""
    LIMITS_BY_HAND = auto()
    """A hand takes a share of some brakes away."""
    CARRIES_BODY = auto()
    """An air spring: the body rides on its air."""
    MOVES = auto()
    """Air moves it one way; it goes back, or can be moved by hand, when the air is let go."""
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


PROMISES: Mapping[Trait, tuple[str, ...]] = {
    Trait.STORES_AIR: ("port:1", "setting:volume", "setting:rated", "setting:role", "setting:tested-to"),
    Trait.RELIEVES: ("setting:opens-at",),
    Trait.GOVERNS: ("setting:cut-in", "setting:cut-out", "port:sense", "port:unloader", "state:unloading"),
    Trait.COMPRESSES: ("port:2",),
    Trait.ONE_WAY: ("port:1", "port:2"),
    Trait.KEEPS_BACK: ("setting:shuts-at",),
    Trait.SHUTS_BY_HAND: ("setting:state",),
    Trait.REPEATS_CONTROL: ("port:1", "port:2", "port:3", "port:control"),
    Trait.SERVICE_ACTUATOR: (
        "setting:type", "setting:stroke", "setting:axle", "setting:side", "setting:holds", "setting:working-stroke",
        "value:area", "value:prefill", "value:rated-volume", "value:full-volume"),
    Trait.SPRING_ACTUATOR: (
        "port:service", "port:spring", "setting:axle", "setting:side", "setting:holds-off-at", "setting:spring-volume"),
    Trait.WARNS_LOW: ("setting:on-below",),
    Trait.LIGHTS_STOP_LAMP: ("setting:on-above",),
    Trait.LINE: ("port:1", "port:2"),
    Trait.MELTS: ("setting:near", "setting:size", "setting:bend", "setting:bend-held"),
    Trait.STIFF: ("setting:ends",),
    Trait.DRAINS_WATER: ("setting:placed",),
    Trait.DRIES: ("port:1",),
    Trait.ADDS_ANTIFREEZE: ("port:1", "port:2"),
    Trait.SWITCHED_BY_CURRENT: ("setting:without-current", "state:energised"),
    Trait.PARTS_ROOMS: ("setting:between", "port:1", "port:2"),
    Trait.COUPLES_VEHICLES: (
        "setting:line", "setting:end", "setting:seals", "value:joined", "value:loose", "value:capped"),
    Trait.TRAILER_SUPPLY: ("port:1", "port:reservoir", "port:spring"),
    Trait.TAKES_SUPPLY_LINE: ("port:1",),
    Trait.TRAILER_HAND_CONTROL: ("port:1",),
    Trait.MODULATES_SPRINGS: ("port:1", "port:2", "port:41", "port:42"),
    Trait.SENSES_LOAD: ("port:1", "port:2"),
    Trait.LEVELS: ("port:1", "port:2", "setting:inlet-check"),
}
"""What a kind with a trait must declare, so that everybody may rely on it: `port:` by number or word, `setting:`, `value:`
(a setting or a derived value), `state:` (a variable of `rest`). `contract` refuses a kind that breaks one."""
