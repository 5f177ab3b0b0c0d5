"""Single faults: what can fail, what is lost and left, in time, in pairs, told as a story, and what clauses ask of them."""
