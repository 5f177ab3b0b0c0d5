"""Coupling head: where a hose between vehicles is joined."""

from circuit.kinds.kind import (
    COMMON, OUTSIDE, Failure, Group, Kind, Port, Role, Setting, Store, Trait, Typical, cavity,
)


def _feeds(settings, situation):
    """A front head is fed by the towing vehicle: supply whenever coupled, control while it brakes."""
    if settings["end"] != "front":
        return ()
    if settings["line"] == "supply":
        return ("1",) if situation in ("driving", "braking") else ()
    return ("1",) if situation == "braking" else ()


KIND = Kind(
    name="coupling-head",
    title="Coupling head",
    group=Group.TOWING,
    purpose="Joins the supply or the control line of two vehicles, and lets go when they part.",
    behaviour="Open while coupled. The supply head of a front end is fed by the towing vehicle, the control head while "
              "it brakes; a head that comes off loses its line's air.",
    ports=(Port("1", Role.SPACE, ("line",)),),
    settings=(
        Setting("line", "word", "which of the two lines it ends", required=True, choices=("supply", "control")),
        Setting("end", "word", "the end of the vehicle it is on", Typical("front", COMMON), choices=("front", "rear")),
    ),
    stores=(Store("1", cavity(0.05)),),
    failures=(
        Failure("off", "the hose has come off", opens=(("1", OUTSIDE),)),
        Failure("leaks", "its seal leaks", opens=(("1", OUTSIDE),), share=0.02),
    ),
    traits=frozenset({Trait.COUPLES_VEHICLES}),
    aliases=("glad-hand",),
    feeds=_feeds,
    stage=0,
)
