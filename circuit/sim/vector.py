"""Loops that give one result for each place, done two places at once.

A loop is one of these when its body only sets numbers and places of rows, each from numbers, from rows at the same place,
and by arithmetic, min, max, sqrt and conditional expressions. Each result is the same to the last digit as one at a time.
"""

import ast
from typing import TYPE_CHECKING

from circuit.sim.expressions import ARITHMETIC, COMPARED

if TYPE_CHECKING:
    from circuit.sim.translate import Function


class _Alone(Exception):
    """This loop has something that is done one place at a time."""


def twice(function: "Function", loop: ast.For, count: str, stop: str) -> str:
    """The text that does a loop's places two at a time as long as there are two; empty where that cannot be.

    count, stop: the locals that hold the loop's number and its end; what is left is done by the loop itself."""
    try:
        return _Pairs(function, loop, count).text(stop)
    except _Alone:
        return ""


class _Pairs:
    def __init__(self, function: "Function", loop: ast.For, count: str):
        assert isinstance(loop.target, ast.Name)
        self.function, self.loop, self.count, self.number = function, loop, count, loop.target.id
        self.assigned = {node.id for each in loop.body for node in ast.walk(each)
                         if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)}
        self.set: set[str] = set()
        if any(self.read_outside(name) for name in (self.assigned | {self.number})):
            raise _Alone

    def text(self, stop: str) -> str:
        body = "\n".join(self.statement(each) for each in self.loop.body)
        names = f"@pair{self.count}"
        for name in self.set:
            self.function.kinds[f"{name}@2"] = "v128"
        step = f"(local.set ${self.count} (i32.add (local.get ${self.count}) (i32.const 2)))"
        return (f"(block ${names} (loop ${names}again (br_if ${names} (i32.ge_s (i32.add (local.get ${self.count}) "
                f"(i32.const 1)) (local.get ${stop}))) {body} {step} (br ${names}again)))")

    def read_outside(self, name: str) -> bool:
        """Whether a name is read where this loop, or another loop that sets it, has not just set it."""
        def reads(node: ast.AST) -> bool:
            if node is self.loop:
                return False
            if isinstance(node, ast.For) and any(_sets(each, name) for each in node.body) and not _contains(node, self.loop):
                return False
            if isinstance(node, ast.For) and isinstance(node.target, ast.Name) and node.target.id == name:
                return False
            if isinstance(node, ast.Name) and node.id == name and isinstance(node.ctx, ast.Load):
                return True
            return any(reads(child) for child in ast.iter_child_nodes(node))
        return reads(self.function.tree)

    def statement(self, node: ast.stmt) -> str:
        match node:
            case ast.Assign(targets=[ast.Name(id=name)]):
                text = self.value(node.value)
                self.set.add(name)
                return f"(local.set ${name}@2 {text})"
            case ast.Assign(targets=[ast.Subscript() as target]):
                return f"(v128.store {self.address(target)} {self.value(node.value)})"
            case ast.AugAssign(target=ast.Subscript() as target) if type(node.op) in ARITHMETIC:
                address = self.address(target)
                return (f"(v128.store {address} (f64x2.{ARITHMETIC[type(node.op)]} (v128.load {address}) "
                        f"{self.value(node.value)}))")
        raise _Alone

    def address(self, node: ast.Subscript) -> str:
        """The address of this place and the next in a row of numbers."""
        row = self.plain(node.value)
        if row[1] != "f64[]":
            raise _Alone
        here, index = f"(local.get ${self.count})", node.slice
        if isinstance(index, ast.BinOp) and isinstance(index.op, ast.Add):
            before, index = index.left, index.right
            text, kind = self.plain(before)
            if kind != "i32":
                raise _Alone
            here = f"(i32.add {text} {here})"
        if not isinstance(index, ast.Name) or index.id != self.number:
            raise _Alone
        return f"(i32.add {row[0]} (i32.shl {here} (i32.const 3)))"

    def plain(self, node: ast.expr) -> tuple[str, str]:
        """Something that is the same for all places."""
        if any(isinstance(each, ast.Subscript | ast.Call) or isinstance(each, ast.Name)
               and (each.id == self.number or each.id in self.assigned) for each in ast.walk(node)):
            raise _Alone
        return self.function.expression(node)

    def value(self, node: ast.expr) -> str:
        """A pair of numbers."""
        match node:
            case ast.Name(id=name) if name in self.assigned:
                if name not in self.set:
                    raise _Alone
                return f"(local.get ${name}@2)"
            case ast.Subscript():
                return f"(v128.load {self.address(node)})"
            case ast.BinOp() if type(node.op) in ARITHMETIC:
                return f"(f64x2.{ARITHMETIC[type(node.op)]} {self.value(node.left)} {self.value(node.right)})"
            case ast.UnaryOp(op=ast.USub()) if not isinstance(node.operand, ast.Constant):
                return f"(f64x2.neg {self.value(node.operand)})"
            case ast.IfExp(test=ast.Compare(left=left, ops=[op], comparators=[right])):
                mask = f"(f64x2.{COMPARED[type(op)]} {self.value(left)} {self.value(right)})"
                return f"(v128.bitselect {self.value(node.body)} {self.value(node.orelse)} {mask})"
            case ast.Call(func=ast.Name(id="min" | "max" as name), args=[one, other]):
                return f"(f64x2.p{name} {self.value(one)} {self.value(other)})"
            case ast.Call(func=ast.Name(id="sqrt"), args=[one]):
                return f"(f64x2.sqrt {self.value(one)})"
        text, kind = self.plain(node)
        if kind != "f64":
            raise _Alone
        return f"(f64x2.splat {text})"


def _sets(node: ast.stmt, name: str) -> bool:
    return isinstance(node, ast.Assign) and any(isinstance(t, ast.Name) and t.id == name for t in node.targets)


def _contains(node: ast.AST, other: ast.AST) -> bool:
    return any(each is other for each in ast.walk(node))
