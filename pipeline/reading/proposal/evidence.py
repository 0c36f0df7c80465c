"""The grid in; everything the values say of its columns out, one finder after the other."""

from pipeline.reading.proposal.beams import find_glideslope
from pipeline.reading.proposal.finding import Finding
from pipeline.reading.proposal.forces import find_longitudinal, find_normal, find_pitch
from pipeline.reading.proposal.grid import Grid
from pipeline.reading.proposal.position import find_position
from pipeline.reading.proposal.switches import find_ground_switches, find_levers
from pipeline.reading.proposal.turning import find_directions, find_roll
from pipeline.reading.proposal.vertical import find_vertical


def find_evidence(grid: Grid) -> tuple[list[Finding], tuple[float, ...]]:
    """Return what the values say, and about when the log shows contacts, s."""
    findings: list[Finding] = []
    position = find_position(grid, findings)
    speed = None if position is None else position.speed_ms
    vertical = find_vertical(grid, speed, findings)
    contacts = vertical.contacts_s if vertical else ()
    climb = vertical.climb_ms if vertical else None
    direction = find_directions(grid, position.course_deg if position else None, contacts, findings)
    find_roll(grid, direction, speed, findings)
    find_normal(grid, climb, contacts, findings)
    find_longitudinal(grid, speed, contacts, findings)
    find_pitch(grid, climb, speed, contacts, findings)
    find_ground_switches(grid, contacts, findings)
    find_levers(grid, contacts, findings)
    find_glideslope(grid, vertical.above_m if vertical else None, speed, contacts, findings)
    return findings, contacts
