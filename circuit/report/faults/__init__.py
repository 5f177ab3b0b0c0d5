"""The study of single faults in words, tables and curves."""
