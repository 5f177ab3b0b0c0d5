"""A small circuit around any kind, for holding it to everybody who reads it.

A kind is stood with all its ports joined as their roles say: what feeds it comes from a reservoir, its signal from the foot
valve or the control line, and what it delivers goes to a brake chamber and to users.
"""

from circuit import kinds
from circuit.clauses import set_names
from circuit.declaring.common import cavity, conductance
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Passage, Port, Setting, Store
from circuit.declaring.traits import PROMISES, Group, Role, Trait

TRUCK = """vehicle stand: class truck, title "Stand"
axle rear: position 2
compressor pump: displacement 12 cfm
governor gov: cut-in 7 bar, cut-out 8.5 bar
reservoir wet: volume 20 L, rated 10 bar, role supply
check-valve guard
foot-valve foot: deliveries 1
hose pump.2 -> wet: bore 5/8 in, length 3 m
tube wet -> guard.1: size 1/2 in, length 1 m
tube guard.2 -> pri: size 1/2 in, length 1 m
tube wet -> gov.1: size 1/4 in, length 1 m
tube gov.2 -> pump.4: size 1/4 in, length 1 m
tube pri -> foot.1: size 1/2 in, length 1 m
tube foot.2 -> signal: size 1/2 in, length 1 m
chamber left: type 20, stroke 2.25 in, axle front, side left
hose signal -> left: bore 3/8 in, length 1 m
"""
TRAILER = """vehicle stand: class semi-trailer, title "Stand"
axle rear: position 2
coupling-head red: line supply
coupling-head yellow: line control
tube red -> pri: size 1/2 in, length 5 m
tube yellow -> signal: size 1/2 in, length 1 m
"""
BENCH = """vehicle stand: class truck, title "Stand"
axle rear: position 2
"""
COMMON = f"""rules {" and ".join(set_names())}
axle front: position 1
reservoir pri: volume 40 L, rated 10 bar, role service
manifold air and signal: holes 12
tube pri -> air: size 1/2 in, length 1 m
"""
VALUES = {"volume": "20 L", "pressure": "8 bar", "difference": "0.2 bar", "length": "1 m", "flow": "12 cfm",
          "size": "1/2 in", "bore": "3/8 in", "count": "4", "text": '"horn"', "name": "rear", "fraction": "50 %",
          "names": "pri and spare", "reference": "air", "ratio": "1", "chamber": "20", "conductance": "5 L/(s.bar)",
          "speed": "1500 rpm", "temperature": "20 °C", "area": "20 in2", "force": "5 kN", "time": "10 s", "mass": "5 t"}
PIPED = "size 3/8 in, length 1 m"


def written(setting: Setting, kind: Kind) -> str:
    """A setting as a design could give it."""
    if setting.choices:
        return f"{setting.name} {setting.choices[0]}"
    if setting.within:
        return f"{setting.name} {setting.within[0 if any(order.low == setting.name for order in kind.orders) else 1]}"
    if any(order.low == setting.name for order in kind.orders):
        return f"{setting.name} 7 bar"
    double = setting.dimension == "chamber" and kind.port("spring") is not None
    return f"{setting.name} {'20/20' if double else VALUES[setting.dimension]}"


def stood(kind: Kind, around: str = TRUCK) -> str:
    """The text of a small circuit with one part or line of a kind, called `part` where it is no line."""
    settings = [written(s, kind) for s in kind.settings if s.required or s.name == "on"]
    tail = ": " + ", ".join(settings) if settings else ""
    rows = [around + COMMON]
    if "spare" in tail:
        rows.append("reservoir spare: volume 20 L, rated 10 bar, role service")
    if Trait.LINE in kind.traits:
        rows += ['consumer user: use "a horn"', f"{kind.name} air -> user{tail}"]
    else:
        rows += [f"{kind.name} part{tail}", *_joined(kind)]
    return "\n".join(rows) + "\n"


def _joined(kind: Kind) -> list[str]:
    """The lines between the ports of a part and what stands around it, by their roles."""
    rows: list[str] = []
    hosted = kind.setting("on") is not None
    for number, port in enumerate(kind.ports):
        here = f"part.{port.number}"
        if hosted and number == 0 or port.role is Role.EXHAUST:
            continue
        elif port.role is Role.DELIVERY and "chamber work" not in "\n".join(rows):
            rows += ["chamber work: type 20, stroke 2.25 in, axle rear, side left", f"tube {here} -> work: {PIPED}"]
        elif port.role is Role.DELIVERY:
            rows += [f'consumer user-{number}: use "a horn"', f"tube {here} -> user-{number}: {PIPED}"]
        elif port.role is Role.CONTROL or Trait.SERVICE_ACTUATOR in kind.traits and number == 0:
            rows.append(f"tube signal -> {here}: {PIPED}")
        else:
            rows.append(f"tube air -> {here}: {PIPED}")
    return rows


def bare(trait: Trait) -> Kind:
    """A kind that has a trait, declares what the trait promises, and nothing else: what a reader may count on at least.

    Ports and settings are as some real kind with the trait has them.
    """
    models = [kind for kind in kinds.every() if trait in kind.traits]
    line = trait in (Trait.LINE, Trait.DIRECT, Trait.MELTS, Trait.STIFF)
    promises = [*PROMISES.get(trait, ()), *(PROMISES[Trait.LINE] if line else ())]
    ports: dict[str, Port] = {}
    settings: dict[str, Setting] = {}
    rest: dict[str, float] = {}
    derived: dict[str, float | None] = {}
    if line and trait is not Trait.DIRECT:
        promises += ["value:bore", "value:length"]
    for promise in promises:
        what, _, name = promise.partition(":")
        models = models or [kind for kind in kinds.every() if Trait.LINE in kind.traits]
        port = next((found for kind in models if (found := kind.port(name))), None)
        setting = next((found for kind in models if (found := kind.setting(name))), None)
        if what == "port" and port is not None:
            ports[port.number] = port._replace(holes=4, holes_from="")
        elif what == "state":
            rest[name] = 0.0
        elif setting is not None:
            settings[name] = setting
        elif name == "bore":
            settings[name] = Setting("bore", "bore", "inside diameter", required=True)
        else:
            derived[name] = None if name == "rated-volume" else 1e-3
    ports = ports or {"1": Port("1", Role.SPACE)}
    numbers = sorted(ports)
    passages = ()
    if trait is not Trait.DIRECT:
        settings.setdefault("conductance", conductance("5 L/(s.bar)"))
        passages = tuple(Passage(one, other, "always open", both_ways=True) for one in numbers for other in numbers
                         if one < other and ports[one].role in (Role.SUPPLY, Role.END)
                         and ports[other].role in (Role.DELIVERY, Role.END))
    failures = () if trait is Trait.DIRECT else (Failure("leaks", "it leaks", opens=((numbers[0], OUTSIDE),), share=0.01),)
    return Kind(
        name="bare-" + trait.name.lower().replace("_", "-"), title="Bare", group=Group.LINES, purpose="Only promises.",
        behaviour="Only promises.", ports=tuple(ports[number] for number in numbers), settings=tuple(settings.values()),
        passages=passages, failures=failures,
        stores=() if trait is Trait.DIRECT else tuple(Store(number, cavity(0.05)) for number in numbers),
        traits=frozenset({trait} | ({Trait.LINE} if line else set())), rest=rest, derives=tuple(derived),
        derive=lambda written: dict(derived),
    )
