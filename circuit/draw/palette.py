"""Colours, dashes and tag shapes: a circuit has colour, number and shape of tag, a role has weight and dash.

Either survives without the other, and both without colour. The colours were searched for the largest least difference
between any two of them, also as people with one kind of cone missing see them; a test holds them to that.
"""

from circuit.draw.roles import (
    AUXILIARY, DELIVERY, PARKING, SERVICE, SIGNAL, SOURCE, SPRING, SUPPLY, TRAILER_CONTROL, TRAILER_SUPPLY, Member,
)

SOURCE_COLOUR = "#000000"
SERVICE_COLOURS = ("#212dff", "#b18a1b", "#1c95e2", "#004900", "#e75a84")
OTHER_COLOURS = {PARKING: "#5b0b67", AUXILIARY: "#1c95e2", TRAILER_CONTROL: "#004900", TRAILER_SUPPLY: "#e75a84"}
PALETTE = (SOURCE_COLOUR, *SERVICE_COLOURS[:2], *OTHER_COLOURS.values())

TAGS = {SOURCE: "square", SERVICE: "circle", PARKING: "hexagon", AUXILIARY: "pentagon", TRAILER_CONTROL: "diamond",
        TRAILER_SUPPLY: "diamond"}

WEIGHT = {SUPPLY: 2.8, DELIVERY: 1.5, SIGNAL: 1.4, SPRING: 2.0}
"""Line widths, px."""
DASH = {SUPPLY: "", DELIVERY: "", SIGNAL: "5 3", SPRING: "9 3 2 3"}
"""Dash patterns, px."""
ROLE_TITLE = {SUPPLY: "supply", DELIVERY: "service delivery", SIGNAL: "signal", SPRING: "spring release"}

INK, QUIET, PAPER, FAINT = "#111111", "#5a6068", "#ffffff", "#c9ced4"
ERROR, WARNING, NOTE = "#c8102e", "#ffb000", "#5a6068"


def colours(members: list[Member]) -> dict[int, str]:
    """A colour for each circuit by its number; past the palette colours repeat with other numbers."""
    free = [c for c in SERVICE_COLOURS if c not in {OTHER_COLOURS.get(m.nature) for m in members}]
    found = {}
    services = 0
    for member in members:
        if member.nature == SOURCE:
            found[member.number] = SOURCE_COLOUR
        elif member.nature == SERVICE:
            found[member.number] = free[services % len(free)]
            services += 1
        else:
            found[member.number] = OTHER_COLOURS[member.nature]
    return found
