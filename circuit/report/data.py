"""Records of studies as plain data for other programs, and the JSON schema of such data: both from the records' own fields.

Inside units: SI, pressures absolute Pa. What is public of a record is told, its properties too; circuits, traces and steps of
a trial are left out, and a clause, a place or a name is a text.
"""

import json
from collections.abc import Callable, Iterator, Mapping
from math import isfinite
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints, is_typeddict

from circuit import __version__
from circuit.clauses import Clause
from circuit.model.circuit import Circuit
from circuit.model.trial_steps import Step, Trial
from circuit.model.trace import Trace
from circuit.report.balance import Balanced
from circuit.report.words import CAUTION, FAST
from circuit.source import Span
from circuit.studies.spread import Samples
from circuit.syntax.statements import Name

_LEFT_OUT = (Circuit, Trace, Step, Samples)
_AS_TEXT: dict[type, Callable[[Any], str]] = {
    Clause: lambda clause: clause.key, Span: str, Name: lambda name: name.text, Trial: lambda trial: trial.name}
_PLAIN = {str: "string", int: "integer", float: "number", bool: "boolean", NoneType: "null"}
DIALECT = "https://json-schema.org/draft/2020-12/schema"


def document(study: str, circuit: Circuit, found: Any, **more: Any) -> str:
    """A study as JSON with a head that says what it is. more: goes beside what was found."""
    vehicle = circuit.vehicle
    head = {"tool": "airwright", "version": __version__, "format": 1, "study": study, "predicted": True, "units": "SI",
            "caution": CAUTION, "file": circuit.source.name,
            "vehicle": {"name": vehicle.name, "class": vehicle.vehicle_class, "title": vehicle.title}}
    return json.dumps({**head, "found": data(found), **more}, indent=2, ensure_ascii=False) + "\n"


def data(value: Any) -> Any:
    """A record as plain data."""
    for kind, text in _AS_TEXT.items():
        if isinstance(value, kind):
            return text(value)
    if isinstance(value, tuple) and hasattr(value, "_fields"):
        return {name.rstrip("_"): data(getattr(value, name)) for name, _ in _told(type(value))}
    if isinstance(value, (tuple, list)):
        return [data(each) for each in value]
    if isinstance(value, Mapping):
        return {str(key): data(each) for key, each in value.items()}
    if isinstance(value, str):
        return value.replace(FAST, " ")
    if isinstance(value, float):
        return float(f"{value:.7g}") if isfinite(value) else None
    return value.item() if hasattr(value, "item") else value


def _told(record: type) -> Iterator[tuple[str, Any]]:
    """Name and type of every field and property of a record that is told."""
    hints = get_type_hints(record)
    for name in getattr(record, "_fields", ()):
        if not _is_left_out(hints[name]):
            yield name, hints[name]
    for name, known in vars(record).items():
        if isinstance(known, property) and not name.startswith("_"):
            kind = get_type_hints(known.fget)["return"]
            if not _is_left_out(kind):
                yield name, kind


def _is_left_out(kind: Any) -> bool:
    return kind in _LEFT_OUT or any(_is_left_out(inner) for inner in get_args(kind) if inner is not Ellipsis)


def schema_text(study: str, record: Any) -> str:
    """The schema as a command prints it."""
    return json.dumps(schema(study, record), indent=2, ensure_ascii=False) + "\n"


def schema(study: str, record: Any) -> dict[str, Any]:
    """The JSON schema of a study's document. record: the type of what it finds."""
    known: dict[str, Any] = {}
    text, texts = {"type": "string"}, ("name", "class", "title")
    found, went = of_type(record, known), of_type(tuple[Balanced, ...], known)
    fixed = {"tool": {"const": "airwright"}, "version": text, "format": {"const": 1}, "study": {"const": study},
             "predicted": {"const": True}, "units": {"const": "SI"}, "caution": text, "file": text,
             "vehicle": {"type": "object", "properties": dict.fromkeys(texts, text), "required": list(texts)}, "found": found}
    return {"$schema": DIALECT, "title": f"airwright {study} --format json",
            "description": "All figures in SI; pressures are absolute, in Pa.", "type": "object", "required": list(fixed),
            "properties": {**fixed, "balance": went}, "additionalProperties": False, "$defs": known}


def of_type(kind: Any, known: dict[str, Any]) -> dict[str, Any]:
    """The schema of a type; records are put into `known` by name and referred to."""
    if kind in _PLAIN:
        return {"type": _PLAIN[kind]}
    if kind in _AS_TEXT:
        return {"type": "string"}
    if get_origin(kind) in (Union, UnionType):
        return {"anyOf": [of_type(each, known) for each in get_args(kind)]}
    if get_origin(kind) in (tuple, list):
        inner = get_args(kind)
        if inner[-1] is Ellipsis or get_origin(kind) is list:
            return {"type": "array", "items": of_type(inner[0], known)}
        return {"type": "array", "prefixItems": [of_type(each, known) for each in inner], "minItems": len(inner),
                "maxItems": len(inner)}
    if get_origin(kind) in (dict, Mapping):
        return {"type": "object", "additionalProperties": of_type(get_args(kind)[1], known)}
    if get_origin(kind) is Literal:
        return {"enum": list(get_args(kind))}
    if is_typeddict(kind):
        return _of_told(kind, known)
    if hasattr(kind, "_fields"):
        name = kind.__name__
        if name not in known:
            known[name] = {}
            told = {field.rstrip("_"): of_type(its, known) for field, its in _told(kind)}
            known[name] = {"description": " ".join((kind.__doc__ or "").split()), "type": "object", "properties": told,
                           "required": list(told), "additionalProperties": False}
        return {"$ref": f"#/$defs/{name}"}
    raise TypeError(f"no schema is known for {kind}")


def _of_told(kind: Any, known: dict[str, Any]) -> dict[str, Any]:
    """The schema of a record of `told`: what it holds is as its type says, key by key."""
    name = kind.__name__
    if name not in known:
        known[name] = {}
        its = {key: of_type(each, known) for key, each in get_type_hints(kind).items()}
        known[name] = {"description": " ".join((kind.__doc__ or "").split()), "type": "object", "properties": its,
                       "required": sorted(kind.__required_keys__), "additionalProperties": False}
    return {"$ref": f"#/$defs/{name}"}
