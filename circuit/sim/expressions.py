"""Expressions of the kernel's text as WebAssembly: numbers, places of rows, fields of records, calls."""

import ast
from collections.abc import Callable
from typing import Any, NamedTuple

from circuit.sim.layout import Record

STEPS = {"scaled": "(f64.mul {} (f64.reinterpret_i64 (i64.shl (i64.extend_i32_s (i32.add {} (i32.const 1023))) (i64.const 52))))",
         "exponent_of": "(i32.sub (i32.wrap_i64 (i64.shr_u (i64.reinterpret_f64 {}) (i64.const 52))) (i32.const 1022))"}
"""Single steps of the machine that Python has in its library."""
ARITHMETIC = {ast.Add: "add", ast.Sub: "sub", ast.Mult: "mul", ast.Div: "div"}
COMPARED = {ast.Lt: "lt", ast.LtE: "le", ast.Gt: "gt", ast.GtE: "ge", ast.Eq: "eq", ast.NotEq: "ne"}


class NotKnown(Exception):
    """The text has something that is not of the small part of Python."""


class Signature(NamedTuple):
    """takes: name to kind, or to a record. gives: kind, or empty."""

    takes: dict[str, "str | Record"]
    gives: str


class Code(NamedTuple):
    """An expression: its text, and its kind."""

    text: str
    kind: str


