"""What a band is called: what the air in it is for, and what is done there."""

from circuit.draw.layout import Layout
from circuit.draw.parts import own_name
from circuit.draw.roles import AUXILIARY, PARKING, SERVICE, SOURCE, TRAILER_CONTROL, TRAILER_SUPPLY
from circuit.declaring.traits import Trait

_LEAST = 0.2
"""The share of a band's lines from which a purpose is named."""
_WORDS = {SOURCE: "supply", SERVICE: "service", PARKING: "parking", AUXILIARY: "auxiliaries", TRAILER_CONTROL: "towing",
          TRAILER_SUPPLY: "towing"}


def band_title(band: Layout) -> str:
    """In words: purposes by how many lines serve them, storage, and the axles."""
    natures = {member.number: member.nature for member in band.roles.circuits}
    counts: dict[str, int] = {}
    for drawn in band.wires:
        word = _WORDS[natures[drawn.wire.circuit]]
        counts[word] = counts.get(word, 0) + len(drawn.wire.runs)
    total = sum(counts.values())
    found = [word for word in dict.fromkeys(_WORDS.values()) if counts.get(word, 0) >= _LEAST * total and word in counts]
    devices = [body.device for body in band.bodies]
    if any(device.has(Trait.STORES_AIR) for device in devices):
        found.insert(1 if found[:1] == ["supply"] else 0, "storage")
    axles = dict.fromkeys(own_name(band.circuit, whole.axle) for whole in band.wheels)
    words = _listed(found)
    if axles:
        words += f": axle{'s' if len(axles) > 1 else ''} {_listed(list(axles))}"
    return words[:1].upper() + words[1:]


def _listed(words: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))
