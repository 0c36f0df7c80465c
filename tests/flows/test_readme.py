"""What README and DEVELOPERS say can be typed is what the program takes."""

import re
from pathlib import Path

import pytest

from flows.command_line import COMMANDS, app
from pipeline.reading.channel_map import load_map

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")


def _fences(language: str) -> list[str]:
    """Text of the code fences of a language, freed of their indent."""
    found = re.findall(rf"^( *)```{language}\n(.*?)^ *```", README, re.MULTILINE | re.DOTALL)
    return [re.sub(rf"^{indent}", "", text, flags=re.MULTILINE) for indent, text in found]


def _commands() -> list[str]:
    """Every call of the program that README prints, without the marks of what may be left out."""
    printed = [*re.findall(r"`(?:\.venv/bin/)?roundout ([^`]+)`", README)]
    printed += re.findall(r"roundout ([^&|\n]+)$", "\n".join(_fences("sh")), re.MULTILINE)
    return [re.sub(r"[\[\]]|\.\.\.", "", call).replace("DATE", "2026-11-25").strip() for call in printed]


@pytest.mark.parametrize("call", sorted(set(_commands())))
def test_printed_calls_are_taken(call: str) -> None:
    """Each call names a command that is there, with arguments it takes."""
    command, *_ = app.parse_args(call, exit_on_error=False, print_error=False)

    assert command.__name__ == call.split(maxsplit=1)[0]


def test_every_command_is_in_readme() -> None:
    """No command is left for a user to find."""
    assert {call.split()[0] for call in _commands()} == set(COMMANDS)


def test_the_map_in_readme_is_one(tmp_path: Path) -> None:
    """The channel map that README shows is read as it stands."""
    (shown,) = _fences("toml")
    (tmp_path / "shown.toml").write_text(shown)
    read = load_map(tmp_path / "shown.toml")

    assert set(read.columns) >= {"Clock", "HtRadio", "Nose", "Lever1", "Lever2", "AirGndL"}


def test_ci_runs_the_test_command_of_readme() -> None:
    """What CI calls is what README prints."""
    (tests,) = (line for fence in _fences("sh") for line in fence.splitlines() if "pytest" in line)

    assert tests in (ROOT / ".ci" / "run").read_text().splitlines()
