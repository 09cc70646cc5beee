"""What an expression may say: turns a syntax tree into closures over a room's figures.

Comes in: a node of Python's own expression grammar. Goes out: an `Amount` (with its dimension) or a `Truth`.
Only the nodes named here are read, each by hand; nothing is ever evaluated by the interpreter.
"""

import ast

from labour.engine.amounts import (
    Amount,
    Misread,
    Truth,
    arithmetic,
    call,
    check_function,
    choose,
    compare_amounts,
    number_amount,
    quantity_amount,
)
from labour.engine.vocabulary import CONDITIONS, FACTS

DEEPEST = 30


def read_amount(node: ast.expr, source: str, depth: int = 0) -> Amount:
    """Read a number-valued part. Raise Misread when it is something else."""
    _stop_when_deep(depth)
    said = ast.unparse(node)
    match node:
        case ast.Constant(value=bool() | str() | bytes() | None):
            raise Misread(f"{said} stands where a number belongs")
        case ast.Constant():
            return number_amount(ast.get_source_segment(source, node) or said)
        case ast.Name(id=name):
            return quantity_amount(name)
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            part = read_amount(operand, source, depth + 1)
            return Amount(part.dimension, lambda figures: -part.value(figures), said)
        case ast.BinOp(left=left, op=sign, right=right):
            parts = (read_amount(left, source, depth + 1), read_amount(right, source, depth + 1))
            return arithmetic(sign, parts, said)
        case ast.IfExp(test=test, body=body, orelse=orelse):
            choice = (read_amount(body, source, depth + 1), read_amount(orelse, source, depth + 1))
            return choose(read_truth(test, source, depth + 1), choice, said)
        case ast.Call(func=ast.Name(id=name), args=args, keywords=[]):
            check_function(name)
            return call(name, [read_amount(arg, source, depth + 1) for arg in args], said)
        case ast.Compare() | ast.BoolOp() | ast.UnaryOp(op=ast.Not()):
            raise Misread(f"{said} is yes or no where a number belongs")
    raise Misread(f"{said} is not something an expression may say")


def read_truth(node: ast.expr, source: str, depth: int = 0) -> Truth:
    """Read a part that is yes or no. Raise Misread when it is something else."""
    _stop_when_deep(depth)
    match node:
        case ast.Name(id=name) if name in CONDITIONS:
            return lambda figures: name in figures.conditions
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            part = read_truth(operand, source, depth + 1)
            return lambda figures: not part(figures)
        case ast.BoolOp(op=sign, values=values):
            parts = [read_truth(value, source, depth + 1) for value in values]
            whole = all if isinstance(sign, ast.And) else any
            return lambda figures: whole(part(figures) for part in parts)
        case ast.Compare(left=left, ops=[sign], comparators=[right]):
            if isinstance(left, ast.Name) and left.id in FACTS:
                return _compare_fact(left.id, sign, right)
            pair = (read_amount(left, source, depth + 1), read_amount(right, source, depth + 1))
            return compare_amounts(sign, pair)
        case ast.Compare():
            raise Misread(f'compare two things at a time and join them with "and": {ast.unparse(node)}')
        case ast.Name(id=name) if name in FACTS:
            raise Misread(f"{name} is a text; compare it, as in {name} == '{FACTS[name][-1]}'")
    part_said = read_amount(node, source, depth).described
    raise Misread(f"{part_said} where yes or no belongs; compare it, as in {ast.unparse(node)} > 0")


def _stop_when_deep(depth: int) -> None:
    if depth > DEEPEST:
        raise Misread(f"it is nested more than {DEEPEST} levels deep; split it over several lines")


def _compare_fact(name: str, sign: ast.cmpop, right: ast.expr) -> Truth:
    match sign, right:
        case ((ast.Eq() | ast.NotEq()), ast.Constant(value=str())):
            words: list[ast.expr] = [right]
        case ((ast.In() | ast.NotIn()), (ast.Tuple(elts=elements) | ast.List(elts=elements))) if elements:
            words = elements
        case _:
            example = f"{name} == '{FACTS[name][-1]}'"
            raise Misread(f"{name} is a text; compare it as in {example} or {name} in ('…', '…')")
    values = frozenset(_fact_value(name, word) for word in words)
    if isinstance(sign, ast.Eq | ast.In):
        return lambda figures: figures.facts[name] in values
    return lambda figures: figures.facts[name] not in values


def _fact_value(name: str, word: ast.expr) -> str:
    allowed = FACTS[name]
    if isinstance(word, ast.Constant) and isinstance(word.value, str) and word.value in allowed:
        return word.value
    raise Misread(f"{ast.unparse(word)[:60]} is not a value of {name}; it may be {', '.join(allowed)}")
