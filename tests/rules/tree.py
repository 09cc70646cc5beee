"""The project's files, for the tests that hold its rules."""

import subprocess
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
KEPT_HIDDEN = (".ci", ".requirements")
APPS = ("labour", "quoting")


def project_files(*under: str, suffix: str = "") -> list[Path]:
    """Files of the project, relative to its top; those under the given folders, when any is given."""
    files = _files_git_knows() or _files_on_disk()
    wanted = [file for file in files if (ROOT / file).is_file() and file.name.endswith(suffix)]
    return sorted(file for file in wanted if not under or file.parts[0] in under)


def python_files(*under: str) -> list[Path]:
    """Python sources without migrations, which Django writes."""
    return [file for file in project_files(*under, suffix=".py") if "migrations" not in file.parts]


def step_folders() -> list[str]:
    """The step folders of both apps, "labour/firm" and so on, from what is on disk."""
    inits = (ROOT / app for app in APPS)
    folders = [file.parent.relative_to(ROOT) for app in inits for file in app.glob("*/__init__.py")]
    return sorted(folder.as_posix() for folder in folders if folder.name not in ("migrations", "management"))


def step_order() -> list[set[str]]:
    """Steps from the earliest on, "labour.firm" and so on, as the import contracts order them."""
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text())
    contracts = settings["tool"]["importlinter"]["contracts"]
    order: list[set[str]] = []
    for app in APPS:
        layers = next(c["layers"] for c in contracts if c.get("containers") == [app])
        order += [{f"{app}.{name.strip(' ()')}" for name in layer.split("|")} for layer in reversed(layers)]
    return order


def _files_git_knows() -> list[Path]:
    """Tracked files and new ones that are not ignored; none when there is no git or no repository."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
    try:
        answer = subprocess.run(command, cwd=ROOT, capture_output=True, check=True, text=True)
    except (OSError, subprocess.CalledProcessError):
        return []
    return [Path(name) for name in answer.stdout.split("\0") if name]


def _files_on_disk() -> list[Path]:
    files = [file.relative_to(ROOT) for file in ROOT.rglob("*") if file.is_file()]
    seen = [file for file in files if "__pycache__" not in file.parts]
    return [file for file in seen if not file.parts[0].startswith(".") or file.parts[0] in KEPT_HIDDEN]
