"""temporary"""
from circuit.source import Source
from circuit.syntax.parse import parse
from circuit.model.resolve import resolve

def read_file(path):
    s=Source(path,open(path).read())
    return (s,*parse(s))

def load(path):
    s,st,m=read_file(path)
    return resolve(s,st,read_file,m)
