"""The engines run without the framework, the clock and chance."""

import ast
import json
import os
import subprocess
import sys

import pytest

from tests.rules.tree import ROOT, python_files

FRAMEWORKS = ("django", "ninja", "weasyprint", "allauth")
FORBIDDEN_IMPORTS = {"random", "secrets", "time", "uuid", "os", "socket", "subprocess", "urllib", "sqlite3"}
CLOCK_CALLS = {"now", "today", "utcnow"}

_IMPORT_ALL = """
import importlib, json, pkgutil, sys
names = []
for root in ("labour.engine", "quoting.engine"):
    folder = importlib.import_module(root).__path__
    names += [root] + [module.name for module in pkgutil.walk_packages(folder, root + ".")]
for name in names:
    importlib.import_module(name)
print(json.dumps({"imported": names, "loaded": sorted({name.split(".")[0] for name in sys.modules})}))
"""


def impurities_in(source: str) -> list[str]:
    """Imports of clock, chance and machine, and calls that read the clock."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            names = [node.module or ""]
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            names = []
            found += [f"line {node.lineno}: .{node.func.attr}()"] if node.func.attr in CLOCK_CALLS else []
        else:
            continue
        found += [f"line {node.lineno}: import {n}" for n in names if n.split(".")[0] in FORBIDDEN_IMPORTS]
    return found


def test_the_engines_import_without_settings_and_without_a_framework() -> None:
    env = {name: value for name, value in os.environ.items() if name != "DJANGO_SETTINGS_MODULE"}

    command = [sys.executable, "-c", _IMPORT_ALL]
    answer = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True, check=False)

    assert answer.returncode == 0, answer.stderr
    seen = json.loads(answer.stdout)
    assert {"labour.engine.units", "quoting.engine.pricing.money"} <= set(seen["imported"])
    assert not set(FRAMEWORKS) & set(seen["loaded"])


def test_the_engines_read_no_clock_and_throw_no_dice() -> None:
    engines = [file for file in python_files("labour", "quoting") if "engine" in file.parts]

    found = [f"{file}: {what}" for file in engines for what in impurities_in((ROOT / file).read_text())]

    assert engines
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    "source",
    [
        "import random",
        "from random import choice",
        "import time",
        "from datetime import datetime\nx = datetime.now()",
        "from datetime import date\nx = date.today()",
    ],
)
def test_a_clock_or_dice_is_caught(source: str) -> None:
    assert impurities_in(source)


def test_given_moments_are_pure() -> None:
    assert not impurities_in("from datetime import date\ndef f(on: date) -> int:\n    return on.year\n")
