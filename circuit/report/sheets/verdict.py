"""A verdict as tables: findings and clause coverage, of a combination's vehicles too."""

from circuit.report.sheets.clause_sheet import coverage
from circuit.report.sheets.findings import findings
from circuit.report.table import Table, led_by
from circuit.verdict.judge import Verdict


def tables(judged: Verdict) -> tuple[Table, ...]:
    """Each row led by the file that it is about."""
    return tuple(led_by("file", own.circuit.source.name, table) for own in (judged, *(each for _, each in judged.vehicles))
                 for table in (findings(own), coverage(own)))
