"""How a place of Python is changed: the kept library's operators, and a few that it lacks.

Left out of the library's: bit operations and shifts on what are floats here (a type error kills
them at once and says nothing of the tests), and random values for variables.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from cosmic_ray.ast import Visitor, ast_nodes, get_ast
from cosmic_ray.operators.operator import Operator
from cosmic_ray.operators.provider import OperatorProvider

from . import formulas
from .mutant import Site

_BINARY = ("Add_Sub", "Add_Mul", "Sub_Add", "Sub_Mul", "Mul_Div", "Mul_Add", "Div_Mul", "Div_FloorDiv",
           "FloorDiv_Div", "FloorDiv_Mul", "Mod_Mul", "Pow_Mul", "BitOr_BitAnd", "BitAnd_BitOr")  # fmt: skip
_COMPARE = ("Eq_NotEq", "NotEq_Eq", "Lt_LtE", "Lt_Gt", "LtE_Lt", "LtE_Gt", "Gt_GtE", "Gt_Lt", "GtE_Gt",
            "GtE_Lt", "Is_IsNot", "IsNot_Is")  # fmt: skip
_OTHER = ("ReplaceUnaryOperator_Delete_USub", "ReplaceUnaryOperator_Delete_Not", "AddNot",
          "ReplaceTrueWithFalse", "ReplaceFalseWithTrue", "ReplaceAndWithOr", "ReplaceOrWithAnd",
          "ReplaceBreakWithContinue", "ReplaceContinueWithBreak", "ExceptionReplacer", "NumberReplacer",
          "ZeroIterationForLoop")  # fmt: skip
KEPT = (*(f"ReplaceBinaryOperator_{name}" for name in _BINARY),
        *(f"ReplaceComparisonOperator_{name}" for name in _COMPARE), *_OTHER)  # fmt: skip
ROUNDING = ("ceil", "floor", "round", "abs", "fsum", "sqrt", "radians", "degrees")


class _Own(Operator):
    """What our own operators have in common."""

    @classmethod
    def examples(cls) -> tuple[Any, ...]:
        """The library's own tests want them; ours stand in tests/tools/test_mutate.py."""
        return ()


class _Unwrap(_Own):
    """``name(x)`` becomes ``(x)``, for calls of one argument."""

    names: tuple[str, ...] = ()

    def mutation_positions(self, node: Any) -> Iterator[Any]:
        """A name or an attribute that is called with one argument, at the call's brackets."""
        if node.type != "trailer" or node.children[0].value != "(" or len(node.children) != 3:
            return
        called = node.get_previous_leaf()
        if called is not None and called.value in self.names and node.children[1].type != "arglist":
            yield (called.start_pos, called.end_pos)

    def mutate(self, node: Any, index: int) -> Any:
        """Take the called name away, with what stands before it and a point."""
        holder = node.parent
        at = holder.children.index(node)
        for before in holder.children[:at]:
            for leaf in _leaves(before):
                leaf.value = ""
        return node


class Unescape(_Unwrap):
    """Text goes into a page as it is."""

    names = ("escape", "symbol", "quoteattr", "quote")


class Unround(_Unwrap):
    """A rounding or a turning of units is left out."""

    names = ROUNDING


class DropOperand(_Own):
    """``a + b`` becomes ``a``: a tolerance, a factor, a term is left out."""

    def mutation_positions(self, node: Any) -> Iterator[Any]:
        """A sum or a product, at its last operator."""
        if node.type in ("arith_expr", "term"):
            yield (node.children[-2].start_pos, node.end_pos)

    def mutate(self, node: Any, index: int) -> Any:
        """Take the last operator and operand away."""
        for each in node.children[-2:]:
            for leaf in _leaves(each):
                leaf.value = leaf.prefix = ""
        return node


class DropKeyword(_Own):
    """``f(x, tolerance=y)`` becomes ``f(x)``: what was said is left to the default."""

    def mutation_positions(self, node: Any) -> Iterator[Any]:
        """Each keyword argument of a call."""
        if node.type == "arglist" and node.parent.type == "trailer":
            for each in _keywords(node):
                yield (each.start_pos, each.end_pos)

    def mutate(self, node: Any, index: int) -> Any:
        """Take it away with the comma before it."""
        gone = _keywords(node)[index]
        at = node.children.index(gone)
        for each in node.children[max(at - 1, 0) : at + 1]:
            for leaf in _leaves(each):
                leaf.value = leaf.prefix = ""
        return node


class Formula(_Own):
    """The formula in a text that is printed and worked out is changed."""

    def mutation_positions(self, node: Any) -> Iterator[Any]:
        """Each change of each text that is a formula."""
        if node.type == "string" and formulas.is_formula(node):
            for _ in formulas.changes(node.value):
                yield (node.start_pos, node.end_pos)

    def mutate(self, node: Any, index: int) -> Any:
        """Put the changed text in."""
        node.value = list(formulas.changes(node.value))[index]
        return node


