"""Every small way in which a source file may be wrong: one change of its syntax tree each.

Comparisons are flipped or moved by one, sums and differences changed over, whole numbers put
off by one, `not` left out, `and` and `or` changed over, nothing given back, a statement left
out. Docstrings, annotations, texts and loops that are compiled are let be.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

COMPARED: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE,), ast.LtE: (ast.Lt,), ast.Gt: (ast.GtE,), ast.GtE: (ast.Gt,),
    ast.Eq: (ast.NotEq,), ast.NotEq: (ast.Eq,), ast.Is: (ast.IsNot,), ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,), ast.NotIn: (ast.In,),
}  # fmt: skip
RECKONED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Add, ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult, ast.Mod: ast.FloorDiv, ast.Pow: ast.Mult, ast.BitOr: ast.BitAnd,
    ast.BitAnd: ast.BitOr, ast.LShift: ast.RShift, ast.RShift: ast.LShift, ast.BitXor: ast.BitAnd,
}  # fmt: skip
CALLED = {"min": "max", "max": "min", "floor": "ceil", "ceil": "floor", "any": "all", "all": "any"}

Edit = Callable[[], None]


@dataclass(frozen=True)
class Spoiled:
    """One change: the file, the function and the line where it stands, and what it does there."""

    path: Path
    place: str
    first: int
    last: int
    told: str
    number: int
    """Which of all changes to the file it is."""

    def line(self, root: Path) -> str:
        """Where it stands."""
        return f"{self.path.relative_to(root)}:{self.first}"

    def name(self, root: Path) -> str:
        """A name that stays the same when lines move."""
        return f"{self.path.relative_to(root)} {self.place}: {self.told}"

    def code(self) -> object:
        """The file with this change, compiled."""
        tree = ast.parse(self.path.read_text(encoding="utf-8"))
        for number, (_, _, _, edit) in enumerate(_changes(tree)):
            if number == self.number:
                edit()
                break
        return compile(ast.fix_missing_locations(tree), str(self.path), "exec")


def every(path: Path) -> list[Spoiled]:
    """All changes to a file, in its order."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return [
        Spoiled(path, place, statement.lineno, statement.end_lineno or statement.lineno, told, at)
        for at, (place, statement, told, _) in enumerate(_changes(tree))
    ]


def _changes(tree: ast.Module) -> Iterator[tuple[str, ast.stmt, str, Edit]]:
    """The function, the statement, the words and the doing of every change."""
    for place, statement in _statements(tree, "the module"):
        for told, edit in _of_statement(statement):
            yield place, statement, told, edit
        for node in _expressions(statement):
            for told, edit in _of_expression(node):
                bare = isinstance(node, ast.Constant)
                yield place, statement, f"{_head(statement)}: {told}" if bare else told, edit


