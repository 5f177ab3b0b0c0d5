"""What follows from a part's settings, and the order that they keep."""

from collections.abc import Iterator, Mapping
from typing import Any

from circuit.declaring.kind import Kind, Ordered, Settings
from circuit.units import ATMOSPHERE, told_apart


class OutOfOrder(ValueError):
    """Two settings stand the wrong way round; order: which."""

    def __init__(self, kind: Kind, order: Ordered, values: Mapping[str, Any]):
        setting = kind.setting(order.low) or kind.setting(order.high)
        assert setting is not None, "one of two that are ordered is a setting"
        self.order = order
        self.texts = dict(zip(order, told_apart(values[order.low], values[order.high], setting.dimension)))
        super().__init__(f"`{order.low}` {self.texts[order.low]} {self.fault} `{order.high}` {self.texts[order.high]}")

    @property
    def fault(self) -> str:
        return "is above" if self.order.equal else "is not below"


def following(kind: Kind, settings: Settings) -> Mapping[str, Any]:
    """The values that follow from settings. Raises ValueError where the settings contradict each other."""
    derived = kind.derive(settings)
    values = {**settings, **derived}
    for order in disordered(kind, values):
        raise OutOfOrder(kind, order, values)
    return derived


def disordered(kind: Kind, values: Mapping[str, Any]) -> Iterator[Ordered]:
    """The orders of a kind that values break."""
    for order in kind.orders:
        low, high = values[order.low], values[order.high]
        if low is not None and high is not None and (low > high or low == high and not order.equal):
            yield order


def drifted(kind: Kind, settings: Settings, scales: Mapping[str, float]) -> dict[str, Any]:
    """Settings of which a failure has moved some; scales as `Failure` has them. A part that drifts may break an order."""
    moved = dict(settings)
    for name, factor in scales.items():
        setting, value = kind.setting(name), settings[name]
        if value is not None:
            base = ATMOSPHERE if setting is not None and setting.dimension == "pressure" else 0.0
            moved[name] = base + (value - base) * factor
    return {**moved, **kind.derive(moved)}
