"""The report as one page that works from disk: the board that plays, findings, clauses, the volume sheet.

The page's own text, style and scripts are files beside this one; what is said of a design is put into them here.
"""

import json
import re
from collections.abc import Callable
from pathlib import Path
from string import Template
from typing import Any

from circuit import __version__
from circuit.declaring.traits import Group
from circuit.draw import svg
from circuit.draw.marks import Mark
from circuit.draw.pressure import BANDS, Reading
from circuit.report.page import facts, markup, settled
from circuit.report.page.cutaways import cutaways
from circuit.report.page.instruments import instruments
from circuit.report.page.live import live
from circuit.report.sheets.clause_sheet import coverage
from circuit.report.sheets.lists import assumptions
from circuit.report.sheets.origin import fingerprint
from circuit.report.sheets.papers import applications, charging, response
from circuit.report.situations import unit_of
from circuit.report.studies import sizes, trials
from circuit.report.table import Table, said_once
from circuit.report.words import count
from circuit.verdict.judge import Verdict

FOLDER = Path(__file__).resolve().parent
SCRIPTS = ("view.js", "parts.js", "board.js", "deeds.js", "hands.js", "air.js", "part.js", "instruments.js", "recorder.js",
           "seen.js", "prepared.js", "seats.js", "why.js", "inside.js", "strip.js")
WORKER = "worker/engine.js"


def _silent(doing: str) -> None:
    """Nobody is told."""


def page(judged: Verdict, marks: tuple[Mark, ...] = (), playing: bool = True,
         say: Callable[[str], None] = _silent) -> str:
    """The whole page. marks: the open findings, numbered as in the text report. playing: with a board that plays and what
    simulations say. say: told what is being done."""
    circuit = judged.circuit
    spaces = sorted(space for space in circuit.ports_of if space >= 0)
    unit = unit_of(circuit)
    found = markup.found_in(judged)
    say("drawing the schematic")
    picture = svg(circuit, marks, reading=Reading(judged.evidence.driving.level, unit, live=True))
    moving: tuple[Table, ...] = ()
    engine, held = "", ""
    if playing:
        say("packing the board")
        engine = live(circuit, spaces, unit)
        moving = said_once(table for make in (response, charging, applications) for table in make(judged) if table.rows)
        held = markup.tables(trials.account(circuit).tables) if circuit.trials else ""
    data = {
        "unit": unit,
        "bands": [[round(band.above / 1e3, 2), band.colour, band.weight, band.dash] for band in BANDS],
        "spaces": {str(space): [place, circuit.space_name(space)] for place, space in enumerate(spaces)},
        "parts": facts.parts(circuit),
        "kinds": facts.kinds(circuit),
        "findings": [[each.label, list(each.parts)] for each in found],
        "plotted": settled.plotted(circuit, spaces),
        "makes": [device.name for device in circuit.devices if device.kind.group is Group.SOURCE],
        **instruments(circuit, spaces),
    }
    vehicle = circuit.vehicle
    return Template(_file("page.html")).substitute(
        title=markup.text(vehicle.title),
        vehicle_class=markup.text(vehicle.vehicle_class),
        source=markup.text(circuit.source.name),
        sets=markup.text(" and ".join(each.title for each in judged.sets)),
        version=markup.text(__version__),
        fingerprint=fingerprint(judged),
        style=_lean("page.css") + "\n" + _lean("board.css"),
        script="\n".join(_lean(name) for name in SCRIPTS),
        data=_embedded(data),
        live=engine,
        sections=cutaways(circuit),
        worker=_lean(WORKER),
        schematic=markup.schematic(picture),
        verdict=markup.verdict(judged),
        rail=markup.rail(found),
        findings=markup.findings(found),
        clauses=markup.clause_table(coverage(judged)),
        moving=markup.section("moving", "Response prediction", markup.tables(moving)),
        trials=markup.section("trials", "Trials", held),
        volumes=markup.tables(sizes.account(judged).tables),
        assumed=markup.tables((assumptions(circuit),)),
        assumed_count=count(len(circuit.assumed), "value"),
        cautions=markup.cautions(),
        legend=markup.legend(unit),
        vehicles=markup.vehicles(tuple(circuit.vehicles)),
    )


def _file(name: str) -> str:
    return (FOLDER / name).read_text(encoding="utf-8").rstrip("\n")


def _lean(name: str) -> str:
    """A file of style or script without indents and without the comments that have lines of their own."""
    words = re.sub(r"^[ \t]*/\*.*?\*/[ \t]*\n", "", _file(name) + "\n", flags=re.M | re.S)
    return re.sub(r"^[ \t]+|\n(?=\n)", "", words, flags=re.M).strip("\n")


def _embedded(data: dict[str, Any]) -> str:
    """JSON that may stand inside a script element, whatever the design's texts hold."""
    words = json.dumps(data, separators=(",", ":"), ensure_ascii=False)
    for letter in "<>&\u2028\u2029":
        words = words.replace(letter, f"\\u{ord(letter):04x}")
    return words.encode("utf-8", "replace").decode("utf-8")
