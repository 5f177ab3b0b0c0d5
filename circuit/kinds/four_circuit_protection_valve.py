"""Four-circuit protection valve: shares one feed among circuits and shuts off the one that bursts."""

from circuit.declaring.common import COMMON, FROM_MEMORY, LARGE, MEDIUM, SHUT, SLIGHT, SUPPLY, conductance
from circuit.declaring.kind import KEEPS, OUTSIDE, Failure, Kind, Latch, Ordered, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Stroke, Symbol, arrow, line, spring
from circuit.declaring.traits import Group, Role, Trait
from circuit.units import ATMOSPHERE

LIFT = 15e3
"""Pa by which a piston is lifted off its stop: from a crack, behind which the circuit's own pressure stands, to wide open,
where the feed's stands under all of it; our choice, as wide as the simulation takes any valve to open."""


def lifted(p, s, outlet, inlet="1"):
    """Pa by which the feed, helped by what the circuit still holds, lifts an outlet's shut piston."""
    opens, shuts = s[f"opens-at-{outlet}"] - ATMOSPHERE, s[f"shuts-at-{outlet}"] - ATMOSPHERE
    share = shuts / opens
    return share * (p[inlet] - ATMOSPHERE) + (1 - share) * (p[outlet] - ATMOSPHERE) - shuts


def way(outlet, inlet="1", asked=lambda s: True):
    """The opening of the way to an outlet; asked: whether it is fed this way in the settings at hand."""
    def opening(p, s, x):
        if not asked(s):
            return SHUT
        if x[f"open-{outlet}"]:
            return max(p[inlet], p[outlet]) - s[f"shuts-at-{outlet}"] + LIFT
        return lifted(p, s, outlet, inlet)
    return opening


def latch(outlet, *inlets):
    """The piston of an outlet: wide open once a feed has lifted it, back when neither side holds the closing pressure.

    A burst circuit does not push it on: it stays a crack open and lets go what is pumped above its opening pressure.
    """
    return Latch(f"open-{outlet}", lambda p, s: max(lifted(p, s, outlet, i) for i in inlets) - LIFT,
                 lambda p, s: s[f"shuts-at-{outlet}"] - max(p[outlet], *(p[i] for i in inlets)))


def outlet_settings(outlets):
    """What can be set for each outlet alone."""
    return (*(Setting(f"opens-at-{o}", "pressure", f"opening pressure of {o}, where it differs") for o in outlets),
            *(Setting(f"shuts-at-{o}", "pressure", f"closing pressure of {o}, where it differs") for o in outlets))


def each_outlet(outlets):
    """Fills in what is not set for an outlet alone; the valve as a whole keeps no more than its lowest outlet does."""
    def derive(settings):
        found = {f"{word}-{o}": settings[f"{word}-{o}"] or settings[word]
                 for o in outlets for word in ("opens-at", "shuts-at")}
        for o in outlets:
            if found[f"shuts-at-{o}"] <= ATMOSPHERE:
                raise ValueError(f"outlet {o} would never shut: write a closing pressure above 0 bar")
        return {**found, "shuts-at": min(found[f"shuts-at-{o}"] for o in outlets)}
    return derive


def in_order(outlets):
    """Each outlet shuts below the pressure that opens it."""
    return tuple(Ordered(f"shuts-at-{o}", f"opens-at-{o}") for o in outlets)


CIRCUITS = (
    Setting("opens-at", "pressure", "pressure of the feed that opens an outlet whose circuit is empty",
            Typical("7.0 bar", COMMON + ": 6.5 to 7.5 bar", "6.5 bar", "7.5 bar")),
    Setting("shuts-at", "pressure", "static closing pressure: what the other circuits keep when one has burst",
            Typical("4.8 bar", COMMON + ": 4.5 to 6.0 bar", "4.5 bar", "6.0 bar")),
)
ORDER = Setting("order", "word", "which circuits are filled first", Typical("together", COMMON),
                choices=("together", "service-first"))
BLEED = (Setting("bleed", "word", "whether a bleed passes each piston", Typical("no", COMMON), choices=("yes", "no")),
         Setting("bleed-conductance", "conductance", "sonic conductance of a bleed",
                 Typical("0.05 L/(s.bar)", FROM_MEMORY)))


