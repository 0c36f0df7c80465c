"""How units are written, and in which of them a channel may be. Data only."""

UNITS: dict[str, tuple[str, ...]] = {
    "ft": ("ft", "feet", "foot", "fuss", "pieds", "pies", "piedi"),
    "m": ("m", "meter", "metre", "meters", "metres", "metros", "metri", "mtr"),
    "yd": ("yd", "yds", "yard", "yards"),
    "kt": ("kt", "kts", "kn", "knots", "knot", "knoten", "noeuds", "nudos", "nodi", "kias", "kcas"),
    "mph": ("mph",),
    "km/h": ("km/h", "kmh", "kph", "km/std"),
    "m/s": ("m/s", "mps", "ms", "m/sec", "ms-1"),
    "ft/min": ("ft/min", "fpm", "ftmin", "ft/mn", "feet/min", "fuss/min"),
    "ft/s": ("ft/s", "fps", "ft/sec"),
    "deg": ("deg", "degs", "degree", "degrees", "grad", "degre", "degres", "grados", "gradi", "°"),
    "rad": ("rad", "radian", "radians"),
    "g": ("g",),
    "m/s2": ("m/s2", "m/s²", "m/s^2", "mss", "ms2", "m/sec2", "ms-2"),
    "%": ("%", "pct", "percent", "prozent", "pourcent", "por100"),
    "kg": ("kg", "kgs"),
    "lb": ("lb", "lbs"),
    "t": ("tonne", "tonnes"),
    "kg/h": ("kg/h", "kgh", "kg/hr"),
    "lb/h": ("lb/h", "pph", "lb/hr", "lbs/h"),
    "kg/s": ("kg/s",),
    "dots": ("dots", "dot", "points"),
    "s": ("s", "sec", "secs", "second", "seconds", "sek", "sekunden"),
    "other": (
        "°c", "degc", "celsius", "°f", "c", "k", "psi", "bar", "hpa", "mbar", "mb", "inhg", "v", "volt", "a", "amp",
        "hz", "l", "gal", "l/h", "gph", "gal/h", "rpm", "1/min", "u/min", "tr/min", "nm", "n", "min", "h", "deg/s",
        "ddm", "ua", "lbf", "mhz", "inch", "in", "bool/s", "mm", "cm", "deg/sec", "°/s",
    ),
}  # fmt: skip
"""How units are written, in lower case; "other" are units no channel is measured in."""

UNITS_OF: dict[str, tuple[str, ...]] = {
    "ft": ("ft", "m", "yd"),
    "ft/min": ("ft/min", "m/s", "ft/s", "kt", "km/h"),
    "kt": ("kt", "m/s", "km/h", "mph"),
    "deg": ("deg", "rad"),
    "g": ("g", "m/s2"),
    "%": ("%", "fraction", "deg"),  # degrees of a lever alone
    "kg/h": ("kg/h", "lb/h", "kg/s"),
    "kg": ("kg", "lb", "t"),
    "dots": ("dots", "deg"),
}
"""Units in which logs write a channel, by its canonical unit."""
