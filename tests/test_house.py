"""The house keeps its rules: who imports whom, what stands at the top, what is in the wheel."""

import ast
import fnmatch
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from hatchling.builders.wheel import WheelBuilder

ROOT = Path(__file__).parents[1]
ROOMS = ("pipeline", "warehouse", "reports", "flows")
MAY_IMPORT = {
    "pipeline": {"pipeline"},
    "warehouse": {"warehouse", "pipeline"},
    "reports": {"reports", "pipeline"},
    "flows": set(ROOMS),
}
OWNED = {
    "duckdb": "warehouse",
    "altair": "reports",
    "jinja2": "reports",
    "vl_convert": "reports",
    "prefect": "flows",
    "cyclopts": "flows",
    "rich": "flows",
}


def _modules(folder: str) -> list[Path]:
    return sorted((ROOT / folder).rglob("*.py"))


def _imports(module: Path) -> Iterator[str]:
    """Full names of what the module imports, wherever in its text."""
    for node in ast.walk(ast.parse(module.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module}: write imports in full"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


@pytest.mark.parametrize("room", ROOMS)
def test_rooms_import_only_what_they_may(room: str) -> None:
    """Computation knows nothing of storing, drawing or running; storing and drawing know only computation."""
    wrong = [
        f"{module.relative_to(ROOT)}: {name}"
        for module in _modules(room)
        for name in _imports(module)
        if name.split(".")[0] in ROOMS and name.split(".")[0] not in MAY_IMPORT[room]
    ]

    assert wrong == []


def test_libraries_stay_in_their_room() -> None:
    """The database, the charts and the scheduler can each be replaced by rewriting one room."""
    wrong = [
        f"{module.relative_to(ROOT)}: {name}"
        for room in ROOMS
        for module in _modules(room)
        for name in _imports(module)
        if OWNED.get(name.split(".")[0], room) != room
    ]

    assert wrong == []


def test_the_scheduler_is_loaded_only_for_schedules() -> None:
    """Every other command starts without the second its import takes."""
    loading = {
        module.name for module in _modules("flows") if any(name.startswith("prefect") for name in _imports(module))
    }

    assert loading <= {"scheduled.py", "serving.py"}


def test_invention_and_measuring_know_nothing_of_each_other() -> None:
    """Invented data cannot lean on the code it tests, nor the other way round."""
    allowed = set(sys.stdlib_module_names) | {"numpy", "polars"}
    leaning = [
        f"{module.relative_to(ROOT)}: {name}"
        for module in _modules("flows/invented")
        for name in _imports(module)
        if name.split(".")[0] not in allowed and not name.startswith("flows.invented")
    ]
    peeking = [
        f"{module.relative_to(ROOT)}: {name}"
        for room in ("pipeline", "warehouse", "reports")
        for module in _modules(room)
        for name in _imports(module)
        if name.startswith("flows")
    ]

    assert leaning == []
    assert peeking == []


@pytest.mark.parametrize("room", ["pipeline", "reports"])
def test_no_clock_and_no_environment(room: str) -> None:
    """The same frames give the same numbers and the same pages on any day and any machine."""
    banned = {"now", "today", "utcnow", "environ", "getenv", "perf_counter", "monotonic"}
    wrong = [
        f"{module.relative_to(ROOT)}:{node.lineno}: {node.attr}"
        for module in _modules(room)
        for node in ast.walk(ast.parse(module.read_text("utf-8")))
        if isinstance(node, ast.Attribute) and node.attr in banned
    ]

    assert wrong == []


def test_nothing_else_stands_at_the_top() -> None:
    """Six folders, two texts, one configuration; beside them a licence, pins and dot-files."""
    ignored = [line.strip("/") for line in (ROOT / ".gitignore").read_text().splitlines()]
    there = {
        path.name
        for path in ROOT.iterdir()
        if not path.name.startswith(".") and not any(fnmatch.fnmatch(path.name, pattern) for pattern in ignored)
    }

    assert there == {
        "pipeline", "sql", "warehouse", "reports", "flows", "tests",
        "README.md", "DEVELOPERS.md", "pyproject.toml", "LICENSE", "requirements.lock",
    }  # fmt: skip


def test_pins_name_no_host() -> None:
    """The pins work with whatever index a place uses."""
    assert "://" not in (ROOT / "requirements.lock").read_text()


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    """Names of the files in a wheel built from this checkout."""
    folder = tmp_path_factory.mktemp("wheel")
    (built,) = WheelBuilder(str(ROOT)).build(directory=str(folder), versions=["standard"])
    with zipfile.ZipFile(built) as archive:
        return set(archive.namelist())


def test_wheel_has_the_rooms_and_nothing_else(wheel: set[str]) -> None:
    """An installed program brings its four packages, and no tests."""
    tops = {name.split("/")[0] for name in wheel}

    assert {top for top in tops if not top.endswith(".dist-info")} == set(ROOMS)
    assert len(tops) == len(ROOMS) + 1


def test_wheel_carries_the_sql(wheel: set[str]) -> None:
    """Every statement of the checkout is in the wheel, under the warehouse."""
    texts = {path.relative_to(ROOT).as_posix() for path in (ROOT / "sql").rglob("*.sql")}

    assert texts
    assert {f"warehouse/{text}" for text in texts} == {name for name in wheel if name.endswith(".sql")}


def test_wheel_carries_what_is_not_code(wheel: set[str]) -> None:
    """Settings text, page templates and style sheets are there too."""
    needed = {
        path.relative_to(ROOT).as_posix()
        for room in ROOMS
        for path in (ROOT / room).rglob("*")
        if path.suffix in {".toml", ".j2", ".css", ".js", ".html"}
    }

    assert "flows/roundout.toml" in needed
    assert needed <= wheel


def test_wheel_installs_the_command(wheel: set[str]) -> None:
    """The command is there after an install."""
    assert any(name.endswith("entry_points.txt") for name in wheel)
