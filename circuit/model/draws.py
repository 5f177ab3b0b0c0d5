"""How many plausible vehicles stand for a circuit, and which."""

from typing import NamedTuple


class Draws(NamedTuple):
    """runs: how many are played where one is quick; slow: where one takes long. seed: draws the same ones again."""

    runs: int = 200
    seed: int = 1
    slow: int = 24


USUAL = Draws()


def usual() -> Draws:
    """What stands for a circuit where nothing else is asked."""
    return USUAL
