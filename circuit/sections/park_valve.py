"""The park control valve cut open: a knob in the shape of a diamond, a plunger and two seats."""

from circuit.sections.of_knobs import control

SECTION = control(((0, -8.6), (2.9, -6.2), (0, -3.8)))
