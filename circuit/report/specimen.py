"""A design of one part, to show the symbol of its kind."""

from circuit import kinds
from circuit.declaring.traits import Trait
from circuit.report.explain import sample
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
