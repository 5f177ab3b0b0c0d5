"""What all tests share: a design stands for the vehicle as assumed alone here, so that the tests stay quick and sharp; what is
about its range asks for more."""

from circuit.model import draws

draws.USUAL = draws.Draws(runs=1, slow=1)