OWN = {each.__name__: each for each in (Unescape, Unround, DropOperand, DropKeyword, Formula)}


def _keywords(node: Any) -> list[Any]:
    return [each for each in node.children if each.type == "argument"
            and each.children[0].type == "name" and getattr(each.children[1], "value", "") == "="]  # fmt: skip


def _leaves(node: Any) -> list[Any]:
    return [each for each in ast_nodes(node) if not hasattr(each, "children")]


# What each of ours makes of a line; asked before every run, because the checks lack the library.
EXAMPLES = {
    "Unescape": ("x = a + escape(b[1])", "x = a + (b[1])"),
    "Unround": ("x = math.ceil(a / b)", "x = (a / b)"),
    "DropOperand": ("x = (a - b) * c", "x = (a - b)"),
    "DropKeyword": ("f(1, a=2, b=3)", "f(1, b=3)"),
    "Formula": ("work.step('n', 'N', 'w + 2*h', 'length')", "work.step('n', 'N', 'w - 2*h', 'length')"),
}
# What holds nothing that could be changed with an effect.
IDLE = "def f(a: int, *, b: int = c) -> int:\n    return zip(a, b, strict=True, help='a')\n"


def check() -> None:
    """Raise AssertionError where one of ours does not what it says, or the library has changed."""
    if idle := sites("example.py", IDLE):
        raise AssertionError(f"changed without effect: {idle}")
    for name, (before, after) in EXAMPLES.items():
        made = mutated(before, Site("example.py", name, 0, 1, 0))
        if made is None or made.replace("  ", " ") != after:
            raise AssertionError(f"{name} makes {made!r} of {before!r}, not {after!r}")
    known = set(OperatorProvider())
    if not set(KEPT) <= known:
        raise AssertionError(f"the library has lost {sorted(set(KEPT) - known)}")


def operator(name: str) -> Any:
    """An operator by its name."""
    return OWN[name]() if name in OWN else OperatorProvider()[name]()


def sites(path: str, text: str) -> list[Site]:
    """Every place of a file that can be changed, and where it makes sense to."""
    found = []
    made = {name: operator(name) for name in (*KEPT, *OWN)}
    counts = dict.fromkeys(made, 0)
    for node in ast_nodes(get_ast(text)):
        for name, each in made.items():
            for begin, _ in each.mutation_positions(node):
                if not _idle(node) and not (name == "DropKeyword" and _hint(node, begin)):
                    found.append(Site(path, name, counts[name], *begin))
                counts[name] += 1
    return found


class _Once(Visitor):
    """Changes one place in a walk over a file; the library's own wants its database for that."""

    def __init__(self, each: Any, occurrence: int) -> None:
        self.each = each
        self.left = occurrence

    def visit(self, node: Any) -> Any:
        """Change the node where it is the one."""
        for index, _ in enumerate(self.each.mutation_positions(node)):
            self.left -= 1
            if self.left == -1:
                return self.each.mutate(node, index)
        return node


def mutated(text: str, site: Site) -> str | None:
    """The file's text with the fault, None where that leaves it as it was or is no Python."""
    new = _Once(operator(site.operator), site.occurrence).walk(get_ast(text)).get_code()
    if new == text:
        return None
    try:
        compile(new, site.path, "exec")
    except SyntaxError:
        return None
    return str(new)


# A change in an annotation, an import or what only a type checker runs can have no effect; a
# decorator's options (frozen, maxsize) none that a result shows; a hint beside a field decides nothing, and ``strict``
# only where another line is broken.
_HINTS = ("help", "example")
_DECIDES_NOTHING = (*_HINTS, "strict")


def _hint(node: Any, begin: tuple[int, int]) -> bool:
    return any(each.children[0].value in _DECIDES_NOTHING for each in _keywords(node) if each.start_pos == begin)


def _idle(node: Any) -> bool:
    if _without_effect(node, node):
        return True
    child = node
    while child.parent is not None:
        if _without_effect(child, child.parent):
            return True
        child = child.parent
    return False


_NEVER = ("import_from", "import_name", "decorator", "tfpdef")


def _without_effect(child: Any, parent: Any) -> bool:
    """Whether nothing that stands in this part of its parent decides anything."""
    if parent.type in ("param", "funcdef"):
        return bool(parent.annotation is child)
    if parent.type == "annassign":
        return bool(child is parent.children[1])
    if parent.type == "argument":
        return parent.children[0].get_code().strip() in _DECIDES_NOTHING
    if parent.type == "parameters":
        return bool(child.type == "operator")  # a bare * among them is no product
    if parent.type == "if_stmt":
        return "TYPE_CHECKING" in parent.children[1].get_code()
    return parent.type in _NEVER
