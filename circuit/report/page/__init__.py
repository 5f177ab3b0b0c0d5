"""The report as one page that works from disk: the schematic in motion, findings, clauses, the volume sheet.

The page's own text, style and scripts are files beside this one; what is said of a design is put into them here.
"""

import json
from pathlib import Path
from string import Template
from typing import Any

from circuit import __version__
from circuit.draw import svg
from circuit.draw.paint import Mark
from circuit.draw.pressure import BANDS, Reading
from circuit.report.page import air, facts, markup
from circuit.report.sheets import volume
from circuit.report.sheets.clauses import coverage
from circuit.report.sheets.origin import fingerprint
from circuit.report.sheets.papers import in_motion, pointed
from circuit.report.situations import unit_of
from circuit.report.words import count
from circuit.rules.judge import Verdict

FOLDER = Path(__file__).resolve().parent
SCRIPTS = ("view.js", "parts.js", "air.js", "plots.js")


def page(judged: Verdict, marks: tuple[Mark, ...] = (), playing: bool = True) -> str:
    """The whole page. marks: the open findings, numbered as in the text report. playing: with simulated scenes."""
    circuit = judged.circuit
    spaces = sorted(space for space in circuit.ports_of if space >= 0)
    unit = unit_of(circuit)
    picture = svg(circuit, marks, reading=Reading(judged.evidence.driving.level, unit, live=True))
    data = {
        "unit": unit,
        "bands": [[round(band.above / 1e3, 2), band.colour, band.weight, band.dash] for band in BANDS],
        "spaces": {str(space): [place, circuit.space_name(space)] for place, space in enumerate(spaces)},
        "parts": facts.parts(circuit),
        "findings": [[label, list(names)] for label, names in markup.finding_parts(judged)],
        "states": air.situations(judged.evidence, spaces),
        "scenes": [air.played(scene, spaces) for scene in air.scenes(circuit)] if playing else [],
        "plotted": air.plotted(circuit, spaces),
    }
    vehicle = circuit.vehicle
    moving = tuple(table for table in in_motion(judged) if table.rows) if playing else ()
    return Template(_file("page.html")).substitute(
        title=markup.text(vehicle.title),
        vehicle_class=markup.text(vehicle.vehicle_class),
        source=markup.text(circuit.source.name),
        sets=markup.text(" and ".join(each.title for each in judged.sets)),
        version=markup.text(__version__),
        fingerprint=fingerprint(judged),
        style=_file("page.css"),
        script="\n".join(_file(name) for name in SCRIPTS),
        data=_embedded(data),
        schematic=markup.schematic(picture),
        verdict=markup.verdict(judged),
        findings=markup.findings(judged),
        clauses=markup.clause_table(pointed(coverage(judged), moving)),
        moving=markup.moving(moving),
        chambers=markup.table(volume.chambers(judged)),
        reservoirs=markup.table(volume.reservoirs(judged)),
        ratios=markup.table(volume.ratios(judged)),
        assumed=markup.assumed(judged),
        assumed_count=count(len(circuit.assumed), "value"),
        others=markup.other_vehicles(judged),
        cautions=markup.cautions(),
        legend=markup.legend(unit),
    )


def _file(name: str) -> str:
    return (FOLDER / name).read_text(encoding="utf-8").rstrip("\n")


def _embedded(data: dict[str, Any]) -> str:
    """JSON that may stand inside a script element, whatever the design's texts hold."""
    words = json.dumps(data, separators=(",", ":"), ensure_ascii=False)
    for letter in "<>&\u2028\u2029":
        words = words.replace(letter, f"\\u{ord(letter):04x}")
    return words.encode("utf-8", "replace").decode("utf-8")
