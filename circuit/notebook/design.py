"""A design as an object: its findings, duties, sheets, drawing, and runs of it."""

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from html import escape
from importlib import import_module
from typing import Any, Literal, NamedTuple

from circuit import pipeline
from circuit.judging.rule import Judgement
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.model.places import device_named
from circuit.notebook.over_time import Curves
from circuit.notebook.given import Value, setting, si
from circuit.report.table import Table, as_csv
from circuit.sim.script import Engine, Options, Script, Variant
from circuit.source import Source
from circuit.verdict.judge import Verdict, consequence

Severity = Literal["error", "warning", "note"]
USUAL_AIR = (303.15, 0.6)
"""K and relative humidity of the air that is taken in, where nothing else is said."""
Study = Literal["charge", "duties", "faults", "force", "leak_down", "reserve", "respond", "sizes", "trials", "water"]


class Finding(NamedTuple):
    """One thing that a rule found. place: the part, axle or vehicle. row: in the design, from 1. waived: why somebody
    accepted it, or "". follows: what goes with it."""

    rule: str
    severity: Severity
    place: str
    says: str
    consequence: str
    remedy: str
    clause: str
    file: str
    row: int
    waived: str
    follows: tuple[str, ...]


class Findings(tuple[Finding, ...]):
    """Findings in the order of the design; a notebook shows them as a table."""

    @property
    def open(self) -> "Findings":
        """Those that nobody has accepted."""
        return Findings(each for each in self if not each.waived)

    def to_mapping(self) -> Mapping[str, list[Any]]:
        """Columns by name."""
        return {name: [getattr(each, name) for each in self] for name in Finding._fields}

    def to_pandas(self) -> Any:
        """A data frame; pandas has to be there."""
        return import_module("pandas").DataFrame(self.to_mapping())

    def _repr_html_(self) -> str:
        return _html(("severity", "rule", "place", "says", "remedy", "asked by", "row"), (
            (each.severity, each.rule, each.place, each.says, each.remedy, each.clause, str(each.row)) for each in self))


class DutyHeld(NamedTuple):
    """A duty of one place: kept, broken or open, which is not decided. when: the state of hands and feet; says: what stands
    there."""

    place: str
    duty: str
    kept: Literal["kept", "broken", "open"]
    when: str
    says: str


class Sheet(NamedTuple):
    """A table as papers have it. The unit of a column of figures ends its name."""

    title: str
    table: Table

    def to_mapping(self) -> Mapping[str, list[float | str | None]]:
        """Columns by name; figures as numbers, an empty cell of a figure as None."""
        return {name: [_cell(cell, name in self.table.numbers) for cell in self.table.column(name)]
                for name in self.table.columns}

    def to_pandas(self) -> Any:
        """A data frame; pandas has to be there."""
        return import_module("pandas").DataFrame(self.to_mapping())

    def to_csv(self) -> str:
        return as_csv(self.table)

    def _repr_html_(self) -> str:
        return f"<h4>{escape(self.title)}</h4>" + _html(self.table.columns, self.table.rows)


class Drawing(NamedTuple):
    """A picture; a notebook shows it."""

    svg: str

    def _repr_svg_(self) -> str:
        return self.svg


