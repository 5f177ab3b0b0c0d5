"""Each study as tables, charts and what is cited with it, one file each: the only place where it is put into words."""
