"""What the program prints of a design: every command that answers, run as a user runs it, each output once."""

import base64
import contextlib
import io
import json
import os
import re
import shutil
import subprocess
import tempfile
import zlib
from collections.abc import Iterator
from functools import cached_property
from pathlib import Path
from typing import Any

from circuit import pipeline
from circuit.cli import main

from tests.truth.tables import csv_records, page_tables, records, text_tables

STUDIES = ("charge", "respond", "reserve", "leak-down", "sizes", "force", "water", "run")
READ = (0, 1)


def said(*words: str) -> tuple[int, str, str]:
    """Exit status, output and complaint of one command."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            status = int(main(list(words)) or 0)
        except SystemExit as stop:
            status = int(stop.code or 0)
    return status, out.getvalue(), err.getvalue()


class Asked:
    """The outputs of one design. name: how the benchmark calls it. path: its file."""

    def __init__(self, name: str, path: Path, folder: Path) -> None:
        self.name, self.path, self.folder = name, path, folder
        self._said: dict[tuple[str, ...], tuple[int, str, str]] = {}
        self.missing: list[str] = []

    def say(self, *words: str) -> tuple[int, str, str]:
        """Exit status, output and complaint of a command on this design."""
        if words not in self._said:
            self._said[words] = said(words[0], str(self.path), *words[1:])
            if self._said[words][0] == 3:
                raise RuntimeError(f"{self.name}: {' '.join(words)} ended with a fault:\n{self._said[words][2]}")
        return self._said[words]

    def text(self, *words: str) -> str:
        """The text of a command; empty where it has no answer."""
        status, out, _ = self.say(*words)
        return out if status in READ else ""

    def document(self, *words: str) -> Any:
        """The JSON of a command; None where it has no answer."""
        status, out, _ = self.say(*words, "--format", "json")
        return json.loads(out) if status in READ else None

    def tables(self, *words: str) -> dict[str, list[dict[str, str]]]:
        """The CSV of a command by table."""
        status, out, _ = self.say(*words, "--format", "csv")
        return csv_records(out) if status in READ else {}

    def printed(self, study: str) -> list[list[tuple[str, ...]]]:
        """The tables of a command's text, in their order."""
        return text_tables(self.text(study))

    def _write(self, command: str, target: Path) -> None:
        """What a command writes; where it writes nothing, that is told, for then nothing of it is compared."""
        status, _, why = self.say(command, "-o", str(target), "--force")
        if status not in READ or not target.exists():
            self.missing.append(f"no {command}: {why.strip()}")

    @cached_property
    def papers(self) -> dict[str, list[dict[str, str]]]:
        """Each CSV file of the papers by its name."""
        self._write("papers", self.folder / "papers")
        return {path.stem: records(path.read_text(encoding="utf-8")) for path in (self.folder / "papers").glob("*.csv")}

    @cached_property
    def pdf(self) -> str:
        """The text of the papers' PDF, empty where no program is there that reads it."""
        _ = self.papers
        path, program = self.folder / "papers" / "papers.pdf", shutil.which("pdftotext")
        if program is None or not path.is_file():
            return ""
        return subprocess.run([program, "-layout", str(path), "-"], capture_output=True, text=True, check=True).stdout

    @cached_property
    def page(self) -> str:
        path = self.folder / "page.html"
        self._write("report", path)
        return path.read_text(encoding="utf-8") if path.is_file() else ""

    @cached_property
    def page_data(self) -> dict[str, Any]:
        """What the scripts of the page show."""
        match = re.search(r'<script type="application/json" id="data">(.*?)</script>', self.page, re.S)
        return json.loads(match.group(1)) if match else {}

    @cached_property
    def page_charged(self) -> list[float]:
        """Gauge kPa of every space as the board of the page begins, in the order of its data."""
        match = re.search(r'<script [^>]*id="live">(.*?)</script>', self.page, re.S)
        if not match or not match.group(1).strip():
            return []
        live = json.loads(zlib.decompress(base64.b64decode(match.group(1)), -15))
        start = live["starts"][0]["pressures"][-1]
        return [0.0 if node < 0 else (start[node] - live["ambient"]) / 1e3 for node in live["node"]]

    @cached_property
    def page_rows(self) -> tuple[dict[str, list[tuple[str, ...]]], dict[str, list[str]]]:
        return page_tables(self.page)


@contextlib.contextmanager
def loaded_once() -> Iterator[None]:
    """While it lasts a design file that has not changed is loaded and judged once, whatever command asks, so that a script
    is played once for all of them, as the papers and the page do it by themselves."""
    kept: dict[object, Any] = {}
    load, check = pipeline.load, pipeline.check

    def loaded(path: str, root: str = "") -> Any:
        key = path, os.stat(path).st_mtime_ns if os.path.exists(path) else 0
        return kept[key] if key in kept else kept.setdefault(key, load(path, root))

    def checked(path: str, rule_sets: tuple[str, ...] = (), simulate: bool = False, tell: Any = lambda words: None,
                gate: Any = None) -> Any:
        key = path, rule_sets, simulate
        return kept[key] if key in kept else kept.setdefault(key, check(path, rule_sets, simulate, tell))

    pipeline.load, pipeline.check = loaded, checked
    try:
        yield
    finally:
        pipeline.load, pipeline.check = load, check


def folder() -> "tempfile.TemporaryDirectory[str]":
    """A folder for what is written, gone at the end."""
    return tempfile.TemporaryDirectory(prefix="one-truth-")
