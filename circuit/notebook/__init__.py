"""Airwright in a script or a notebook: one design, typed results, units in the names. `PYTHON.md` shows it by examples.

What is written may be given as in a design, `"8.5 bar"` or `"3/8 in"`, as a pint quantity, or as a bare number in SI. What comes
out has its unit in its name; pressures are as a gauge shows them. All of it is predicted from a file and no approval.
"""

from circuit.notebook.over_time import Curves
from circuit.notebook.design import Design, Drawing, DutyHeld, Finding, Findings, Sheet
from circuit.notebook.given import si
from circuit.sim.script import (
    Action, Engine, Options, Rig, Script, Variant, burst, couple, feed, leak, move, open_up, press, pull, push, release,
    set_engine, shut, start_engine, stop_engine, stop_feeding, uncouple,
)
from circuit.sim.session import Session

__all__ = [
    "Action", "Curves", "Design", "Drawing", "DutyHeld", "Engine", "Finding", "Findings", "Options", "Rig", "Script", "Session",
    "Sheet", "Variant", "burst", "couple", "feed", "leak", "move", "open_up", "press", "pull", "push", "release", "set_engine",
    "shut", "si", "start_engine", "stop_engine", "stop_feeding", "uncouple",
]
