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
from typing import Any, get_type_hints

from circuit.sim.expressions import Code, Expressions, Signature, machine_kind
from circuit.sim.layout import KINDS, Record, record_of


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


class Function(Expressions):
    """One function on its way to text."""

    def __init__(self, function: Callable[..., Any], signatures: dict[str, Signature]):
        super().__init__(function, signatures)
        self.tree = source_of(function)
        self.labels: list[int] = []
        self.loops = 0

    def text(self) -> str:
        """The whole function."""
        body = self.block(self.tree.body)
        takes = " ".join(f"(param ${n} {machine_kind(k if isinstance(k, str) else 'i32')})" for n, k in self.mine.takes.items())
        gives = f"(result {self.mine.gives})" if self.mine.gives else ""
        own = [n for n in self.kinds if n not in self.mine.takes]
        local = " ".join(f"(local ${n} {machine_kind(self.kinds[n])})" for n in own)
        found = " ".join(f"(local ${field}@{name} {machine_kind(kind)})" for (name, field), kind in self.looked_up.items())
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


def _reading(target: ast.expr) -> ast.expr:
    """What is written to, to be read."""
    return ast.parse(ast.unparse(target), mode="eval").body
