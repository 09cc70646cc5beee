"""The top of the project, its two pages for people, and what may not stand in any file."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.rules.tree import ROOT, project_files, step_folders

TOP = {
    "CHANGELOG.md", "DEVELOPERS.md", "README.md", "docs", "fixtures", "labour", "manage.py",
    "pyproject.toml", "quoting", "run", "templates", "tests",
}  # fmt: skip
MACHINE_PATH = re.compile(r"(?<![\w.\-}/~])/(?:work|root|home)/")
REGISTRY = re.compile(r"https?://|--(?:extra-)?index-url|--find-links|--trusted-host")
BUILD_FILES = (".ci", ".requirements")


def read(name: str) -> str:
    """The text of a page for people; a clear failure while it is not written."""
    if not (ROOT / name).is_file():
        pytest.fail(f"{name} is not written yet.")
    return (ROOT / name).read_text()


def texts() -> Iterator[tuple[Path, str]]:
    """Every file of the project that holds text."""
    for file in project_files():
        try:
            yield file, (ROOT / file).read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue


def run_commands() -> list[str]:
    """The commands that the run script knows, from its last case; help explains itself."""
    cases = (ROOT / "run").read_text().split('case "$command" in')[1]
    named = re.findall(r"^([a-z][a-z-]*)[a-z| -]*\) ", cases, re.MULTILINE)
    return [name for name in named if name != "help"]


def opening_paragraph(page: str) -> str:
    """What stands between the title and the next heading, list, code or empty line."""
    blocks = [block for block in re.split(r"\n\s*\n", page.strip()) if not block.startswith("# ")]
    return blocks[0] if blocks else ""


def test_the_top_holds_only_what_the_map_names() -> None:
    top = {file.parts[0] for file in project_files() if not file.parts[0].startswith(".")}

    assert top == TOP, f"too much: {sorted(top - TOP)}; missing: {sorted(TOP - top)}"


def test_no_file_holds_a_path_of_one_machine() -> None:
    found = [f"{file}: {match[0]}" for file, text in texts() for match in MACHINE_PATH.finditer(text)]

    assert not found, "\n".join(found)


def test_build_files_name_no_registry() -> None:
    found = [str(file) for file, text in texts() if file.parts[0] in BUILD_FILES and REGISTRY.search(text)]

    assert not found


@pytest.mark.parametrize("text", ["cd {}work/main", 'open("{}home/sam/x")', "PATH={}root/bin"])
def test_a_path_of_one_machine_is_caught(text: str) -> None:
    assert MACHINE_PATH.search(text.format("/"))


@pytest.mark.parametrize("text", ["labour{}work/pages.py", "https:/{}home/x", "~{}work/", "rework/{}home"])
def test_a_path_inside_the_project_is_not_a_machine_path(text: str) -> None:
    assert not MACHINE_PATH.search(text.format("/"))


@pytest.mark.parametrize("step", step_folders())
def test_every_step_is_named_in_the_developer_page(step: str) -> None:
    page = read("DEVELOPERS.md")

    named = step in page or re.search(rf"(?<![\w/]){step.split('/')[1]}/", page)
    assert named, f"DEVELOPERS.md does not name {step}/."


def test_the_readme_begins_with_the_job() -> None:
    page = read("README.md")
    opening = opening_paragraph(page)

    assert page.startswith("# Screedbook\n")
    assert not opening.startswith(("#", "-", "*", "`", "|", "!", "[")), "README must begin with a paragraph."
    assert len(opening.split()) >= 30, "README's first paragraph must tell the job in at least 30 words."
    assert {"measure", "price", "quote"} <= set(re.findall("measure|price|quote", opening.lower()))


@pytest.mark.parametrize("command", ["./run demo", "./run test"])
def test_the_readme_names_both_commands(command: str) -> None:
    page = read("README.md")

    assert command in page


@pytest.mark.parametrize("command", run_commands())
def test_every_command_is_named_in_a_page_for_people(command: str) -> None:
    pages = read("README.md") + read("DEVELOPERS.md")

    assert f"./run {command}" in pages, f"Neither README.md nor DEVELOPERS.md names ./run {command}."


def test_the_commands_are_read_from_the_run_script() -> None:
    assert set(run_commands()) >= {"demo", "test", "quote", "bench", "manage"}
