"""What all tests share: a design stands for few plausible vehicles here, so that the tests stay quick; what is held to the
usual number asks for it."""

from circuit.model import draws

draws.USUAL = draws.Draws(runs=24)
