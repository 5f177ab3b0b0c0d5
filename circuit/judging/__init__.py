"""What a rule is, the evidence it reads, and what rules share to read it. Knows no particular rule."""
