"""What is handed in, as tables: one source for the page, the papers and the files for other programs."""
