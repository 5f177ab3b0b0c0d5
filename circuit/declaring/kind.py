"""What a device kind declares. Parser, graph, rules, simulation, fault study and drawing read this one value.

A device stores air, lets air pass, or both. A `Passage` is a way between two ports and a function of the pressures
that says by how many Pa it is pushed open: positive is open, negative is shut. The static graph asks the function with
"full here, empty there"; a simulation asks it at every step. They are two readings of the same thing.
"""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from circuit.declaring.symbol import Symbol
from circuit.declaring.traits import Group, Role, Trait
from circuit.gas.volume import Knots

OUTSIDE = "outside"
"""The port name for the atmosphere in a passage, for what opens straight to it without a port of its own."""

Pressures = Mapping[str, float]
"""Port number to absolute Pa."""
Settings = Mapping[str, float]
"""Setting name to SI value; pressures are absolute Pa. Words and texts are strings."""
State = Mapping[str, float]
"""Name of a state variable to its value: a pedal from 0 to 1, a knob or a latch 0 or 1."""


FALLS, VENTS, KEEPS = "falls with its supply", "keeps its air until its supply is low, then vents", "keeps its air"
"""What becomes of a delivery's air when the supply is lost and nothing else changes: nothing of it stays; nothing of it
stays in the end; something stays behind a check or below a closing pressure."""


class Port(NamedTuple):
    """A space of a device that lines join.

    number: by ISO 6786. words: what the trade or the casting calls it, usable instead of the number.
    holes: how many lines it takes; 0 is any number. holes_from: a `count` setting that says so instead.
    required: when neither joined nor plugged it is a finding (an EXHAUST port is open to atmosphere instead).
    lost: of a delivery, FALLS, VENTS or KEEPS.
    """

    number: str
    role: Role
    words: tuple[str, ...] = ()
    holes: int = 1
    holes_from: str = ""
    required: bool = True
    lost: str = FALLS


class Typical(NamedTuple):
    """A value taken when the design leaves a setting out. source: where it is from, or what kind of knowledge it is.

    low, high: how far it is taken to be off, or "" for what its dimension's range is; `high` may name a value that follows
    from other settings. shape: a word of `ranges.SHAPES`, or "" for the usual one. See `ranges.range_of`.
    """

    text: str
    source: str
    low: str = ""
    high: str = ""
    shape: str = ""


class Setting(NamedTuple):
    """One word a statement may carry.

    dimension: one of units.DIMENSIONS, or `word` (one of choices), `text`, `name`, `names`, `reference` (a thing or a
    port), `size` (of tube; it gives `bore` too), `bore`, `chamber` (a trade number such as 20 or 30/30), `bound` (at
    least / at most a pressure) or `any` (a share or a pressure).
    typical: taken when left out, and listed as assumed; with neither typical nor required the value is unknown (None).
    usual: where it is unknown, what a study takes that asks for it, and then lists.
    within: least and most as written; what lies outside is a slip of the pen and refused. Common practice, no source: some
    twice and half of what is met.
    """

    name: str
    dimension: str
    says: str
    typical: Typical | None = None
    required: bool = False
    choices: tuple[str, ...] = ()
    usual: Typical | None = None
    within: tuple[str, str] | None = None


class Ordered(NamedTuple):
    """Two settings, or values that follow, of which `low` stays below `high`; with `equal` it may also reach it.

    A design that writes them the other way round is refused. Nothing is asked where one of them is unknown (None).
    """

    low: str
    high: str
    equal: bool = False


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


class Graduated(NamedTuple):
    """A delivery given by degrees: no more than is asked for, and no more than the supply has.

    by: what asks for it: a state variable from 0 to 1, a control port, or "" where the supply itself or a setting does.
    falling: it asks for the more the less there is of `by`. charged: further ports that have air meanwhile, at the setting
    of that pressure or fully. held: how hands and coils stand meanwhile.
    """

    supply: str
    delivery: str
    by: str = ""
    falling: bool = False
    charged: tuple[str, ...] = ()
    held: Mapping[str, float] = MappingProxyType({})


