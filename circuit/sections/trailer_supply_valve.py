"""The trailer supply valve cut open: a knob with eight corners, a plunger and two seats."""

from circuit.sections.of_knobs import control

SECTION = control(((1.1, -8.6), (2.7, -7), (2.7, -5.4), (1.1, -3.8)))
