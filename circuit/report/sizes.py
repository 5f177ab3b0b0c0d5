"""The volume sheet as the command prints it; its tables are those of the papers."""

import textwrap

from circuit.report.sheets import volume_sheet
from circuit.report.plain import WIDTH, as_text
from circuit.report.words import CAUTION
from circuit.verdict.judge import Verdict


def sizes(judged: Verdict, pressure: float) -> str:
    """The sheet of one design. pressure: absolute Pa at which the push-rod force is stated."""
    vehicle = judged.circuit.vehicle
    lines = [f"Volume sheet: {vehicle.title}  ({vehicle.vehicle_class}, {judged.circuit.source.name})"]
    for table in volume_sheet.sheet(judged, pressure):
        lines += ["", table.title.rpartition(": ")[2], *as_text(table)]
    return "\n".join([*lines, "", *textwrap.wrap(CAUTION, WIDTH)]) + "\n"
