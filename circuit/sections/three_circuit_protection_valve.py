"""The three-circuit protection valve cut open."""

from circuit.sections.of_circuits import circuits

SECTION = circuits(("21", "22", "23"))
