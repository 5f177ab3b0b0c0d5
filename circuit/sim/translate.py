"""The kernel's text as WebAssembly, so that one text is what every machine runs: in the process, and in a browser.

Knows a small part of Python, and refuses the rest with file and line: functions of annotated arguments; numbers, rows of
numbers, and records of both (`Arrays`, `Room`, `Tableau`); assignments, `if`, `while`, `for ... in range`, `break`,
`continue`, `return`; arithmetic, comparisons, `and`, `or`, `not`, conditional expressions; min, max, sqrt, int, float and
calls of each other. Whole numbers have 32 bits. A record is an address: its fields lie 8 bytes apart, a row's field holds
the row's address. Rows never move during a run, so a function looks their addresses up once, when it is entered.
"""

import ast
import inspect
from collections.abc import Callable, Iterable
from textwrap import dedent
from typing import Any, NamedTuple, get_type_hints

WORD = 8
"""Bytes from one field of a record to the next."""
STEPS = {"scaled": "(f64.mul {} (f64.reinterpret_i64 (i64.shl (i64.extend_i32_s (i32.add {} (i32.const 1023))) (i64.const 52))))",
         "exponent_of": "(i32.sub (i32.wrap_i64 (i64.shr_u (i64.reinterpret_f64 {}) (i64.const 52))) (i32.const 1022))"}
"""Single steps of the machine that Python has in its library."""
ARITHMETIC = {ast.Add: "add", ast.Sub: "sub", ast.Mult: "mul", ast.Div: "div"}
COMPARED = {ast.Lt: "lt", ast.LtE: "le", ast.Gt: "gt", ast.GtE: "ge", ast.Eq: "eq", ast.NotEq: "ne"}


class NotKnown(Exception):
    """The text has something that is not of the small part of Python."""


class Field(NamedTuple):
    """kind: `f64`, `i32`, `f64[]` or `i32[]`."""

    kind: str
    place: int


class Record(NamedTuple):
    """A class whose fields lie in memory. fixed: whether its numbers stay as they are while a function runs."""

    name: str
    fields: dict[str, Field]
    fixed: bool


KINDS: dict[Any, str] = {float: "f64", int: "i32", bool: "i32", list[float]: "f64[]", list[int]: "i32[]"}


def record_of(kind: type) -> Record:
    """The layout that a class's annotations make."""
    fields = {name: Field(KINDS[hint], WORD * place)
              for place, (name, hint) in enumerate(get_type_hints(kind).items())}
    return Record(kind.__name__, fields, issubclass(kind, tuple))


class Signature(NamedTuple):
    """takes: name to kind, or to a record. gives: kind, or empty."""

    takes: dict[str, "str | Record"]
    gives: str


class Code(NamedTuple):
    """An expression: its text, and its kind."""

    text: str
    kind: str


def module_text(functions: Iterable[Callable[..., Any]], exported: Iterable[str], records: Iterable[type]) -> str:
    """The text of a module with these functions, whose memory is the host's.

    Raises NotKnown."""
    functions = tuple(functions)
    known = {kind: record_of(kind) for kind in records}
    signatures = {f.__name__: _signature(f, known) for f in functions}
    parts = [Function(f, signatures).text() for f in functions]
    shown = [f'(export "{name}" (func ${name}))' for name in exported]
    return "\n".join(['(module (import "host" "memory" (memory 1))', *parts, *shown, ")"])


def _signature(function: Callable[..., Any], known: dict[type, Record]) -> Signature:
    hints = get_type_hints(function)
    gives = hints.pop("return", type(None))
    takes = {name: known[hint] if hint in known else KINDS[hint] for name, hint in hints.items()}
    return Signature(takes, "" if gives is type(None) else KINDS[gives])


