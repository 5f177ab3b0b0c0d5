"""Which things of two versions of a design are one thing with another name, perhaps with other settings too."""

from collections import Counter
from collections.abc import Container, Mapping

from circuit.model.circuit import Circuit
from circuit.model.devices import Device, PortKey


def renamed(old: Circuit, new: Circuit) -> dict[str, str]:
    """Old names of things to new ones: what has only another name first, and so perhaps have its neighbours; then what stands
    joined as before under another name with other settings. Places of assemblies are renamed with what is in them."""
    gone = {d.name: d for d in old.devices if not d.is_line and d.name not in new.by_name}
    come = {d.name: d for d in new.devices if not d.is_line and d.name not in old.by_name}
    names: dict[str, str] = {}
    while found := (_found(old, new, gone, come, names, True) or _found(old, new, gone, come, names, False)):
        names |= found
    return names | _places(old, new, names)


def _found(old: Circuit, new: Circuit, gone: Mapping[str, Device], come: Mapping[str, Device], names: Mapping[str, str],
           same_settings: bool) -> dict[str, str]:
    """Further names, where exactly one thing of each design can be meant. names: those that are known already."""
    kept = {name for name in new.by_name if name not in come or name in names.values()}
    before = {name: _signature(old, d, names, kept, same_settings) for name, d in gone.items() if name not in names}
    after = {name: _signature(new, d, {}, kept, same_settings) for name, d in come.items() if name not in names.values()}
    counted = Counter(before.values()), Counter(after.values())
    by_mark = {mark: name for name, mark in after.items() if counted[1][mark] == 1}
    return {one: by_mark[mark] for one, mark in before.items() if mark and mark in by_mark and counted[0][mark] == 1}


def _places(old: Circuit, new: Circuit, names: Mapping[str, str]) -> dict[str, str]:
    """Places of assemblies, all of whose things are found at another place."""
    found: dict[str, set[str]] = {}
    for one, other in names.items():
        place, dot, rest = one.partition(".")
        if dot and other.endswith(f".{rest}"):
            found.setdefault(place, set()).add(other[: -len(rest) - 1])
    return {place: next(iter(others)) for place, others in found.items()
            if len(others) == 1 and place not in old.by_name and not any(name.startswith(f"{place}.") for name in new.by_name)}


def _signature(circuit: Circuit, device: Device, names: Mapping[str, str], kept: Container[str],
               with_settings: bool) -> tuple[object, ...]:
    """What a thing is apart from its name: its kind, its settings, and what is on its ports; empty for one that nothing tells.

    names: of things that are known to be renamed. kept: things that both designs have; any other is known by its kind.
    """
    def called(key: PortKey) -> tuple[str, str]:
        name = names.get(key[0], key[0])
        return (name if name in kept else f"a {circuit.by_name[key[0]].kind.name}"), key[1]

    ends = sorted((one[1], line.kind.name, called(other)) for line in circuit.devices if line.ends
                  for one, other in (line.ends, line.ends[::-1]) if one[0] == device.name)
    hung = sorted((part.kind.name, part.host[1]) for part in circuit.devices
                  if part.host is not None and part.host[0] == device.name)
    if not with_settings and not ends and device.host is None:
        return ()
    settings = tuple(sorted(written(device).items())) if with_settings else ()
    return (device.kind.name, settings, tuple(ends), tuple(hung), called(device.host) if device.host else None)


def written(device: Device) -> dict[str, str]:
    """The settings of a thing as values for comparison: what the design writes, in SI, and how it reads."""
    return {name: given.text for name, given in device.given.items() if name != "on" and not given.assumed}


def called(name: str, names: Mapping[str, str]) -> str:
    """A thing, a port or a place of the old design by its new name."""
    head, dot, rest = name, "", ""
    while head:
        if head in names:
            return f"{names[head]}{dot}{rest}"
        head, _, last = head.rpartition(".")
        dot, rest = ".", f"{last}.{rest}" if rest else last
    return name
