"""Inside the parts: how far each passage of a part stands open, why, and what its section picture then shows."""
