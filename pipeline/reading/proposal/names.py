"""A column's name in; what its words say for each channel, the unit it states and the side it stands on, out."""

import re
import unicodedata
from dataclasses import dataclass
from functools import cache

from pipeline.reading.proposal.combinations import COMBINATIONS
from pipeline.reading.proposal.unit_words import UNITS
from pipeline.reading.proposal.vocabulary import OTHER_THINGS, TIME_WORDS, WORDS

_BRACKETS = re.compile(r"[\[({<]\s*([^\])}>]*?)\s*[\])}>]")
_PIECES = re.compile(r"[A-Z]+(?![a-z])|[A-Z]?[a-z]+|\d+")
_SPELT = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss", "Ä": "Ae", "Ö": "Oe", "Ü": "Ue"})
_SIDES = r"l|r|left|right|lh|rh|links|rechts|li|re|gauche|droite|droit|g|d|izq|der|izquierda|derecha|sx|dx|[1-4]|a|b"
_SIDE = re.compile(rf"[\s_.\-#]({_SIDES})$", re.IGNORECASE)
_SIDE_JOINED = re.compile(r"(?<=[a-z])[LRGD]$|(?<=[A-Za-z])[1-4]$|(?<=^N1)[LRGD1-4]$")
_OTHER_THING = -7.0
_KNOWN = frozenset(word for words in WORDS.values() for word in words if len(word) > 1) | {
    w for w in OTHER_THINGS if len(w) > 2
}
_SIDE_SIGNS = "lr"
_COMPOUND = 4
"""Letters a word needs to be part of a compound."""
_UNIT_WORD_ENDS = frozenset({
    "ft", "m", "kt", "kts", "kn", "fpm", "kmh", "kph", "mph", "mps", "ms", "mss", "deg", "rad", "g", "pct", "kg", "lb",
    "lbs", "pph", "feet", "knots", "knoten", "noeuds", "nudos", "meter", "metros", "grad", "dots",
})  # fmt: skip
"""Units that stand as the last word of a name."""


@dataclass(frozen=True)
class NameSays:
    """What a name says.

    `points`: log odds for channels by key; `words`: the pieces that said it, by key; `unit`: the unit stated, "other"
    where it is one no channel has, None where none is; `stem`: the name without unit and side; `time`: it speaks of
    time; `true`, `magnetic`: of which north; `elsewhere`: the word that makes it something else.
    """

    points: dict[str, float]
    words: dict[str, str]
    unit: str | None
    stem: str
    time: bool
    true: bool
    magnetic: bool
    elsewhere: str | None


@cache
def name_says(name: str) -> NameSays:
    """Read a column's name; a name without meaning says nothing.

    Examples
    --------
    >>> said = name_says("Funkhöhe [m]")
    >>> max(said.points, key=said.points.get), said.unit
    ('radio_height', 'm')
    """
    bare, unit = _unit_stated(name)
    stem = _SIDE.sub("", bare) if _SIDE.search(bare) else _SIDE_JOINED.sub("", bare)
    pieces = _pieces(stem)
    if len(pieces) > 1 and pieces[-1] in _SIDE_SIGNS:
        pieces = pieces[:-1]
    whole = "".join(pieces)
    found = {group: hit for group, words in WORDS.items() if (hit := _hit(words, pieces))}
    points: dict[str, float] = {}
    words: dict[str, str] = {}
    for channel, groups, weight in COMBINATIONS:
        if all(group in found for group in groups) and weight > points.get(channel, -1.0):
            points[channel], words[channel] = weight, " ".join(dict.fromkeys(found[group] for group in groups))
    points |= _numbered(bare, points, words)
    if "wheels" in found and "nose_wheel" in found:
        points["main_on_ground"] = 0.0
    if "gear_down" in points and ("wheels" in found or "ground" in found):
        points["gear_down"] = 0.0
    for key in ("heading", "track", "wind_from"):
        if "magnetic" in found and f"{key}_true" in points:
            points[f"{key}_true"] = 0.0
    elsewhere = next((piece for piece in pieces if piece in OTHER_THINGS and not _means(piece, found)), None)
    if elsewhere:
        points = {channel: weight + _OTHER_THING for channel, weight in points.items()}
    return NameSays(
        points=points,
        words=words,
        unit=unit,
        stem=whole or bare.lower(),
        time=any(piece in TIME_WORDS for piece in pieces)
        or any(_within(w, pieces) for w in TIME_WORDS if len(w) >= _COMPOUND),
        true="true" in found,
        magnetic="magnetic" in found,
        elsewhere=elsewhere,
    )


