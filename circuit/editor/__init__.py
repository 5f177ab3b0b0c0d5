"""Beside whoever writes a design: what is open, what is said of it, what can be done at a place. The server only carries it."""
