"""A fault's story on paper: text for a terminal, Markdown beside its pictures, one page of HTML; the pictures."""

import textwrap
from collections.abc import Iterable, Sequence
from html import escape
from pathlib import Path

from circuit import draw as drawing
from circuit.draw.marks import Mark
from circuit.draw.pressure import Reading
from circuit.faults.telling import Told
from circuit.report import chart
from circuit.report.faults import curves
from circuit.report.faults.story import Story, story
from circuit.report.situations import unit_of
from circuit.report.words import FAST

WIDTH = 110


def pressures(told: Told) -> str:
    """The chart of a story, SVG."""
    return chart.svg(curves.chart(told))


def schematic(told: Told) -> str:
    """The schematic, SVG, coloured by the air that is left as the pedal is let up; the faulty parts are marked."""
    circuit, fault = told.circuit, told.effect.fault
    level = {space: told.trace.pressure(space, told.acts.up) for space in told.trace.node}
    held = f"the pedal down for {told.acts.up - told.acts.pedal:.0f} s"
    parts = [name for name, _ in fault.parts] or [fault.device]
    marks = tuple(Mark(name, str(number), "fault") for number, name in enumerate(parts, 1))
    reading = Reading(level, unit_of(circuit), f"after {fault.name}, {held}", played=True)
    return drawing.svg(circuit, marks, reading=reading)


def files(told: Told, output: str = "", plot: str = "", draw: str = "") -> dict[str, str]:
    """What is to be written: file to text. output: a page, .html or .md; plot, draw: pictures by themselves."""
    pictures = {**({plot: pressures(told)} if plot else {}), **({draw: schematic(told)} if draw else {})}
    if not output:
        return pictures
    if not output.lower().endswith(".md"):
        return {output: html(story(told), (pressures(told), schematic(told))), **pictures}
    stem = output[:-3]
    beside = {f"{stem}-pressures.svg": pressures(told), f"{stem}-schematic.svg": schematic(told)}
    shows = ("the pressures over time", "the schematic, coloured by the air that is left")
    page = markdown(story(told), [(Path(name).name, what) for name, what in zip(beside, shows)])
    return {output: page, **beside, **pictures}


def text(told: Story) -> str:
    """For a terminal."""
    lines = [told.title, told.verdict, ""]
    for section in told.sections:
        lines.append(section.title.upper())
        for row in section.rows:
            lines += textwrap.wrap(row.says, WIDTH, initial_indent=f"  {row.when:>10}  " if row.when else "  ",
                                   subsequent_indent=" " * (14 if row.when else 4), break_on_hyphens=False)
        lines.append("")
    for caution in told.cautions:
        lines += textwrap.wrap(caution, WIDTH)
    return ("\n".join(lines) + "\n").replace(FAST, " ")


def markdown(told: Story, pictures: Sequence[tuple[str, str]] = (), level: int = 1) -> str:
    """For a page beside its pictures. pictures: (file, what it shows). level: of its heading."""
    rows = [f"{'#' * level} {told.title}", "", f"**{told.verdict}**", ""]
    for section in told.sections:
        rows += [f"{'#' * (level + 1)} {section.title}", ""]
        rows += [f"- {f'**{row.when}** ' if row.when else ''}{row.says}" for row in section.rows]
        rows.append("")
    rows += [line for file, shows in pictures for line in (f"![{shows}]({file})", "")]
    return ("\n".join([*rows, *(f"*{caution}*\n" for caution in told.cautions)]).rstrip() + "\n").replace(FAST, " ")


def html(told: Story, pictures: Iterable[str] = ()) -> str:
    """One page that needs nothing else. pictures: SVG texts."""
    parts = [f"<h1>{escape(told.title)}</h1>", f"<p><strong>{escape(told.verdict)}</strong></p>"]
    for section in told.sections:
        rows = "".join(f"<li>{f'<b>{escape(row.when)}</b> ' if row.when else ''}{escape(row.says)}</li>"
                       for row in section.rows)
        parts.append(f"<h2>{escape(section.title)}</h2>\n<ul>{rows}</ul>")
    parts += [f"<figure>{picture}</figure>" for picture in pictures]
    parts += [f"<p><small>{escape(caution)}</small></p>" for caution in told.cautions]
    body = "\n".join(parts).replace(FAST, "&#160;")
    return (f'<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>{escape(told.title)}</title>\n'
            f"<style>{_STYLE}</style></head>\n<body>\n{body}\n</body></html>\n")


_STYLE = ("body{font:16px/1.45 Verdana,'DejaVu Sans',sans-serif;max-width:62rem;margin:2rem auto;padding:0 1rem;"
          "color:#111}h1{font-size:1.4rem}h2{font-size:1.05rem;margin:1.2rem 0 .2rem}ul{margin:.2rem 0}"
          "figure{margin:1.2rem 0;overflow-x:auto}figure svg{max-width:100%;height:auto}"
          "figure+figure svg{min-width:100rem}small{color:#444}")
