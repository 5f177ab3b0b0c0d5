"""Vehicles coupled together: which coupling heads are joined, and how the others stand."""

from circuit.declaring.traits import Trait
from circuit.model.devices import Coupling
from circuit.model.names import Names
from circuit.source import Span
from circuit.syntax.statements import Statement


def couplings(names: Names, statements: list[Statement]) -> tuple[Coupling, ...]:
    """The heads that `couple` statements join."""
    found: list[Coupling] = []
    taken: dict[str, Span] = {}
    for statement in statements:
        if statement.ends is None:
            names.wrong(statement.span, "`couple` joins two coupling heads",
                        "write couple tractor.supply-head -> semi.supply-head")
            continue
        keys = [names.port(end) for end in statement.ends]
        for key, end in zip(keys, statement.ends):
            if key is None:
                continue
            if not names.devices[key[0]].has(Trait.COUPLES_VEHICLES):
                names.wrong(end.span, f"`{end.text}` is a {names.devices[key[0]].kind.name}, not a coupling head",
                            "name a coupling head of each vehicle")
            elif key[0] in taken:
                names.wrong(end.span, f"`{end.text}` is coupled twice", "a head takes one hose",
                            (taken[key[0]], "the first time"))
            else:
                taken[key[0]] = end.span
        if keys[0] is not None and keys[1] is not None:
            found.append(Coupling((keys[0][0], keys[1][0]), statement.span))
    return tuple(found)


def stand(names: Names, joins: tuple[Coupling, ...], together: bool) -> None:
    """Tells each coupling head how it stands: `joined` to another, `loose` in a combination, `capped` by a dummy."""
    joined = {name for coupling in joins for name in coupling.ends}
    capped = {device.host[0] for device in names.devices.values() if device.host and device.has(Trait.CAPS)}
    for name, device in names.devices.items():
        if device.has(Trait.COUPLES_VEHICLES):
            states = {"joined": float(name in joined), "loose": float(together and name not in joined),
                      "capped": float(name in capped)}
            names.devices[name] = device._replace(settings={**device.settings, **states})
