"""Mistakes in making and treating the air: parts in the wrong order."""

from collections.abc import Iterator
from random import Random

from circuit import kinds
from circuit.declaring.traits import Trait
from circuit.model.devices import Device
from circuit.plant.bed import Bed
from circuit.plant.planting import Operator, Site
from circuit.plant.rows import Add, Edit, rows_of, swapped


def _antifreeze_first(bed: Bed, chance: Random) -> Iterator[Site]:
    """Antifreeze put into the air ahead of the dryer."""
    part = next((kind for kind in kinds.every() if Trait.ADDS_ANTIFREEZE in kind.traits and kind.port("1")
                 and not any(setting.required for setting in kind.settings)
                 and not any(port.required for port in kind.ports if port.number not in ("1", "2"))), None)
    for dryer in bed.own(Trait.DRIES):
        line = bed.only_line((dryer.name, "1"))
        found = bed.inserted(*line, part) if line is not None and part is not None else None
        if found is not None:
            yield Site(found[1], (found[0], dryer.name), f"{found[0]} stands before {dryer.name}")


def _dryer_late(bed: Bed, chance: Random) -> Iterator[Site]:
    """The dryer behind the wet reservoir; what the reservoir fed is fed from the dryer."""
    circuit = bed.circuit
    block = next((kind for kind in kinds.every() if Trait.JOINS in kind.traits and kind.ports[0].holes_from), None)
    for dryer in bed.own(Trait.DRIES):
        outlet = next((b for a, b in dryer.kind.turns if a == "1"), None)
        entry, leaving = bed.only_line((dryer.name, "1")), bed.only_line((dryer.name, outlet)) if outlet else None
        if block is None or entry is None or leaving is None or leaving[0].ends is None or outlet is None:
            continue
        key = leaving[0].ends[1 - leaving[1]]
        wet = circuit.by_name[key[0]]
        fed = [each for each in bed.lines_at(key) if each[0] is not leaving[0] and not _senses(bed, each)]
        statement = bed.statement(leaving[0])
        if not wet.has(Trait.STORES_AIR) or not fed or statement is None:
            continue
        name, last = bed.free_name(block.name), rows_of(statement)[-1]
        edits: list[Edit] = [
            bed.moved(*entry, key),
            swapped(bed.end(*leaving).span, bed.reference(key)),
            swapped(bed.end(leaving[0], 1 - leaving[1]).span, f"{dryer.name}.1"),
            Add(last, f"{block.name} {name}: {block.ports[0].holes_from} {len(fed) + 1}"),
        ]
        row = bed.like(leaving[0], (dryer.name, outlet), key)
        edits.append(Add(last, row.replace(f"-> {bed.reference(key)}", f"-> {name}", 1)))
        edits += [swapped(bed.end(*each).span, name) for each in fed]
        yield Site(tuple(edits), (dryer.name, wet.name), f"{dryer.name} stands behind {wet.name}")


def _senses(bed: Bed, end: tuple[Device, int]) -> bool:
    """Whether a line only tells the governor the pressure."""
    line, place = end
    return line.ends is not None and bed.circuit.by_name[line.ends[1 - place][0]].has(Trait.GOVERNS)


OPERATORS = (
    Operator("antifreeze-first", "antifreeze ahead of the dryer", ("antifreeze-before-dryer",),
             "antifreeze, alcohol, desiccant", _antifreeze_first),
    Operator("dryer-late", "the dryer behind the wet reservoir", ("dryer-after-wet-reservoir",),
             "dryer, behind, wet", _dryer_late),
)
