"""Papers that several files of tests look at, each made once."""

from functools import cache

from circuit.pipeline import judged, load
from circuit.report.marked import marks_of
from circuit.report.sheets.papers import papers
from circuit.report.sheets.printed import printed
from circuit.report.table import as_csv
from tests.designs import EXAMPLES

NAME = "teaching-board"
"""A small one: its papers are simulated too."""


def verdict(name=NAME):
    return _verdict(name)


@cache
def _verdict(name):
    return judged(load(str(EXAMPLES / name / "design.air")), simulate=True)


def all_papers(name=NAME):
    return _papers(name)


@cache
def _papers(name):
    return papers(verdict(name))


def tables(name=NAME):
    return {table.key: table for paper in all_papers(name) for table in paper.tables}


def pdf(name=NAME, size="A3"):
    return _pdf(name, size)


@cache
def _pdf(name, size):
    return printed(verdict(name), all_papers(name), marks_of(verdict(name)), size)


def written(folder, name=NAME, size="A3"):
    """The folder with what the command writes into it."""
    target = folder / f"{name}-{size}"
    target.mkdir(exist_ok=True)
    (target / "papers.pdf").write_bytes(pdf(name, size))
    for key, table in tables(name).items():
        (target / f"{key}.csv").write_bytes(as_csv(table).encode())
    return target
