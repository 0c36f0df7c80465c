"""Names in, pseudonyms out: a keyed hash; the names are kept in one separate file that only the owner can read.

Pseudonymous, not anonymous: whoever holds the key or a roster can tell who is who.
"""

import csv
import hashlib
import hmac
import io
import re
import secrets
import unicodedata
from pathlib import Path

from flows.files import write_atomically
from pipeline.errors import SettingsError

ALPHABET = "23456789CDFGHJKMNPQRTVWXY"
"""Signs of a pseudonym: no vowel makes a word of it, and no two are alike in print or by hand."""

_FORM = re.compile(f"P-[{ALPHABET}]{{5}}")
_PRIVATE = 0o600


class Pseudonyms:
    """The pseudonyms of one workspace.

    Parameters
    ----------
    key_file : the key of the hash; made once, mode 0600, where neither it nor the names exist.
    names_file : CSV of pseudonym and name, mode 0600; written by `save`.

    Raises
    ------
    SettingsError
        The key is missing though names were given pseudonyms with it, or one of the files cannot be read.
    """

    def __init__(self, key_file: Path, names_file: Path) -> None:
        self._names_file = names_file
        self._names = _read_names(names_file)
        self._by_person = {_person(name): pseudonym for pseudonym, name in self._names.items()}
        self._key = _key(key_file, names_file)
        self._changed = False

    def of(self, name: str | None) -> str | None:
        """Return the pseudonym of `name`: the same for the same person, however spaced or capitalised.

        A blank name has none (null); what is a pseudonym already stays as it is.
        """
        person = _person(name or "")
        if not person:
            return None
        if _FORM.fullmatch(person.upper()):
            return person.upper()
        if person not in self._by_person:
            self._by_person[person] = self._free(person)
            self._names[self._by_person[person]] = " ".join((name or "").split())
            self._changed = True
        return self._by_person[person]

    def save(self) -> None:
        """Write the names given a pseudonym since the last time."""
        if not self._changed:
            return
        text = io.StringIO()
        rows = csv.writer(text, lineterminator="\n")
        rows.writerow(("pseudonym", "name"))
        rows.writerows(sorted(self._names.items()))
        write_atomically(self._names_file, text.getvalue().encode(), mode=_PRIVATE)
        self._changed = False

    def _free(self, person: str) -> str:
        """First pseudonym of the person's own sequence that nobody else has."""
        turn = 0
        while (pseudonym := _derive(self._key, f"{turn}:{person}")) in self._names:
            turn += 1
        return pseudonym


def rewrite_names(table: Path, pseudonyms: Pseudonyms) -> bool:
    """Replace the names in a manifest or exposure `table` by pseudonyms, in place; every other cell keeps its text.

    False where it held no name, and then the file stays as it was.
    """
    content = table.read_bytes()
    text, encoding = _decoded(content)
    rows = list(csv.reader(io.StringIO(text, newline=""), _dialect(text)))
    titles = [title.strip() for title in rows[0]] if rows else []
    places = [place for place, title in enumerate(titles) if title in {"pilot", "pilot_monitoring"}]
    before = [list(row) for row in rows]
    for row in rows[1:]:
        for place in places:
            if place < len(row):
                row[place] = pseudonyms.of(row[place]) or ""
    if rows == before:
        return False
    written = io.StringIO()
    csv.writer(written, _dialect(text), lineterminator="\n").writerows(rows)
    write_atomically(table, written.getvalue().encode(encoding), mode=table.stat().st_mode & 0o777)
    return True


def _decoded(content: bytes) -> tuple[str, str]:
    try:
        return content.decode("utf-8-sig"), "utf-8"
    except UnicodeDecodeError:
        return content.decode("latin-1"), "latin-1"


def _dialect(text: str) -> type[csv.Dialect]:
    first = text.split("\n", 1)[0]

    class Found(csv.excel):
        delimiter = max(",;\t", key=first.count)

    return Found


def _person(name: str) -> str:
    """Return a name as compared: one form of each letter, no capitals, single spaces."""
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


def _derive(key: bytes, text: str) -> str:
    number = int.from_bytes(hmac.new(key, text.encode(), hashlib.sha256).digest(), "big")
    signs = ""
    for _ in range(5):
        number, place = divmod(number, len(ALPHABET))
        signs += ALPHABET[place]
    return f"P-{signs}"


def _key(key_file: Path, names_file: Path) -> bytes:
    try:
        return bytes.fromhex(key_file.read_text("ascii").strip())
    except FileNotFoundError:
        if names_file.exists():
            message = (
                f"{key_file}: the key of the pseudonyms is missing, but {names_file.name} holds pseudonyms made "
                f"with it; put the key back, or name its place as privacy.key_file in the settings"
            )
            raise SettingsError(message) from None
    except (OSError, ValueError) as error:
        message = f"{key_file}: is not a key of pseudonyms ({error}); put the right file back"
        raise SettingsError(message) from error
    key = secrets.token_bytes(32)
    write_atomically(key_file, key.hex().encode() + b"\n", mode=_PRIVATE)
    return key


def _read_names(names_file: Path) -> dict[str, str]:
    if not names_file.exists():
        return {}
    try:
        if names_file.stat().st_mode & 0o077:
            names_file.chmod(_PRIVATE)
        with names_file.open(encoding="utf-8", newline="") as file:
            return {row["pseudonym"]: row["name"] for row in csv.DictReader(file)}
    except (OSError, UnicodeDecodeError, KeyError) as error:
        message = f"{names_file}: is not the table of pseudonym and name ({error!r}); put the right file back"
        raise SettingsError(message) from error