class Design:
    """A design from a file, or from a text with a file's name beside which it brings in others. Raises circuit.Unreadable."""

    def __init__(self, path: str, text: str | None = None) -> None:
        self.circuit: Circuit = pipeline.load(path) if text is None else pipeline.load_source(Source(path, text))

    def __repr__(self) -> str:
        lines = sum(device.is_line for device in self.circuit.devices)
        return f"<Design {self.circuit.vehicle.title!r}: {len(self.circuit.devices) - lines} things, {lines} lines>"

    # --- what stands in it ------------------------------------------------------------------------------------------

    def part(self, name: str) -> Device:
        """A part by its name; a line by its own name or by its two ends, `"foot.21 -> relay.4"`, either way round.

        Raises NoSuchPlace."""
        return device_named(self.circuit, name)

    @cached_property
    def verdict(self) -> Verdict:
        """The whole verdict, as `check` has it."""
        return pipeline.judged(self.circuit)

    @cached_property
    def findings(self) -> Findings:
        """What is not met, accepted or not; of the vehicles of a combination too."""
        return Findings(_findings(self.verdict))

    @cached_property
    def duties(self) -> tuple[DutyHeld, ...]:
        """Every duty of every place."""
        from circuit.duties import held

        return tuple(DutyHeld(each.found.place, each.duty.name, _KEPT[each.found.kept.name], each.found.when, each.found.says)
                     for each in held(self.verdict.evidence))

    def study(self, name: Study) -> tuple[Sheet, ...]:
        """The tables of a study, as the command of that name has them."""
        account = import_module(f"circuit.report.studies.{name}").account
        wants = next(iter(account.__annotations__.values()))
        more = USUAL_AIR if name == "water" else ()
        found = account(self.verdict if wants in (Verdict, "Verdict") else self.circuit, *more)
        return tuple(Sheet(table.title, table) for table in found.tables if table.rows)

    def sizes(self) -> tuple[Sheet, ...]:
        """The volume sheet."""
        return self.study("sizes")

    def drawing(self) -> Drawing:
        """The schematic, with its findings marked."""
        from circuit.draw import svg
        from circuit.report.marked import marks_of

        return Drawing(svg(self.circuit, marks_of(self.verdict)))

    def _repr_html_(self) -> str:
        counts = {word: sum(each.severity == word for each in self.findings.open) for word in ("error", "warning", "note")}
        said = ", ".join(f"{number} {word}{'s' * (number != 1)}" for word, number in counts.items())
        return (f"<h3>{escape(self.circuit.vehicle.title)}</h3><p>{escape(self.circuit.vehicle.vehicle_class)}; open: {said}. "
                f"Predicted from the file, no approval.</p>{self.findings.open._repr_html_() if self.findings.open else ''}"
                f"{self.drawing().svg}")

    # --- changes ----------------------------------------------------------------------------------------------------

    def variant(self, label: str, settings: Mapping[tuple[str, str], Value]) -> Variant:
        """The design with other settings, for `simulate_many`: (part, setting) to a value. What follows from a setting is derived
        again, as a tube's bore from its size. Raises NoSuchPlace for what is not there or cannot be changed so."""
        return Variant(label, settings={(device_named(self.circuit, part).name, name): setting(self.circuit, part, name, value)
                                        for (part, name), value in settings.items()})

    def with_settings(self, settings: Mapping[tuple[str, str], Value]) -> Circuit:
        """The circuit with other settings, each derived again or refused."""
        from circuit.sim.variants import with_settings

        return with_settings(self.circuit, self.variant("", settings))

    # --- runs -------------------------------------------------------------------------------------------------------

    def simulate(self, script: Script, until: Value, *, start: str = "charged", engine: Engine = Engine(),
                 options: Options = Options()) -> Curves:
        """What the pressures do while a script is played. until: s, or as `"4 s"`."""
        from circuit.sim.run import simulate

        return Curves("", simulate(self.circuit, script, si(until, "time"), start=start, engine=engine, options=options))

    def simulate_many(self, script: Script, variants: Sequence[Variant], until: Value, *, start: str = "charged",
                      engine: Engine = Engine(), options: Options = Options()) -> tuple[Curves, ...]:
        """The same of each variant, in their order."""
        from circuit.sim.variants import simulate_many

        traces = simulate_many(self.circuit, script, variants, si(until, "time"), start=start, engine=engine, options=options)
        return tuple(Curves(trace.label, trace) for trace in traces)

    def sweep(self, part: str, name: str, values: Sequence[Value], script: Script, until: Value) -> tuple[Curves, ...]:
        """Runs with one setting at each of some values, labelled by them."""
        return self.simulate_many(script, [self.variant(str(value), {(part, name): value}) for value in values], until)


_KEPT: dict[str, Literal["kept", "broken", "open"]] = {"KEPT": "kept", "BROKEN": "broken", "OPEN": "open"}


def _findings(verdict: Verdict) -> Iterator[Finding]:
    yield from map(_finding, verdict.findings)
    for _, own in verdict.vehicles:
        yield from _findings(own)


def _finding(one: Judgement) -> Finding:
    answer, at = one.answer, one.answer.at.outermost
    severity: Severity = "error" if one.severity == "error" else "warning" if one.severity == "warning" else "note"
    return Finding(one.rule.name, severity, answer.thing, answer.says, consequence(one), answer.remedy, one.clause.cited,
                   at.source.name, at.line, one.waiver.because if one.waiver else "",
                   tuple(f"{each.rule.name} at {each.answer.thing}" for each in one.follows))


def _cell(cell: str, is_number: bool) -> float | str | None:
    if not is_number:
        return cell
    try:
        return float(cell) if cell else None
    except ValueError:
        return cell


def _html(columns: Sequence[str], rows: Iterator[tuple[str, ...]] | Sequence[tuple[str, ...]]) -> str:
    head = "".join(f"<th>{escape(name)}</th>" for name in columns)
    body = "".join("<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in rows)
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
