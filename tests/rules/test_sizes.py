"""Nothing grows past the sizes of the house: files, functions, parameters, pages, templates, tests."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.rules.tree import ROOT, project_files, python_files

FILE, FUNCTION, ENGINE_FUNCTION, PAGE, TEMPLATE, TEST, PARAMETERS = 300, 50, 60, 30, 150, 40, 8
PAGE_FILES = ("pages.py", "public.py", "api.py")

type Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Limit:
    """How many lines a function may have, and what it is called in the message."""

    lines: float
    kind: str


def limit_of(file: Path, name: str) -> Limit:
    """The limit for a function of this name in this file."""
    if file.parts[0] == "tests" and name.startswith("test_"):
        return Limit(float("inf"), "flow") if "flows" in file.parts else Limit(TEST, "test")
    if file.name in PAGE_FILES:
        return Limit(PAGE, "page")
    return (
        Limit(ENGINE_FUNCTION, "engine function") if "engine" in file.parts else Limit(FUNCTION, "function")
    )


def body_lines(function: Function) -> int:
    """Lines of the body without the docstring."""
    body = function.body[1:] if ast.get_docstring(function) is not None else function.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


def parameter_count(function: Function) -> int:
    """Parameters without self and cls; *args and **kwargs count as one each."""
    given = function.args
    named = [arg.arg for arg in (*given.posonlyargs, *given.args, *given.kwonlyargs)]
    caught = [arg for arg in (given.vararg, given.kwarg) if arg is not None]
    return len([name for name in named if name not in ("self", "cls")]) + len(caught)


def oversizes_in(file: Path, source: str) -> Iterator[str]:
    """What is too large in a Python source, each with the file and the function."""
    if (lines := source.count("\n")) > FILE:
        yield f"{file} has {lines} lines; a file stops at {FILE}."
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            continue
        limit = limit_of(file, node.name)
        if (lines := body_lines(node)) > limit.lines:
            yield f"{file}: {node.name} has {lines} lines; the limit of a {limit.kind} is {limit.lines}."
        if (count := parameter_count(node)) > PARAMETERS:
            yield f"{file}: {node.name} has {count} parameters; it stops at {PARAMETERS}."


def made_up(lines: int, parameters: int = 0, name: str = "measure") -> str:
    """A source of one function with a docstring and this many lines of body."""
    names = ", ".join(f"p{number}" for number in range(parameters))
    return f'def {name}({names}):\n    """Says."""\n' + "    x = 1\n" * lines


def test_python_files_functions_and_parameters_stay_small() -> None:
    files = [*python_files("labour", "quoting", "tests"), Path("manage.py")]

    found = [line for file in files for line in oversizes_in(file, (ROOT / file).read_text())]

    assert not found, "\n".join(found)


def test_templates_stay_small() -> None:
    sizes = {file: len((ROOT / file).read_text().splitlines()) for file in project_files("templates")}

    found = [f"{file} has {lines} lines; a template stops at {TEMPLATE}." for file, lines in sizes.items()
             if lines > TEMPLATE]  # fmt: skip

    assert sizes, "No templates were found."
    assert not found, "\n".join(found)


def test_the_run_script_stays_small() -> None:
    lines = len((ROOT / "run").read_text().splitlines())

    assert lines <= FILE, f"run has {lines} lines; a file stops at {FILE}."


def test_a_function_is_too_long_from_51_lines_on_its_docstring_not_counted() -> None:
    file = Path("quoting/offer/services.py")

    assert not list(oversizes_in(file, made_up(50)))
    assert list(oversizes_in(file, made_up(51))) == [
        f"{file}: measure has 51 lines; the limit of a function is 50."
    ]


def test_each_place_has_its_own_limit() -> None:
    page, engine = Path("quoting/offer/pages.py"), Path("labour/engine/hours.py")
    test, flow = Path("tests/labour/test_rates.py"), Path("tests/flows/test_story.py")

    assert "limit of a page is 30" in next(oversizes_in(page, made_up(31)))
    assert not list(oversizes_in(engine, made_up(60)))
    assert "engine function is 60" in next(oversizes_in(engine, made_up(61)))
    assert "limit of a test is 40" in next(oversizes_in(test, made_up(41, name="test_it")))
    assert not list(oversizes_in(flow, made_up(200, name="test_it")))


def test_more_than_eight_parameters_are_too_many() -> None:
    file = Path("quoting/offer/services.py")
    method = "class A:\n    def measure(self, a, b, c, d, *, e, f, g, h): ...\n"

    assert not list(oversizes_in(file, made_up(1, parameters=8)))
    assert list(oversizes_in(file, made_up(1, parameters=9))) == [
        f"{file}: measure has 9 parameters; it stops at 8."
    ]
    assert not list(oversizes_in(file, method))


def test_a_file_is_too_long_from_301_lines_on() -> None:
    file = Path("quoting/offer/services.py")

    assert not list(oversizes_in(file, "x = 1\n" * 300))
    assert list(oversizes_in(file, "x = 1\n" * 301)) == [f"{file} has 301 lines; a file stops at 300."]
