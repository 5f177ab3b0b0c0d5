"""Placeholder; replaced below."""
from circuit.mistake import Mistake
from circuit.source import Source, Span

def explain(source, piece):
    return Mistake(Span(source, piece.line, piece.column, 1), "this statement cannot be read")
