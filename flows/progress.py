"""How a run tells how far it is: the step's name, how many logs are done, and of how many (0: not counted)."""

from collections.abc import Callable

Progress = Callable[[str, int, int], None]


def silent(_step: str, _done: int, _of: int) -> None:
    """Tell nobody."""
