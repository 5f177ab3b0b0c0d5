"""The section picture of a part at a moment."""

from collections.abc import Mapping

from circuit.declaring.section import CYLINDER, Section
from circuit.draw.cutaway import LEVEL, SHUT, Shown, section_svg
from circuit.report.inside.openings import Inside, cylinder, shares, values
from circuit.report.inside.sentence import sentence
from circuit.sections import way
from circuit.units import ATMOSPHERE


def picture(inside: Inside, section: Section, title: str, unit: str = "bar", theme: str = "light", prefix: str = "s-",
            live: bool = False) -> str:
    """As SVG. title: above it. live: for a page, which moves it."""
    return section_svg(section, shown(inside, section, title, unit, theme, live), prefix)


def shown(inside: Inside, section: Section, title: str, unit: str = "bar", theme: str = "light", live: bool = False,
          told: bool = True) -> Shown:
    """What the picture shows; told: with its sentence."""
    pressures = {**inside.pressures, **{name: max(map(inside.pressure, ports)) for name, ports in section.higher.items()},
                 **({CYLINDER: cylinder(inside)} if inside.kind.source else {})}
    opened = shares(inside)
    says = sentence(inside, unit, opened) if told else ""
    return Shown(opened, values(inside), pressures, running(inside, opened, pressures), says, unit, title, theme, live)


def running(inside: Inside, opened: Mapping[str, float], pressures: Mapping[str, float]) -> dict[str, int]:
    """Which way air passes each way that stands open, where the difference is worth a word."""
    returns = {way(passage) for passage in inside.kind.passages if passage.both_ways}
    found = {}
    for each, far in opened.items():
        start, _, end = each.partition(">")
        ahead = pressures.get(start, ATMOSPHERE) - pressures.get(end, ATMOSPHERE)
        found[each] = 0 if far <= SHUT or abs(ahead) < LEVEL else 1 if ahead > 0 else -1 if each in returns else 0
    return found
