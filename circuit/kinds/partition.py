"""Partition: the wall between two reservoirs that are rooms of one shell."""

from circuit.declaring.common import FROM_MEMORY, TINY
from circuit.declaring.kind import Failure, Kind, Port, Setting, Typical
from circuit.declaring.symbol import Symbol, line, thick
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="partition",
    title="Partition of a two-room reservoir",
    group=Group.STORE,
    purpose="Says that two reservoirs are rooms of one shell, so that a leak in the wall between them is thought of.",
    behaviour="Nothing passes a sound wall: each room is a reservoir of its own, with its own check valve, drain and "
              "warning. A leak in the wall joins the two circuits, and nothing on the outside shows it.",
    ports=(
        Port("1", Role.SPACE, ("first",), required=False),
        Port("2", Role.SPACE, ("second",), required=False),
    ),
    settings=(
        Setting("between", "names", "the two reservoirs it parts", required=True),
        Setting("conductance", "conductance", "sonic conductance of the wall torn open",
                Typical("20 L/(s.bar)", FROM_MEMORY)),
    ),
    failures=(
        Failure("leaks", "a seam of the inner wall leaks: the rooms join silently", opens=(("1", "2"), ("2", "1")),
                share=TINY),
        Failure("torn", "the inner wall is torn: the two rooms are one", opens=(("1", "2"), ("2", "1"))),
    ),
    traits=frozenset({Trait.PARTS_ROOMS}),
    aliases=("partition-wall", "shell-wall"),
    symbol=Symbol(2, 3, {"1": (1, 0)}, body="none", marks=(
        line((1, 0), (1, 0.8)), thick((1, 0.8), (1, 3)), line((0.2, 0.8), (1.8, 0.8)),
    )),
    stage=5,
    small=True,
    rows=(16,),
)
