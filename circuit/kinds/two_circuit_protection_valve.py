"""Two-circuit protection valve: two service circuits on one feed."""

from circuit.kinds.four_circuit_protection_valve import protection_valve

KIND = protection_valve("two-circuit-protection-valve", "Two-circuit protection valve", ("21", "22"),
                        ("dual-circuit-protection-valve",))
