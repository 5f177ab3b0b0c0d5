"""Coupling head: where a hose between vehicles is joined."""

from circuit.kinds.kind import (
    COMMON, OUTSIDE, Failure, Group, Kind, Passage, Port, Role, Setting, Store, Trait, Typical, cavity, conductance,
)
from circuit.kinds.symbol import Curve, Symbol, line, thick


def _feeds(settings, situation):
    """A front head is fed by the towing vehicle: supply whenever coupled, control while it brakes."""
    if settings["end"] != "front":
        return ()
    if settings["line"] == "supply":
        return ("1",) if situation in ("driving", "braking") else ()
    return ("1",) if situation == "braking" else ()


def _lets_go(p, s, x):
    if s["end"] != "front":
        return -1e5
    held = x["coupled"] if s["line"] == "supply" else x["applied"]
    return -1e5 if held else 1e5


KIND = Kind(
    name="coupling-head",
    title="Coupling head",
    group=Group.TOWING,
    purpose="Joins the supply or the control line of two vehicles, and lets go when they part.",
    behaviour="Open while coupled. The supply head of a front end is fed by the towing vehicle, the control head while "
              "it brakes; a head that comes off loses its line's air.",
    ports=(Port("1", Role.SPACE, ("line",)),),
    passages=(
        Passage("1", OUTSIDE, "open when a supply head is uncoupled; on a control head while the towing vehicle releases",
                _lets_go),
    ),
    settings=(
        Setting("line", "word", "which of the two lines it ends", required=True, choices=("supply", "control")),
        Setting("end", "word", "the end of the vehicle it is on", Typical("front", COMMON), choices=("front", "rear")),
        conductance("10 L/(s.bar)"),
    ),
    stores=(Store("1", cavity(0.05)),),
    failures=(
        Failure("off", "the hose has come off", opens=(("1", OUTSIDE),)),
        Failure("leaks", "its seal leaks", opens=(("1", OUTSIDE),), share=0.02),
    ),
    traits=frozenset({Trait.COUPLES_VEHICLES}),
    aliases=("glad-hand",),
    rest={"coupled": 1.0, "applied": 0.0},
    when={"parked": {"coupled": 0.0}, "braking": {"applied": 1.0}},
    feeds=_feeds,
    symbol=Symbol(4, 2, {"1": (4, 1)}, body="none", turned_by=("end", "rear"),
                  stages=("end", {"rear": 13}), marks=(
        line((4, 1), (1.8, 1)), Curve(((0.5, -0.3), (3.0, 1), (0.5, 2.3)), 0.3), thick((0.6, 0.2), (0.6, 1.8)),
    )),
    stage=0,
)