def source_of(function: Callable[..., Any]) -> ast.FunctionDef:
    """The syntax tree of a function, its lines counted as in its file."""
    tree = ast.parse(dedent(inspect.getsource(function))).body[0]
    assert isinstance(tree, ast.FunctionDef)
    ast.increment_lineno(tree, function.__code__.co_firstlineno - 1)
    return tree


class Function:
    """One function on its way to text."""

    def __init__(self, function: Callable[..., Any], signatures: dict[str, Signature]):
        self.name, self.file = function.__name__, function.__code__.co_filename
        self.globals = function.__globals__
        self.signatures = signatures
        self.tree = source_of(function)
        self.mine = signatures[self.name]
        self.kinds: dict[str, str] = {n: k for n, k in self.mine.takes.items() if isinstance(k, str)}
        self.records = {n: k for n, k in self.mine.takes.items() if isinstance(k, Record)}
        self.looked_up: dict[tuple[str, str], str] = {}
        self.labels: list[int] = []
        self.loops = 0

    def refuse(self, node: ast.AST, why: str) -> NotKnown:
        return NotKnown(f"{self.file}:{getattr(node, 'lineno', 0)}: {why}: {ast.unparse(node)}")

    def text(self) -> str:
        """The whole function."""
        body = self.block(self.tree.body)
        takes = " ".join(f"(param ${n} {_machine(k if isinstance(k, str) else 'i32')})" for n, k in self.mine.takes.items())
        gives = f"(result {self.mine.gives})" if self.mine.gives else ""
        own = [n for n in self.kinds if n not in self.mine.takes]
        local = " ".join(f"(local ${n} {_machine(self.kinds[n])})" for n in own)
        found = " ".join(f"(local ${field}@{name} {_machine(kind)})" for (name, field), kind in self.looked_up.items())
        first = " ".join(f"(local.set ${field}@{name} {self.load_field(name, field)})" for name, field in self.looked_up)
        end = "(unreachable)" if self.mine.gives else ""
        return f"(func ${self.name} {takes} {gives} {local} {found}\n{first}\n{body}\n{end})"

    # --- statements --------------------------------------------------------------------------------------------------

    def block(self, statements: list[ast.stmt]) -> str:
        return "\n".join(self.statement(each) for each in statements)

    def statement(self, node: ast.stmt) -> str:
        """The text of one statement."""
        match node:
            case ast.Expr(value=ast.Constant(value=str())) | ast.Pass():
                return ""
            case ast.Expr(value=ast.Call() as call):
                code = self.expression(call)
                return f"(drop {code.text})" if code.kind else code.text
            case ast.Assign(targets=[target]):
                return self.store(target, self.expression(node.value))
            case ast.AugAssign():
                read = ast.copy_location(ast.BinOp(_reading(node.target), node.op, node.value), node)
                return self.store(node.target, self.expression(ast.fix_missing_locations(read)))
            case ast.If():
                other = f"(else {self.block(node.orelse)})" if node.orelse else ""
                return f"(if {self.condition(node.test)} (then {self.block(node.body)}) {other})"
            case ast.While(orelse=[]):
                return self.loop(f"(br_if $end{{0}} (i32.eqz {self.condition(node.test)}))", node.body, "")
            case ast.For(target=ast.Name(), iter=ast.Call(func=ast.Name(id="range")), orelse=[]):
                return self.counted(node)
            case ast.Break():
                return f"(br $end{self.labels[-1]})"
            case ast.Continue():
                return f"(br $on{self.labels[-1]})"
            case ast.Return(value=None):
                return "(return)"
            case ast.Return(value=ast.expr() as value):
                return f"(return {self.as_kind(node, self.expression(value), self.mine.gives)})"
        raise self.refuse(node, "not a statement of the kernel's language")

    def loop(self, begins: str, body: list[ast.stmt], goes_on: str) -> str:
        self.loops += 1
        number = self.loops
        self.labels.append(number)
        inside = self.block(body)
        self.labels.pop()
        return (f"(block $end{number} (loop $again{number} {begins.format(number)} (block $on{number} {inside}) "
                f"{goes_on} (br $again{number})))")

    def counted(self, node: ast.For) -> str:
        """A loop over a range: its number is counted apart, so that it keeps its last value afterwards, as in Python."""
        from circuit.sim.vector import twice

        assert isinstance(node.target, ast.Name) and isinstance(node.iter, ast.Call)
        first, last = ([ast.Constant(0)] * (2 - len(node.iter.args)) + node.iter.args)[:2]
        if len(node.iter.args) > 2:
            raise self.refuse(node.iter, "a range with a step")
        name = node.target.id
        self.declare(node, name, "i32")
        number = self.loops + 1
        count, stop = f"@count{number}", f"@stop{number}"
        self.kinds[count] = self.kinds[stop] = "i32"
        begin = (f"(local.set ${count} {self.whole(first)}) (local.set ${stop} {self.whole(last)})")
        pairs = twice(self, node, count, stop) or self.unrolled(node, count, stop)
        body = self.loop(f"(br_if $end{{0}} (i32.ge_s (local.get ${count}) (local.get ${stop}))) "
                         f"(local.set ${name} (local.get ${count}))", node.body,
                         f"(local.set ${count} (i32.add (local.get ${count}) (i32.const 1)))")
        return f"{begin} {pairs} {body}"

    def unrolled(self, node: ast.For, count: str, stop: str) -> str:
        """The text that does a plain body twice in a row as long as there are two left: half the counting. Loops between
        places that are read from a row are short ones, for which it does not pay."""
        plain = all(not isinstance(each, ast.For | ast.While | ast.Break | ast.Continue | ast.Return | ast.Call)
                    for part in node.body for each in ast.walk(part))
        if not plain or any(isinstance(each, ast.Subscript) for each in ast.walk(node.iter)):
            return ""
        assert isinstance(node.target, ast.Name)
        set_ = f"(local.set ${node.target.id} (local.get ${count}))"
        step = f"(local.set ${count} (i32.add (local.get ${count}) (i32.const 1)))"
        once = f"{set_} {self.block(node.body)} {step}"
        name = f"$@row{count}"
        return (f"(block {name} (loop {name}again (br_if {name} (i32.ge_s (i32.add (local.get ${count}) (i32.const 1)) "
                f"(local.get ${stop}))) {once} {once} (br {name}again)))")

    def store(self, target: ast.expr, value: Code) -> str:
        """An assignment."""
        match target:
            case ast.Name(id=name):
                if name not in self.kinds:
                    self.declare(target, name, value.kind)
                return f"(local.set ${name} {self.as_kind(target, value, self.kinds[name])})"
            case ast.Subscript():
                address, kind = self.place(target)
                return f"({kind}.store {address} {self.as_kind(target, value, kind)})"
            case ast.Attribute(value=ast.Name(id=name), attr=field) if name in self.records:
                record = self.records[name]
                if record.fixed or record.fields[field].kind.endswith("[]"):
                    raise self.refuse(target, "this field stays as it is")
                kind, place = record.fields[field]
                return f"({kind}.store offset={place} (local.get ${name}) {self.as_kind(target, value, kind)})"
        raise self.refuse(target, "nothing that can be assigned to")

    def declare(self, node: ast.AST, name: str, kind: str) -> None:
        if not kind or self.kinds.get(name, kind) != kind or name in self.records:
            raise self.refuse(node, f"`{name}` is of two kinds")
        self.kinds[name] = kind

    # --- expressions -------------------------------------------------------------------------------------------------

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
        return f"({_machine(kind)}.load offset={place} (local.get ${name}))"

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

    # --- kinds -------------------------------------------------------------------------------------------------------

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


def _machine(kind: str) -> str:
    return kind if kind in ("f64", "v128") else "i32"


def _reading(target: ast.expr) -> ast.expr:
    """What is written to, to be read."""
    return ast.parse(ast.unparse(target), mode="eval").body
