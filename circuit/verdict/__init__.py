"""A circuit held to its rule sets: rules asked, what follows from one mistake put under it, clauses answered by studies."""
