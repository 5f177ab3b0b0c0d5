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
    if not circuit.vehicles:
        return verdict
    own = tuple((name, check(path, rule_sets, simulate, tell)) for name, path in circuit.vehicles.items())
    return verdict._replace(vehicles=own)


def draw_file(path: str, target: str) -> None:
    """Draw a design to a .svg, .pdf, .png or .dot file, its findings marked where they are."""
    from circuit import draw as drawing

    circuit = load(path)
    drawing.write(circuit, target, marks_of(judged(circuit)))


def specimen(kind_name: str) -> Circuit | None:
    """A circuit of one part, to show the symbol of its kind; None when there is no such kind, or it is a line."""
    from circuit import kinds
    from circuit.declaring.traits import Trait
    from circuit.report.explain import sample

    kind = kinds.find(kind_name)
    if kind is None or Trait.LINE in kind.traits:
        return None
    written = sample(kind, "part")
    hosts = [f"reservoir {name}: volume 20 L, rated 10 bar, role supply" for name in ("wet", "dry")
             if name in written.replace(",", " ").split()]
    rows = [f'vehicle specimen: class truck, title "{kind.title}"', "axle rear: position 1", *hosts, written, ""]
    text = "\n".join(rows)
    return load_source(Source(f"{kind_name}.air", text))


def marks_of(verdict: "Verdict"):  # type: ignore[no-untyped-def]
    """The open findings of a verdict as marks of a drawing, numbered as in the report, each vehicle's by itself too."""
    from circuit.draw.paint import Mark

    marks = []
    for of, own in (("", verdict), *verdict.vehicles):
        for number, judgement in enumerate((j for j in own.findings if j.is_open), 1):
            thing = judgement.answer.thing
            at = judgement.answer.at.outermost
            name = thing if thing in own.circuit.by_name else next(
                (d.name for d in own.circuit.devices if d.span.outermost == at), thing)
            marks.append(Mark(f"{of}.{name}" if of else name, f"{of} {number}".strip(), judgement.severity))
    return tuple(marks)


def reading_of(verdict: "Verdict", state: str | None, at: float | None = None):  # type: ignore[no-untyped-def]
    """The pressures of a state (parked, driving, braking, released) to colour a drawing by; None for no state.

    at: of the trial that is named in the state's place, s. Raises ValueError for a trial or a time that is not there.
    """
    if state is None:
        return None
    from circuit.report.situations import moment, reading

    return reading(verdict.evidence, state) if at is None else moment(verdict.circuit, state, at)


def sheets(verdict: "Verdict", target: str, size: str, marks=(), reading=None, date: str = "",  # type: ignore[no-untyped-def]
           search: int = 1) -> dict[str, bytes]:
    """The schematic on sheets of a size (A4, A3, Letter, Tabloid): file name to content. search: see draw.svg.

    One .pdf holds all sheets; of .svg and .png further ones have their number before the ending.
    """
    from circuit.draw.export import png
    from circuit.draw.layout import lay_out_circuit
    from circuit.draw.sheet import sheets as as_pdf
    from circuit.draw.sheet import sheets_as_svg
    from circuit.report.sheets.origin import block_of

    asked = (lay_out_circuit(verdict.circuit, search), block_of(verdict, date), size, marks, reading)
    stem, _, ending = target.rpartition(".")
    if ending.lower() == "pdf":
        return {target: as_pdf(*asked)}
    pages = sheets_as_svg(*asked)
    names = (target, *(f"{stem}-{number}.{ending}" for number in range(2, len(pages) + 1)))
    return {name: page.encode() if ending.lower() == "svg" else png(page) for name, page in zip(names, pages)}


def papers(path: str, size: str = "A3", date: str = "",
           tell: "Callable[[str], None]" = lambda words: None) -> dict[str, bytes]:
    """Everything that is handed in for a design: file name to content, one PDF and a CSV file for each table.

    size: of the schematic's sheets. tell: is told what is worked on. Raises mistake.Unreadable, and draw.CannotDraw
    where a library is missing.
    """
    from circuit.report.sheets.papers import papers as all_papers
    from circuit.report.sheets.printed import printed
    from circuit.report.sheets.table import as_csv

    verdict = check(path, simulate=True, tell=tell)
    found = all_papers(verdict, tell)
    tables = {f"{table.key}.csv": as_csv(table).encode("utf-8") for paper in found for table in paper.tables}
    tell("drawing the schematic")
    return {"papers.pdf": printed(verdict, found, marks_of(verdict), size, date), **tables}


def _used(path: str) -> tuple[Source, tuple[Statement, ...], tuple[Mistake, ...]]:
    source = read(path)
    return (source, *parse(source, VOCABULARY))
