"""What valves that give by degrees share: how far they feed, how they vent, and what they do when their supply falls.

Such a valve balances its delivery against what it is asked. Its inlet is a disc on a seat, held shut by a light spring: the
balance lifts it while the delivery is too low, and air of the delivery lifts it when the supply falls below that. So a
delivery never outlives its supply by more than the spring, and falls all the way with it once it has begun to.
"""

from collections.abc import Callable

from circuit.declaring.kind import Passage, Pressures, Settings, State
from circuit.units import ATMOSPHERE

Asked = Callable[[Pressures, Settings, State], float]
"""The absolute Pa that a valve is asked for."""
RETURNS_AT = 0.2e5
"""Pa by which a delivery must be above its supply to lift the inlet off its seat; common practice, no source: 0.1 to 0.3
bar."""


def feeds(asked: Asked, supply: str, delivery: str) -> Callable[[Pressures, Settings, State], float]:
    """Pa by which the inlet is open: by what the delivery lacks, or by the supply having fallen below it.

    Asked for nothing it is shut whatever the supply does: the exhaust stands open then.
    """
    def opening(p: Pressures, s: Settings, x: State) -> float:
        wanted = asked(p, s, x)
        return max(wanted - p[delivery], min(p[delivery] - p[supply] - RETURNS_AT, wanted - ATMOSPHERE))
    return opening


def inlet(supply: str, delivery: str, says: str, asked: Asked) -> Passage:
    """The way in of a valve that gives by degrees. says: while what it feeds."""
    return Passage(supply, delivery, f"{says}, and while {supply} has fallen below {delivery}",
                   feeds(asked, supply, delivery), both_ways=True)
