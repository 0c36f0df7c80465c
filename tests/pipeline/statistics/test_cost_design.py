"""Which faults may go with an outcome, and in what order they come."""

from pipeline.faults.rules import FAULTS
from pipeline.statistics.cost_design import ARITHMETIC, ON_THE_PATH, before_contact, comes_after


def test_only_what_comes_before_contact() -> None:
    """No fault of contact or roll-out, and no condition of the day, can go with what contact was like."""
    names = before_contact()

    assert {"late_flare", "thrust_carried", "fast_at_threshold"} <= set(names)
    assert not {"bounce", "hard", "late_spoiler", "crosswind_beyond_limit"} & set(names)
    assert names.index("fast_at_threshold") < names.index("late_flare") < names.index("thrust_carried")


def test_what_comes_after_what() -> None:
    """Thrust after flare, a float after a high flare, but two faults of the flare beside each other."""
    assert comes_after("late_flare", "thrust_carried")
    assert comes_after("high_flare", "float")
    assert not comes_after("late_flare", "climb_in_flare")
    assert not comes_after("thrust_carried", "late_flare")


def test_every_fault_named_is_one() -> None:
    """The lists of arithmetic and of paths name faults there are."""
    named = {fault for fault, _ in ARITHMETIC} | set(ON_THE_PATH) | {f for path in ON_THE_PATH.values() for f in path}

    assert named <= set(FAULTS)
