"""Pressures over time: the circuit as equations made from the same declarations that rules read, and their integrator.

`simulate` plays a script on a circuit and returns a `Trace`.
"""

from circuit.sim.run import simulate
from circuit.sim.script import (
    Action, Engine, Options, Rig, Script, Variant, burst, feed, leak, move, open_up, press, pull, push, release, shut,
    start_engine, stop_engine, uncouple,
)

__all__ = [
    "Action", "Engine", "Options", "Rig", "Script", "Variant", "burst", "feed", "leak", "move", "open_up", "press", "pull",
    "push", "release", "shut", "simulate", "start_engine", "stop_engine", "uncouple",
]
