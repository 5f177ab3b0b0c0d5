"""Pressures over time: the circuit as equations made from the same declarations that rules read, and their integrator.

`simulate` plays a script on a circuit and returns a `circuit.model.trace.Trace`; `simulate_many` does it for many
changes of the circuit at once.
"""

from circuit.model.places import NoSuchPlace
from circuit.sim.run import simulate
from circuit.sim.script import (
    Action, Engine, Options, Rig, Script, Variant, burst, couple, feed, leak, move, open_up, press, pull, push, release,
    set_engine, shut, start_engine, stop_engine, stop_feeding, uncouple,
)
from circuit.sim.session import Session
from circuit.sim.variants import simulate_many

__all__ = [
    "Action", "Engine", "NoSuchPlace", "Options", "Rig", "Script", "Session", "Variant", "burst", "couple", "feed", "leak",
    "move", "open_up", "press", "pull", "push", "release", "set_engine", "shut", "simulate", "simulate_many", "start_engine",
    "stop_engine", "stop_feeding", "uncouple",
]
