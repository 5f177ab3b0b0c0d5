"""Whether every question is answered once: what the outputs print, read from the outputs alone."""
