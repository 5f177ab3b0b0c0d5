"""Coupling head: where a hose between vehicles is joined."""

from circuit.declaring.common import COMMON, LARGE, MODEST, OPEN, SHUT, conductance
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Curve, Symbol, line, thick
from circuit.declaring.traits import Group, Role, Trait


def _feeds(settings, situation):
    """A front head that the drawing does not couple is fed by the towing vehicle: control only while it brakes."""
    if settings["end"] != "front" or settings["joined"] or settings["loose"]:
        return ()
    if settings["line"] == "supply":
        return ("1",) if situation in ("driving", "braking") else ()
    return ("1",) if situation == "braking" else ()


def _lets_go(p, s, x):
    if s["joined"] or s["capped"]:
        return SHUT
    if s["loose"]:
        return SHUT if s["seals"] == "yes" else OPEN
    if s["end"] != "front":
        return SHUT
    held = x["coupled"] if s["line"] == "supply" else x["applied"]
    return SHUT if held else OPEN


KIND = Kind(
    name="coupling-head",
    title="Coupling head",
    group=Group.TOWING,
    purpose="Joins the supply or the control line of two vehicles, and lets go when they part.",
    behaviour="Passes on what the other head gives while coupled. The supply head of a front end is fed by the towing "
              "vehicle, the control head while it brakes; a head that comes off loses its line's air. Heads at the "
              "rear, each behind a cut-out cock, are a pass-through to a further trailer.",
    ports=(Port("1", Role.SPACE, ("line",)),),
    passages=(
        Passage("1", OUTSIDE, "open when nothing is coupled; on a front control head also while the towing vehicle "
                "releases", _lets_go, throat="hole"),
    ),
    settings=(
        Setting("line", "word", "which of the two lines it ends", required=True, choices=("supply", "control")),
        Setting("end", "word", "the end of the vehicle it is on", Typical("front", COMMON), choices=("front", "rear")),
        Setting("seals", "word", "whether it shuts by itself when nothing is coupled to it", Typical("no", COMMON),
                choices=("yes", "no")),
        conductance("10 L/(s.bar)"),
    ),
    stores=(Store("1", LARGE),),
    failures=(
        Failure("off", "the hose has come off", opens=(("1", OUTSIDE),), stops=("1",)),
        Failure("leaks", "its seal leaks", opens=(("1", OUTSIDE),), share=MODEST),
    ),
    traits=frozenset({Trait.COUPLES_VEHICLES}),
    aliases=("glad-hand",),
    rest={"coupled": 1.0, "applied": 0.0},
    when={"parked": {"coupled": 0.0}, "braking": {"applied": 1.0}},
    feeds=_feeds,
    derive=lambda settings: {"joined": 0.0, "loose": 0.0, "capped": 0.0},
    derives=("joined", "loose", "capped"),
    symbol=Symbol(4, 2, {"1": (4, 1)}, body="none", faces=(0, 1), turned_by=("end", "rear"),
                  stages=("end", {"rear": 13}), marks=(
        line((4, 1), (1.8, 1)), Curve(((0.5, -0.3), (3.0, 1), (0.5, 2.3)), 0.3), thick((0.6, 0.2), (0.6, 1.8)),
    )),
    stage=0,
    rows=(69, 78),
)
