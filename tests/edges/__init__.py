"""For each clause that is decided here, a design that just breaks it and one that just meets it."""
