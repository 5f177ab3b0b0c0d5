"""Three-circuit protection valve: two service circuits and one more on one feed."""

from circuit.kinds.four_circuit_protection_valve import protection_valve

KIND = protection_valve("three-circuit-protection-valve", "Three-circuit protection valve", ("21", "22", "23"),
                        ("triple-circuit-protection-valve",))
