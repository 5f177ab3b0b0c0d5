"""The whole program, top to bottom: a file becomes statements, a circuit, a verdict, and then words or a drawing."""

from circuit.mistake import Mistake
from circuit.model.circuit import Circuit
from circuit.model.known_words import VOCABULARY
from circuit.model.resolve import resolve
from circuit.source import Source
from circuit.syntax.parse import parse
from circuit.syntax.read import read
from circuit.syntax.statements import Statement

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable

    from circuit.verdict.judge import Verdict


def load(path: str) -> Circuit:
    """The circuit of a design file. Raises mistake.Unreadable with everything that is wrong with it."""
    return load_source(read(path))


def load_source(source: Source) -> Circuit:
    """The circuit of a design text; files it uses are looked for beside `source.name`. Raises mistake.Unreadable."""
    statements, mistakes = parse(source, VOCABULARY)
    return resolve(source, statements, _used, mistakes)


def check(path: str, rule_sets: tuple[str, ...] = (), simulate: bool = False,
          tell: "Callable[[str], None]" = lambda words: None) -> "Verdict":
    """The verdict on a design file under its own rule sets, or under `rule_sets`. Raises mistake.Unreadable."""
    return judged(load(path), rule_sets, simulate, tell)


def judged(circuit: Circuit, rule_sets: tuple[str, ...] = (), simulate: bool = False,
           tell: "Callable[[str], None]" = lambda words: None) -> "Verdict":
    """The verdict on a circuit; a combination's vehicles are each judged from their own files too.

    simulate: decide what asks for pressures over time as well, from simulations. tell: is told what is worked on.
    """
    from circuit.verdict.judge import judge

    verdict = judge(circuit, rule_sets)
    if simulate:
        from circuit.verdict.predicted import with_predictions

        verdict = with_predictions(verdict, tell)
    own = tuple((name, check(path, rule_sets, simulate, tell)) for name, path in circuit.vehicles.items())
    return verdict._replace(vehicles=own)


def draw_file(path: str, target: str) -> None:
    """Draw a design to a .svg, .pdf, .png or .dot file, its findings marked where they are."""
    from circuit import draw
    from circuit.report.marked import marks_of

    circuit = load(path)
    draw.write(circuit, target, marks_of(judged(circuit)))


def _used(path: str) -> tuple[Source, tuple[Statement, ...], tuple[Mistake, ...]]:
    source = read(path)
    return (source, *parse(source, VOCABULARY))
