"""Exact conversion constants: the simulation is in SI; logs and truth are in the cockpit's units."""

G = 9.80665
"""Standard gravity, m/s2 (exact by definition)."""
FT = 0.3048
"""Metres in a foot (exact)."""
KT = 1852.0 / 3600.0
"""m/s in a knot (exact)."""
FPM = FT / 60.0
"""m/s in a foot a minute (exact)."""
RHO_0 = 1.225
"""Sea-level density of the standard atmosphere, kg/m3 (ICAO Doc 7488)."""
