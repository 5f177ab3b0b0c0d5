"""A design of one part, to show the symbol of its kind."""

from circuit import kinds
from circuit.declaring.kind import Kind, Setting
from circuit.declaring.traits import Trait
from circuit.source import Source


def specimen(kind_name: str) -> Source | None:
    """Its text, or None when there is no such kind, or it is a line."""
    kind = kinds.find(kind_name)
    if kind is None or Trait.LINE in kind.traits:
        return None
    written = sample(kind, "part")
    hosts = [f"reservoir {name}: volume 20 L, rated 10 bar, role supply" for name in ("wet", "dry")
             if name in written.replace(",", " ").split()]
    rows = [f'vehicle specimen: class truck, title "{kind.title}"', "axle rear: position 1", *hosts, written, ""]
    return Source(f"{kind_name}.air", "\n".join(rows))


_VALUES = {"volume": "20 L", "pressure": "8.5 bar", "difference": "0.2 bar", "length": "2 m", "flow": "12 cfm",
           "chamber": "20", "size": "1/2 in", "bore": "3/8 in", "count": "4", "text": '"horn"', "name": "rear",
           "reference": "wet", "place": "wet", "names": "wet and dry", "fraction": "50 %"}
_LOWER = {"pressure": "7 bar", "length": "0.5 m"}
"""As the value above, for a setting that stays below another one."""
_BY_NAME = {"stroke": "2.5 in", "type": "20"}


def sample(kind: Kind, name: str = "NAME") -> str:
    """A statement of the kind with everything it must have."""
    def value(setting: Setting) -> str:
        if setting.choices:
            return setting.choices[0]
        if setting.name == "type" and Trait.SPRING_ACTUATOR in kind.traits:
            return "30/30"
        if setting.name in _BY_NAME:
            return _BY_NAME[setting.name]
        if any(order.low == setting.name for order in kind.orders):
            return _LOWER[setting.dimension]
        return _VALUES.get(setting.dimension, "1")

    wanted = [s for s in kind.settings if s.required or s.name == "on"]
    tail = ": " + ", ".join(f"{s.name} {value(s)}" for s in wanted) if wanted else ""
    subject = "wet -> foot.1" if Trait.LINE in kind.traits else name
    return f"{kind.name} {subject}{tail}"