def _statements(node: ast.AST, place: str) -> Iterator[tuple[str, ast.stmt]]:
    """Every statement below a node but those of compiled loops, with the function it is in."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.FunctionDef | ast.ClassDef):
            if any("compiled" in ast.unparse(one) for one in child.decorator_list):
                continue
            inner = child.name if place == "the module" else f"{place}.{child.name}"
            yield inner, child
            yield from _statements(child, inner)
        elif isinstance(child, ast.stmt):
            if not isinstance(child, ast.Import | ast.ImportFrom):
                yield place, child
            yield from _statements(child, place)
        elif isinstance(child, ast.match_case | ast.ExceptHandler):
            yield from _statements(child, place)


def _expressions(statement: ast.stmt) -> Iterator[ast.AST]:
    """The expressions of a statement itself, not of the statements in it, nor what only tells."""
    if isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant):
        return
    told = isinstance(statement, ast.Raise)
    waiting: list[ast.AST] = [
        child
        for name, field in ast.iter_fields(statement)
        for child in (field if isinstance(field, list) else [field])
        if isinstance(child, ast.AST)
        and name not in ("annotation", "returns", "decorator_list", "bases", "type_params")
    ]
    while waiting and not told:
        node = waiting.pop(0)
        if isinstance(node, ast.stmt | ast.JoinedStr | ast.match_case | ast.ExceptHandler):
            continue
        if isinstance(node, ast.arguments):
            waiting += [*node.defaults, *(one for one in node.kw_defaults if one)]
            continue
        yield node
        waiting += list(ast.iter_child_nodes(node))


def _of_statement(node: ast.stmt) -> Iterator[tuple[str, Edit]]:
    if isinstance(node, ast.Return) and node.value is not None:
        if not (isinstance(node.value, ast.Constant) and node.value.value is None):
            yield _shown(node, "return None"), lambda: setattr(node, "value", ast.Constant(None))
    elif isinstance(node, ast.If | ast.While):
        yield (
            f"{_short(node.test)} -> not",
            lambda: setattr(node, "test", ast.UnaryOp(ast.Not(), node.test)),
        )
    elif isinstance(node, ast.AugAssign):
        other = RECKONED.get(type(node.op))
        if other is not None:
            yield _shown(node, f"{other.__name__}"), lambda: setattr(node, "op", other())
    elif isinstance(node, ast.Continue):
        yield "continue -> break", lambda: _become(node, ast.Break())
    elif isinstance(node, ast.Expr) and isinstance(
        node.value, ast.Call | ast.YieldFrom | ast.Yield
    ):
        yield _shown(node, "nothing"), lambda: setattr(node, "value", ast.Constant(None))


def _of_expression(node: ast.AST) -> Iterator[tuple[str, Edit]]:
    if isinstance(node, ast.Compare):
        for at, op in enumerate(node.ops):
            for other in COMPARED[type(op)]:
                told = f"{_short(node)} -> {other.__name__}" + (f" in place {at + 1}" if at else "")
                yield told, lambda at=at, other=other: node.ops.__setitem__(at, other())
    elif isinstance(node, ast.BinOp) and type(node.op) in RECKONED:
        other_op = RECKONED[type(node.op)]
        if not isinstance(node.left, ast.JoinedStr):
            yield _shown(node, other_op.__name__), lambda: setattr(node, "op", other_op())
    elif isinstance(node, ast.BoolOp):
        both = ast.Or if isinstance(node.op, ast.And) else ast.And
        yield _shown(node, both.__name__), lambda: setattr(node, "op", both())
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not | ast.USub):
        yield _shown(node, "without"), lambda: _become(node, node.operand)
    elif isinstance(node, ast.Constant):
        yield from _of_constant(node)
    else:
        yield from _of_choice(node)


def _of_choice(node: ast.AST) -> Iterator[tuple[str, Edit]]:
    if isinstance(node, ast.IfExp):
        yield (
            f"{_short(node.test)} -> not",
            lambda: setattr(node, "test", ast.UnaryOp(ast.Not(), node.test)),
        )
    elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in CALLED:
        called = CALLED[node.func.id]
        yield _shown(node, called), lambda: setattr(node.func, "id", called)


def _of_constant(node: ast.Constant) -> Iterator[tuple[str, Edit]]:
    value = node.value
    if isinstance(value, bool):
        yield f"{value} -> {not value}", lambda: setattr(node, "value", not value)
    elif isinstance(value, int):
        yield f"{value} -> {value + 1}", lambda: setattr(node, "value", value + 1)
    elif isinstance(value, float):
        yield f"{value} -> {value * 2 or 1.0}", lambda: setattr(node, "value", value * 2 or 1.0)


def _become(node: ast.AST, other: ast.AST) -> None:
    """Turn a node into another where it stands."""
    node.__class__ = type(other)
    node.__dict__ = {**node.__dict__, **other.__dict__}


def _short(node: ast.AST) -> str:
    text = " ".join(ast.unparse(node).split())
    return text if len(text) <= 70 else f"{text[:67]}..."


def _head(statement: ast.stmt) -> str:
    """A statement in short, of a longer one only what it begins with."""
    text = ast.unparse(statement).partition("\n")[0]
    return text if len(text) <= 50 else f"{text[:47]}..."


def _shown(node: ast.AST, other: str) -> str:
    return f"{_short(node)} -> {other}"