class Expressions:
    """What one function's names stand for, and the expressions made of them."""

    def __init__(self, function: Callable[..., Any], signatures: dict[str, Signature]):
        self.name, self.file = function.__name__, function.__code__.co_filename
        self.globals = function.__globals__
        self.signatures = signatures
        self.mine = signatures[self.name]
        self.kinds: dict[str, str] = {n: k for n, k in self.mine.takes.items() if isinstance(k, str)}
        self.records = {n: k for n, k in self.mine.takes.items() if isinstance(k, Record)}
        self.looked_up: dict[tuple[str, str], str] = {}

    def refuse(self, node: ast.AST, why: str) -> NotKnown:
        return NotKnown(f"{self.file}:{getattr(node, 'lineno', 0)}: {why}: {ast.unparse(node)}")

    def expression(self, node: ast.expr) -> Code:
        """The text of an expression."""
        match node:
            case ast.Constant(value=bool(value)):
                return Code(f"(i32.const {int(value)})", "i32")
            case ast.Constant(value=int(value)):
                return Code(f"(i32.const {value})", "i32")
            case ast.Constant(value=float(value)):
                return Code(f"(f64.const {value.hex()})", "f64")
            case ast.Name(id=name) if name in self.kinds:
                return Code(f"(local.get ${name})", self.kinds[name])
            case ast.Name(id=name) if isinstance(self.globals.get(name), int | float):
                return self.expression(ast.copy_location(ast.Constant(self.globals[name]), node))
            case ast.Attribute(value=ast.Name(id=name), attr=field) if name in self.records:
                return self.field(node, name, field)
            case ast.Subscript():
                address, kind = self.place(node)
                return Code(f"({kind}.load {address})", kind)
            case ast.BinOp():
                return self.binary(node)
            case ast.UnaryOp(op=ast.USub(), operand=ast.Constant(value=value)) if isinstance(value, int | float):
                return self.expression(ast.copy_location(ast.Constant(-value), node))
            case ast.UnaryOp(op=ast.USub()):
                text, kind = self.expression(node.operand)
                return Code(f"(f64.neg {text})" if kind == "f64" else f"(i32.sub (i32.const 0) {text})", kind)
            case ast.UnaryOp(op=ast.Not()) | ast.BoolOp() | ast.Compare():
                return Code(self.condition(node), "i32")
            case ast.IfExp():
                yes, no = self.alike(self.expression(node.body), self.expression(node.orelse))
                return Code(f"(if (result {yes.kind}) {self.condition(node.test)} (then {yes.text}) (else {no.text}))",
                            yes.kind)
            case ast.Call(func=ast.Name(id=name), keywords=[]):
                return self.call(node, name)
        raise self.refuse(node, "not an expression of the kernel's language")

    def field(self, node: ast.AST, name: str, field: str) -> Code:
        """A field of a record; what stays as it is is looked up once."""
        record = self.records[name]
        if field not in record.fields:
            raise self.refuse(node, f"{record.name} has no such field")
        kind = record.fields[field].kind
        if record.fixed or kind.endswith("[]"):
            self.looked_up[name, field] = kind
            return Code(f"(local.get ${field}@{name})", kind)
        return Code(self.load_field(name, field), kind)

    def load_field(self, name: str, field: str) -> str:
        kind, place = self.records[name].fields[field]
        return f"({machine_kind(kind)}.load offset={place} (local.get ${name}))"

    def place(self, node: ast.Subscript) -> tuple[str, str]:
        """The address of a place in a row, as what an instruction takes, and its kind."""
        row = self.expression(node.value)
        if not row.kind.endswith("[]"):
            raise self.refuse(node, "not a row")
        kind = row.kind[:-2]
        size = 8 if kind == "f64" else 4
        index, past = node.slice, 0
        match index:
            case ast.BinOp(op=ast.Add(), left=before, right=ast.Constant(value=int(further))):
                index, past = before, further
        offset = f"offset={size * past} " if past else ""
        shift = 3 if kind == "f64" else 2
        return f"{offset}(i32.add {row.text} (i32.shl {self.whole(index)} (i32.const {shift})))", kind

    def whole(self, node: ast.expr) -> str:
        """A whole number."""
        code = self.expression(node)
        if code.kind != "i32":
            raise self.refuse(node, "not a whole number")
        return code.text

    def binary(self, node: ast.BinOp) -> Code:
        one, other = self.expression(node.left), self.expression(node.right)
        if isinstance(node.op, ast.FloorDiv) and isinstance(node.right, ast.Constant) and node.right.value == 2:
            return Code(f"(i32.shr_s {one.text} (i32.const 1))", "i32")
        if type(node.op) not in ARITHMETIC:
            raise self.refuse(node, "not an operation of the kernel's language")
        one, other = self.alike(one, other)
        if isinstance(node.op, ast.Div):
            one, other = (self.number(each) for each in (one, other))
        return Code(f"({one.kind}.{ARITHMETIC[type(node.op)]} {one.text} {other.text})", one.kind)

    def call(self, node: ast.Call, name: str) -> Code:
        """A call of another function, or of one that the machine has."""
        given = [each for each in node.args]
        if name in ("min", "max") and len(given) == 2:
            one, other = self.alike(*(self.expression(each) for each in given))
            if one.kind == "f64":
                # of two equal ones, and where one is no number, Python's answer and not that of f64.min
                op = "f64x2.pmin" if name == "min" else "f64x2.pmax"
                return Code(f"(f64x2.extract_lane 0 ({op} (f64x2.splat {one.text}) (f64x2.splat {other.text})))", "f64")
            raise self.refuse(node, "only of numbers with a point")
        numbers = {"sqrt": "f64.sqrt", "abs": "f64.abs"}
        if name in numbers and len(given) == 1:
            return Code(f"({numbers[name]} {self.number(self.expression(given[0])).text})", "f64")
        if name == "float" and len(given) == 1:
            return self.number(self.expression(given[0]))
        if name == "int" and len(given) == 1:
            return Code(f"(i32.trunc_sat_f64_s {self.number(self.expression(given[0])).text})", "i32")
        if name in STEPS:
            gives = "f64" if name == "scaled" else "i32"
            return Code(STEPS[name].format(*(self.expression(each).text for each in given)), gives)
        if name in self.signatures:
            return self.call_own(node, name)
        raise self.refuse(node, "not a function of the kernel's language")

    def call_own(self, node: ast.Call, name: str) -> Code:
        takes, gives = self.signatures[name]
        if len(takes) != len(node.args):
            raise self.refuse(node, f"{name} takes {len(takes)}")
        given = []
        for kind, each in zip(takes.values(), node.args):
            if isinstance(kind, Record):
                if not isinstance(each, ast.Name) or self.records.get(each.id) is not kind:
                    raise self.refuse(each, f"not a {kind.name}")
                given.append(f"(local.get ${each.id})")
            else:
                given.append(self.as_kind(each, self.expression(each), kind))
        return Code(f"(call ${name} {' '.join(given)})", gives)

    def condition(self, node: ast.expr) -> str:
        """1 or 0."""
        match node:
            case ast.BoolOp():
                first, *rest = node.values
                if not rest:
                    return self.condition(first)
                others = self.condition(ast.copy_location(ast.BoolOp(node.op, rest), node))
                if isinstance(node.op, ast.And):
                    return f"(if (result i32) {self.condition(first)} (then {others}) (else (i32.const 0)))"
                return f"(if (result i32) {self.condition(first)} (then (i32.const 1)) (else {others}))"
            case ast.UnaryOp(op=ast.Not()):
                return f"(i32.eqz {self.condition(node.operand)})"
            case ast.Compare(ops=[_, _, *_]):
                between = [ast.copy_location(ast.Compare(one, [op], [other]), node)
                           for one, op, other in zip([node.left, *node.comparators], node.ops, node.comparators)]
                return self.condition(ast.copy_location(ast.BoolOp(ast.And(), list(between)), node))
            case ast.Compare(ops=[op], comparators=[right]) if type(op) in COMPARED:
                one, other = self.alike(self.expression(node.left), self.expression(right))
                word = COMPARED[type(op)]
                if one.kind == "i32" and word not in ("eq", "ne"):
                    word += "_s"
                return f"({one.kind}.{word} {one.text} {other.text})"
        code = self.expression(node)
        if code.kind != "i32":
            raise self.refuse(node, "not a condition")
        return code.text

    def alike(self, one: Code, other: Code) -> tuple[Code, Code]:
        """Two values of one kind: numbers where either is one."""
        if one.kind == other.kind:
            return one, other
        return self.number(one), self.number(other)

    def number(self, code: Code) -> Code:
        if code.kind == "f64":
            return code
        if code.kind != "i32":
            raise NotKnown(f"{self.file}: {self.name}: a row is no number: {code.text}")
        return Code(f"(f64.convert_i32_s {code.text})", "f64")

    def as_kind(self, node: ast.AST, code: Code, kind: str) -> str:
        if code.kind == kind:
            return code.text
        if kind == "f64" and code.kind == "i32":
            return self.number(code).text
        raise self.refuse(node, f"{code.kind or 'nothing'} where {kind} is asked")


def machine_kind(kind: str) -> str:
    """What the machine keeps a kind in."""
    return kind if kind in ("f64", "v128") else "i32"
