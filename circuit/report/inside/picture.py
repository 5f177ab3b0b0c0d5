"""The section picture of a part at a moment."""

from circuit.declaring.section import CYLINDER, Section
from circuit.draw.cutaway import Shown, section_svg
from circuit.report.inside.openings import Inside, cylinder, shares, values
from circuit.report.inside.sentence import sentence


def picture(inside: Inside, section: Section, title: str, unit: str = "bar", theme: str = "light", prefix: str = "s-",
            live: bool = False) -> str:
    """As SVG. title: above it. live: for a page, which moves it."""
    return section_svg(section, shown(inside, section, title, unit, theme, live), prefix)


def shown(inside: Inside, section: Section, title: str, unit: str = "bar", theme: str = "light", live: bool = False) -> Shown:
    """What the picture shows."""
    pressures = {**inside.pressures, **{name: max(map(inside.pressure, ports)) for name, ports in section.higher.items()},
                 **({CYLINDER: cylinder(inside)} if inside.kind.source else {})}
    return Shown(shares(inside), values(inside), pressures, sentence(inside, unit), unit, title, theme, live)
