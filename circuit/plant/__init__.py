"""Plants one mistake of a known class into the text of a good design, for teaching and for measuring the rules."""
