"""The whole program, top to bottom: a file becomes statements, a circuit, a verdict, and then words or a drawing."""

import os
from functools import partial

from circuit.files import folder
from circuit.mistake import Mistake, Unreadable
from circuit.model.circuit import Circuit
from circuit.model.known_words import VOCABULARY
from circuit.model.resolve import Understood, understood
from circuit.sealing import is_sealed, refuse_sealed
from circuit.source import Source, Span, harmless
from circuit.syntax.fence import Fence, fence_of
from circuit.syntax.parse import parse
from circuit.syntax.read import read
from circuit.syntax.statements import Statement

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable

    from circuit.gate.gate import Gate
    from circuit.verdict.judge import Verdict


MOST_PARTS = 1500
"""Things and lines of a design with mistakes that is judged as far as it is understood; our choice, a vehicle has some 200."""


def load(path: str, root: str = "") -> Circuit:
    """The circuit of a design file. Raises mistake.Unreadable with everything that is wrong with it.

    root: the folder under which it may bring in files, else what `syntax/fence` finds.
    """
    return load_source(opened(path, root), root)


def load_source(source: Source, root: str = "") -> Circuit:
    """The circuit of a design text; files it uses are looked for beside `source.name`. Raises mistake.Unreadable."""
    known = as_far(source, root)
    if known.mistakes or known.circuit is None:
        raise Unreadable(known.mistakes)
    return known.circuit


def as_far(source: Source, root: str = "", reading: "Callable[[str], Source]" = read) -> Understood:
    """What is understood of a design text: its circuit as far as there is one, and every mistake.

    reading: gives the text of a file that it brings in, where that is not the one on disk.
    """
    statements, mistakes = parse(source, VOCABULARY)
    return understood(source, statements, partial(_used, fence_of(source.name, str(folder("shared")), root), reading), mistakes)


def opened(path: str, root: str = "") -> Source:
    """The text of a design; a link that leads out of its root is not followed. Raises mistake.Unreadable."""
    if os.path.islink(path):
        refuse(fence_of(path, str(folder("shared")), root), path)
    return read(path)


def check(path: str, rule_sets: tuple[str, ...] = (), simulate: bool = False,
          tell: "Callable[[str], None]" = lambda words: None, gate: "Gate | None" = None) -> "Verdict":
    """The verdict on a design file under its own rule sets, or under `rule_sets`. Raises mistake.Unreadable."""
    circuit = load(path, gate.root if gate else "")
    refuse_sealed(circuit.source)
    return judged(circuit, rule_sets, simulate, tell, gate)


def judged(circuit: Circuit, rule_sets: tuple[str, ...] = (), simulate: bool = False,
           tell: "Callable[[str], None]" = lambda words: None, gate: "Gate | None" = None,
           of: "Callable[[str], Verdict | None] | None" = None) -> "Verdict":
    """The verdict on a circuit; a combination's vehicles are each judged from their own files too.

    simulate: decide what asks for pressures over time as well, from simulations. tell: is told what is worked on. gate: what
    holds for all designs of a project, whatever they say themselves. of: gives the verdict on a vehicle's file, where it is
    known already.
    """
    from circuit.verdict.judge import judge

    design = circuit
    if gate is not None:
        circuit, rule_sets = gate.begun(design), gate.sets(design, rule_sets)
    verdict = judge(circuit, rule_sets)
    if simulate:
        from circuit.verdict.predicted import with_predictions

        verdict = with_predictions(verdict, tell)
    if gate is not None:
        verdict = gate.ended(verdict, design)
    def own(path: str) -> "Verdict | None":
        return of(path) if of else check(path, rule_sets, simulate, tell, gate)

    each = ((name, own(path)) for name, path in circuit.vehicles.items())
    return verdict._replace(vehicles=tuple((name, own) for name, own in each if own is not None))


def standing(known: Understood, rule_sets: tuple[str, ...] = (), gate: "Gate | None" = None,
             own: "Callable[[str], Verdict | None] | None" = None) -> "Verdict | None":
    """What can be judged of a design that has mistakes, its vehicles too; None where too little of it is understood, and for
    one of more than MOST_PARTS, which would take long. own: gives the verdict on a vehicle's file, where it is known already."""
    from circuit.verdict.standing import hangs_on
    from circuit.verdict.standing import standing as judged_partly

    design = known.circuit
    if design is None or not 0 < len(design.devices) <= MOST_PARTS:
        return None
    circuit = design
    if gate is not None:
        circuit, rule_sets = gate.begun(design), gate.sets(design, rule_sets)
    verdict = judged_partly(circuit, known.unknown, hangs_on(known.mistakes), rule_sets)
    if gate is not None:
        verdict = verdict._replace(severities=gate.policy.severity)  # what the policy misses waits for the whole design
    of = own or partial(_by_itself, rule_sets, gate)
    each = ((name, of(path)) for name, path in circuit.vehicles.items())
    return verdict._replace(vehicles=tuple((name, found) for name, found in each if found is not None))


def _by_itself(rule_sets: tuple[str, ...], gate: "Gate | None", path: str) -> "Verdict | None":
    """A vehicle of a combination, as far as it is understood."""
    root = gate.root if gate else ""
    known = as_far(opened(path, root), root)
    if known.circuit is not None and not known.mistakes:
        return judged(known.circuit, rule_sets, gate=gate)
    return standing(known, rule_sets, gate)


def draw_file(path: str, target: str) -> None:
    """Draw a design to a .svg, .pdf, .png or .dot file, its findings marked where they are."""
    from circuit import draw
    from circuit.report.marked import marks_of

    circuit = load(path)
    draw.write(circuit, target, () if is_sealed(circuit.source) else marks_of(judged(circuit)))


def refuse(fence: Fence, path: str) -> None:
    """Raises Unreadable for a file that a design may not bring in."""
    says, expected = fence.refusal(path)
    if says:
        raise Unreadable((Mistake(Span(Source(harmless(path), ""), 1, 1), says, expected),))


def _used(fence: Fence, reading: "Callable[[str], Source]",
          path: str) -> tuple[Source, tuple[Statement, ...], tuple[Mistake, ...]]:
    """A file that a design brings in. What is no design is refused as a whole: none of its rows is shown to anybody."""
    refuse(fence, path)
    source = reading(path)
    statements, mistakes = parse(source, VOCABULARY)
    begun = sum(one.kind.text in VOCABULARY.kinds or not one.broken for one in statements)
    if 2 * begun < len(statements) or (mistakes and not statements):
        raise Unreadable((Mistake(Span(source, 1, 1), "it is no design: most of its rows are no statements",
                                  "check the name"),))
    return source, statements, mistakes