def unit_of(text: str) -> str | None:
    """Return the unit a text is, as maps spell it; "other" for one no channel has, None where it is no unit."""
    plain = text.strip().strip("[](){}").strip().lower().replace(" ", "")
    return next((unit for unit, spellings in UNITS.items() if plain in spellings), None)


def _unit_stated(name: str) -> tuple[str, str | None]:
    """The name without its unit, and the unit: in brackets, or as its last word."""
    for inside in _BRACKETS.findall(name):
        unit = unit_of(inside)
        if unit:
            return _BRACKETS.sub(" ", name).strip(), unit
    bare = _BRACKETS.sub(r" \1 ", name).strip()
    if "%" in bare:
        return bare.replace("%", " ").strip(), "%"
    head, mark, last = bare.rpartition("_") if "_" in bare else bare.rpartition(" ")
    if mark and head and last.lower() in _UNIT_WORD_ENDS:
        return head, unit_of(last)
    pieces = _PIECES.findall(bare)
    if len(pieces) > 1 and pieces[-1] in {
        "Ft",
        "Kt",
        "Kts",
        "Fpm",
        "Deg",
        "Rad",
        "Pct",
        "Kmh",
        "Mps",
        "FT",
        "KT",
        "FPM",
    }:
        return bare[: -len(pieces[-1])], unit_of(pieces[-1])
    return bare, None


def _pieces(text: str) -> list[str]:
    plain = unicodedata.normalize("NFKD", text.translate(_SPELT)).encode("ascii", "ignore").decode()
    return [part for piece in _PIECES.findall(plain) for part in _parted(piece.lower())]


@cache
def _parted(piece: str) -> tuple[str, ...]:
    """A word that is several known ones run together, as abbreviations are, in its parts; any other as it is."""
    if len(piece) < 4 or piece in _KNOWN:
        return (piece,)
    ways: dict[int, tuple[str, ...]] = {0: ()}
    for end in range(1, len(piece) + 1):
        for start in range(max(0, end - 12), end):
            if start in ways and piece[start:end] in _KNOWN and (end not in ways or len(ways[start]) < len(ways[end])):
                ways[end] = (*ways[start], piece[start:end])
    if len(piece) in ways:
        return ways[len(piece)]
    last = piece[-1]
    return (*ways[len(piece) - 1], last) if last in _SIDE_SIGNS and len(piece) - 1 in ways else (piece,)


def _hit(words: tuple[str, ...], pieces: list[str]) -> str | None:
    """The longest word of a group that the name holds."""
    runs = {"".join(pieces[i:j]) for i in range(len(pieces)) for j in range(i + 2, len(pieces) + 1)}
    held = [word for word in words if word in runs or _within(word, pieces)]
    return max(held, key=len) if held else None


def _within(word: str, pieces: list[str]) -> bool:
    """Whether a word is a piece of the name, begins or ends one, or, if it is a long word, stands inside one."""
    if word in pieces:
        return True
    if len(word) < _COMPOUND:
        return False
    return any(
        piece.startswith(word) or piece.endswith(word) or (len(word) > _COMPOUND + 1 and word in piece)
        for piece in pieces
    )


def _numbered(bare: str, points: dict[str, float], words: dict[str, str]) -> dict[str, float]:
    """Names that are a letter and a number: n1 is the speed of the first shaft."""
    if re.match(r"(?i)^n[_ ]?1(?!\d{2})", bare.strip()) or re.search(r"(?i)\bn1\b", bare):
        words["engine_speed"] = "N1"
        return {"engine_speed": max(8.0, points.get("engine_speed", 0.0))}
    return {}


def _means(piece: str, found: dict[str, str]) -> bool:
    """Whether a word of other things is the very word that names the channel: a rate of climb is a vertical speed."""
    if piece == "rate":
        return any(group in found for group in ("vertical", "climb", "descent"))
    return piece in found.values() and piece != "bug"
