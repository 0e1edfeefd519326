"""Style that no linter checks for us."""

from __future__ import annotations

import ast
import re
from statistics import median

import pytest

FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)
UNFINISHED = re.compile(r"\b(TODO|FIXME|XXX|HACK|TBD)\b|raise NotImplemented")
EXCUSE = re.compile(r"#\s*noqa\b(?P<rest>.*)|#\s*type:\s*ignore(?P<rest_of_type>.*)")
REASON = re.compile(r"^(: [A-Z]+[0-9]+(, ?[A-Z]+[0-9]+)*|\[[a-z-]+(, ?[a-z-]+)*\])\s+(- |# )\S+")
MAKES_FLOATS = {"float", "math"}


def body_lines(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines of a function's body, its docstring apart."""
    body = function.body[1:] if ast.get_docstring(function) else function.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


def test_functions_are_short(shipped_python):
    """Half of the program's functions have a body of fewer than ten lines."""
    lengths = [
        body_lines(node) for file in shipped_python for node in ast.walk(file.tree) if isinstance(node, FUNCTIONS)
    ]
    assert len(lengths) > 100
    assert median(lengths) < 10


def test_nothing_is_left_unfinished(python_files):
    """The program and its tools hold no note of work to do and no body that only says so."""
    left = [
        f"{file}:{number}"
        for file in python_files
        if file.is_in("service", "schemas", "deploy")
        for number, line in enumerate((file.text or "").splitlines(), 1)
        if UNFINISHED.search(line)
    ]
    assert left == []


def test_every_exemption_has_its_reason(python_files):
    """A check is switched off for one named rule, with the reason beside it."""
    bare = [
        f"{file}:{number}"
        for file in python_files
        if not file.is_in("tests/house")
        for number, line in enumerate((file.text or "").splitlines(), 1)
        if (found := EXCUSE.search(line)) and not REASON.match(found["rest"] or found["rest_of_type"] or "")
    ]
    assert bare == []


@pytest.mark.parametrize("excuse", [": A002 - the contract's word", "[misc]  # a stub is wrong", ": A002, B9 - x"])
def test_a_reasoned_exemption_is_known(excuse):
    """A rule's code followed by words counts as an exemption with a reason."""
    assert REASON.match(excuse)


@pytest.mark.parametrize("excuse", ["", ": A002", "[misc]", ": A002 -", " because"])
def test_a_bare_exemption_is_known(excuse):
    """An exemption without a rule or without words has no reason."""
    assert not REASON.match(excuse)


def written_tests(file):
    """Test functions of a module, in classes too."""
    return [node for node in ast.walk(file.tree) if isinstance(node, FUNCTIONS) and node.name.startswith("test_")]


def test_every_test_says_what_it_shows(python_files):
    """Each test has a docstring: one sentence about the behavior it shows."""
    silent = [
        f"{file}: {node.name}"
        for file in python_files
        if file.is_in("tests")
        for node in written_tests(file)
        if not (ast.get_docstring(node) or "").rstrip(" )").endswith((".", "?", "!"))
    ]
    assert silent == []


def test_every_test_can_fail(python_files):
    """Each test asserts something, expects an error, or calls a function of its own module that does."""
    toothless = [
        f"{file}: {node.name}"
        for file in python_files
        if file.is_in("tests")
        for node in written_tests(file)
        if not asserts(node, file.tree)
    ]
    assert toothless == []


def asserts(node: ast.AST, module: ast.Module) -> bool:
    """True when an assertion stands in a function or in one of the module's functions that it calls."""
    inside = list(ast.walk(node))
    if any(isinstance(part, ast.Assert) or _expects_error(part) for part in inside):
        return True
    called = {part.func.id for part in inside if isinstance(part, ast.Call) and isinstance(part.func, ast.Name)}
    own = [
        part for part in module.body if isinstance(part, ast.FunctionDef) and part.name in called and part is not node
    ]
    return any(isinstance(part, ast.Assert) for function in own for part in ast.walk(function))


def _expects_error(node: ast.AST) -> bool:
    return isinstance(node, ast.Attribute) and node.attr in {"raises", "warns"}


def test_money_is_never_a_float(shipped_python):
    """Modules that compute money neither name a float nor use floating-point functions."""
    named = [
        f"{file}:{node.lineno}"
        for file in shipped_python
        if file.is_in("service/money.py", "service/estimate/price", "service/estimate/price.py")
        for node in ast.walk(file.tree)
        if (isinstance(node, ast.Name) and node.id in MAKES_FLOATS)
        or (isinstance(node, ast.Constant) and isinstance(node.value, float))
    ]
    assert named == []