def bleeds(outlet):
    """The opening of a bleed past a piston."""
    return lambda p, s, x: p["1"] - p[outlet] if s["bleed"] == "yes" else SHUT


def held_back(opening, inlet, outlet):
    """An opening that a check valve from inlet to outlet narrows."""
    return lambda p, s, x: min(opening(p, s, x), p[inlet] - p[outlet])


def _ways(outlets, late):
    """Every way from the feed to an outlet: through its piston, from the service circuits, and past the piston."""
    for o in outlets:
        asked = (lambda s: s["order"] == "together") if o in late else lambda s: True
        yield Passage("1", o, "open from its opening down to its closing pressure", way(o, asked=asked), True,
                      keeps=f"shuts-at-{o}")
        yield Passage("1", o, f"a bleed past the piston of {o}, where it has one: fills a dead circuit slowly",
                      bleeds(o), conductance="bleed-conductance", narrow=True)
    for o in late:
        for high in ("21", "22"):
            valve = way(o, high, lambda s: s["order"] == "service-first")
            yield Passage(high, o, f"fed from {high} through a check, where the service circuits are filled first",
                          held_back(valve, high, o), keeps=f"shuts-at-{o}")


def protection_valve(name, title, outlets, aliases):
    """A multi-circuit protection valve with some of the outlets 21 to 24."""
    late = tuple(o for o in outlets if o in ("23", "24"))
    height = 2 * len(outlets)
    return Kind(
        name=name,
        title=title,
        group=Group.GUARD,
        purpose="Fills several circuits from one feed, and keeps the others alive when one of them bursts.",
        behaviour="Each outlet opens when the feed at 1, helped by what its circuit holds, lifts its piston. Open "
                  "outlets share their air down to the closing pressure; a burst circuit pulls the others no lower. "
                  "What is pumped above the burst outlet's opening pressure goes on being lost.",
        ports=(SUPPLY, *(Port(o, Role.DELIVERY, lost=KEEPS) for o in outlets)),
        settings=(*CIRCUITS, *outlet_settings(outlets), *((ORDER,) if late else ()), BLEED[0],
                  conductance("10 L/(s.bar)"), BLEED[1]),
        passages=tuple(_ways(outlets, late)),
        stores=(Store("1", LARGE), *(Store(o, MEDIUM) for o in outlets)),
        latches=tuple(latch(o, "1", *(("21", "22") if o in late else ())) for o in outlets),
        failures=(
            *(Failure(f"{o}-stuck-open", f"outlet {o} does not shut: a burst there lets out all that is made",
                      opens=(("1", o), (o, "1"))) for o in outlets),
            *(Failure(f"{o}-stuck-shut", f"outlet {o} does not open: its circuit never fills",
                      shuts=(("1", o), *((high, o) for high in ("21", "22") if o in late))) for o in outlets),
            *(Failure(f"{o}-weeps-across", f"outlet {o} does not seal when shut: with it lost, the others bleed away",
                      opens=(("1", o),), share=SLIGHT) for o in outlets),
            Failure("leaks", "its body leaks outwards, ahead of every outlet", opens=(("1", OUTSIDE),), share=SLIGHT),
        ),
        traits=frozenset({Trait.KEEPS_BACK}),
        aliases=aliases,
        rest={f"open-{o}": 1.0 for o in outlets},
        derive=each_outlet(outlets),
        orders=in_order(outlets),
        symbol=Symbol(6, height, {"1": (0, height // 2), **{o: (6, 1 + 2 * i) for i, o in enumerate(outlets)}},
                      body="none", marks=(
            Stroke(((0, 0), (6, 0), (6, height), (0, height)), True, "white", "chain"),
            line((0, height // 2), (2, height // 2)), line((2, 1), (2, height - 1)),
            *(mark for i in range(len(outlets)) for mark in arrow((2, 1 + 2 * i), (6, 1 + 2 * i))),
            *(spring(2.6, 4.6, 0.5 + 2 * i, 0.3) for i in range(len(outlets))),
        )),
        stage=4,
        turns=(("1", "21"),),
        rows=(24,),
    )


KIND = protection_valve("four-circuit-protection-valve", "Four-circuit protection valve", ("21", "22", "23", "24"),
                        ("quadruple-circuit-protection-valve", "multi-circuit-protection-valve"))
