"""How a workshop proves a failure, and how often one is met, where a kind does not say so itself.

The proof follows from what the failure does: what leaks is brushed, what does not pass is gauged on both sides, what has
drifted is read against a gauge that is known to be right. The part stands in the vehicle, the wheels are chocked.
"""

from circuit.declaring.kind import OUTSIDE, Failure, Kind
from circuit.declaring.traits import Role, Trait

OFTEN, SOMETIMES, SELDOM, FROST = "often", "now and then", "seldom", "in frost, with water in the system"
MET = (
    (OFTEN, ("leak", "weep", "loose", "worn", "overstroked", "out-of-adjustment", "chafed", "link", "dead", "sensor", "empty",
             "oil", "desiccant", "left-", "lost", "full-of-water")),
    (FROST, ("frozen", "iced", "blocked")),
    (SELDOM, ("burst", "spring-broken", "upper", "lower", "cross", "no-", "opens-low", "stuck-at")),
)
"""Parts of names, the first that fits; what fits none is met now and then."""
TEST_GAUGE = "a test gauge that is known to be right"


def often(failure: Failure) -> str:
    """How often a failure is met, in words; common practice, no source."""
    return failure.often or next((word for word, names in MET if any(name in failure.name for name in names)), SOMETIMES)


def proof(kind: Kind, failure: Failure) -> str:
    """How a workshop proves a failure, an order without full stop."""
    if failure.proof:
        return failure.proof
    if failure.scales:
        return f"read {_listed([f'`{name}`' for name in failure.scales])} with {TEST_GAUGE} beside what the design says"
    if failure.jams:
        return "press the pedal or set the park control, and let go: the rod must come back by itself, the wheel turn by hand"
    if failure.idle:
        return _idle(kind)
    if failure.opens and failure.shuts and not {frozenset(w) for w in failure.opens} & {frozenset(w) for w in failure.shuts}:
        return _stands(failure)
    if failure.shuts:
        return _shut(failure)
    if failure.opens:
        return _open(kind, failure)
    if failure.stops:
        return "let the engine run at working speed from empty: the gauges must rise"
    if failure.holds:
        return "work it by hand or by its signal, through each of its positions, and listen and read what each port does"
    return "look at it, and at what comes out of the nearest drain"


def _idle(kind: Kind) -> str:
    if kind.traits & {Trait.SERVICE_ACTUATOR, Trait.SPRING_ACTUATOR}:
        return ("mark the rod, apply fully with 80 to 90 psi (5.5 to 6.2 bar) in the reservoirs, engine off: measure how far it "
                "goes, and turn the wheel")
    return f"put {TEST_GAUGE} on its port and let the pressure rise and fall through what it should show"


def _stands(failure: Failure) -> str:
    (start, end), (other, out) = failure.opens[0], failure.shuts[0]
    return (f"work it through its positions with a gauge at {_port(end)}: air must stop passing from {start} to "
            f"{_port(end)}, and pass from {other} to {_port(out)}")


def _shut(failure: Failure) -> str:
    narrowed = {frozenset(w) for w in failure.opens} & {frozenset(w) for w in failure.shuts}
    start, end = failure.shuts[0]
    if narrowed:
        return f"gauges at {start} and {_port(end)} while much air is drawn: they must stay within 0.5 bar (7 psi)"
    if end in ("3", "31", "32", OUTSIDE):
        return f"charge {start}, let go, and listen at the exhaust: the air must go at once, all of it"
    return f"a gauge at {start} and one at {_port(end)}: when it is asked for, {_port(end)} must follow"


def _open(kind: Kind, failure: Failure) -> str:
    start, end = failure.opens[0]
    exhausts = {port.number for port in kind.ports_as(Role.EXHAUST)}
    if end == OUTSIDE or end in exhausts:
        where = f"its exhaust {end}" if end in exhausts else "it and its fittings"
        return f"with {start} charged, brush {where} with soapy water: no bubble may grow within 5 s"
    return f"charge {start}, open a fitting at {end} while that side is empty: nothing may come out"


def _port(port: str) -> str:
    return "the open air" if port == OUTSIDE else port


def _listed(words: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))