class Store(NamedTuple):
    """Air kept at a port. volume: m3 from settings and the port's absolute pressure.

    knots: the same as data, for a volume that grows with the pressure; None is a volume that never changes.
    """

    port: str
    volume: Callable[[Settings, float], float]
    knots: Callable[[Settings], Knots] | None = None


class Pump(NamedTuple):
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

    sets, resets: positive in Pa when the variable becomes 1 or 0; None when only a hand does that. taken_by: the
    variable of another knob that takes this one along when a hand puts it to 0; only a hand brings this one back.
    """

    variable: str
    sets: Callable[[Pressures, Settings], float] | None
    resets: Callable[[Pressures, Settings], float] | None
    taken_by: str = ""


class Failure(NamedTuple):
    """One thing that goes wrong in service.

    says: what is seen. shuts, opens: passages (start, end) that stay so whatever the pressures; (port, OUTSIDE) in
    opens is a leak. stops: ports that no longer feed. share: how far an opened passage stands open, 1 is fully;
    a passage both shut and opened is narrowed to that. holds: state variables that stay at a value. idle: ports whose
    pressure works nothing any more, as that of a chamber whose stroke is used up. jams: ports whose work stays done when
    their pressure is gone, as that of a seized rod. scales: settings and the factor by which they drift, a pressure's from
    the atmosphere. proof: how a workshop proves it, an order; where it is empty, `proving` makes one of what the failure
    does. often: how often it is met, common practice, no source; where it is empty, by the failure's name.
    """

    name: str
    says: str
    shuts: tuple[tuple[str, str], ...] = ()
    opens: tuple[tuple[str, str], ...] = ()
    stops: tuple[str, ...] = ()
    share: float = 1.0
    holds: Mapping[str, float] = MappingProxyType({})
    idle: tuple[str, ...] = ()
    jams: tuple[str, ...] = ()
    scales: Mapping[str, float] = MappingProxyType({})
    proof: str = ""
    often: str = ""

    @property
    def acts(self) -> bool:
        """Whether it does anything that pressures, forces or an instrument show."""
        return bool(self.shuts or self.opens or self.stops or self.holds or self.idle or self.jams or self.scales)


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
    purpose: one sentence: what it does for the driver. behaviour: some sentences: what the air does. graduated: the
    deliveries it gives by degrees. rest: state variables and their values in any situation; when: their values in a
    situation where they differ. positions: words for how a hand sets it, and the values of each. feeds: ports that
    give air from outside the drawing in a situation. source: how it makes air. derive: further values that follow
    from the settings, such as a chamber's area from its type; raises ValueError when they contradict each other.
    derives: the names of those that are no settings. orders: settings of which one stays below the other. stage: the
    column of a drawing it belongs to. small: drawn on its host. turns: pairs of ports a fitter could swap by mistake,
    or that reverse the part. rows: the rows of the trade's device list (shared/devices.toml) it covers.
    """

    name: str
    title: str
    group: Group
    purpose: str
    behaviour: str
    ports: tuple[Port, ...]
    settings: tuple[Setting, ...] = ()
    passages: tuple[Passage, ...] = ()
    graduated: tuple[Graduated, ...] = ()
    stores: tuple[Store, ...] = ()
    latches: tuple[Latch, ...] = ()
    failures: tuple[Failure, ...] = ()
    traits: frozenset[Trait] = frozenset()
    aliases: tuple[str, ...] = ()
    rest: Mapping[str, float] = MappingProxyType({})
    when: Mapping[str, Mapping[str, float]] = MappingProxyType({})
    positions: Mapping[str, Mapping[str, float]] = MappingProxyType({})
    feeds: Callable[[Settings, str], tuple[str, ...]] = nothing
    source: Pump | None = None
    derive: Callable[[Settings], Mapping[str, float]] = nothing_more
    derives: tuple[str, ...] = ()
    orders: tuple[Ordered, ...] = ()
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
