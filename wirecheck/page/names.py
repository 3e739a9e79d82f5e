"""Who hands in: a name, and the code that shows in any browser that it is hers.

A code is made of the name and a secret of the server's, so that nothing has to be kept to know it again, and
nobody who lacks the secret can make one.
"""

from __future__ import annotations

import hmac
import re
import unicodedata
from base64 import b32encode
from hashlib import sha256

from wirecheck.grading.marks import alike
from wirecheck.inputs import as_text
from wirecheck.report.plain import plain

MOST_LETTERS = 60
BESIDE_LETTERS = " .,'’-()"
"""What a name may have beside letters and digits."""
_CODE, _SEAL = 8, 26
_SPACES = re.compile(" +")


class NotAName(ValueError):
    """What was sent is nobody's name; the message says why."""


def name(sent: object) -> str:
    """What was sent, as a name.

    Raises
    ------
    NotAName
        It is none.

    Examples
    --------
    >>> name(" Ana  Ruiz "), name("Zoë O'Neil-Smith (2)")
    ('Ana Ruiz', "Zoë O'Neil-Smith (2)")
    >>> name("../ana")
    Traceback (most recent call last):
    wirecheck.page.names.NotAName: A name has letters, digits, spaces and . , ' - ( ) only.
    """
    if not isinstance(sent, str) or len(sent) > MOST_LETTERS:
        raise NotAName(f"A name has {MOST_LETTERS} letters at most.")
    given = _SPACES.sub(" ", unicodedata.normalize("NFC", as_text(sent)).strip(" "))
    if not any(char.isalpha() for char in given):
        raise NotAName("Write your name first.")
    known = all(char in BESIDE_LETTERS or unicodedata.category(char)[0] in "LNM" for char in given)
    if not known or plain(given) != given:
        raise NotAName("A name has letters, digits, spaces and . , ' - ( ) only.")
    return given


def code_of(secret: bytes, whose: str) -> str:
    """The code of a name, whatever its capitals and spaces are.

    >>> code_of(b"", "Ana Ruiz") == code_of(b"", "ana  ruiz"), len(code_of(b"", "Bo"))
    (True, 8)
    """
    return _made(secret, _CODE, "name", alike(whose))


def is_hers(secret: bytes, whose: str, code: object) -> bool:
    """Whether a code is that of a name. It is read however it was typed.

    >>> is_hers(b"", "Bo", code_of(b"", "bo").lower()), is_hers(b"", "Bo", "0" * 8), is_hers(b"", "Bo", None)
    (True, False, False)
    """
    given = code if isinstance(code, str) else ""
    return same(code_of(secret, whose), given.strip().upper())


def seal(secret: bytes, *what: str) -> str:
    """What shows that the server said something: nobody else can make it.

    >>> seal(b"", "1", "23") == seal(b"", "12", "3")
    False
    """
    return _made(secret, _SEAL, "seal", *what)


def same(known: str, given: str) -> bool:
    """Whether two texts are the same. How long it takes to tell says nothing of either."""
    return hmac.compare_digest(as_text(known).encode(), as_text(given).encode())


def number(secret: bytes, *what: str) -> int:
    """A number that nobody without the secret can tell."""
    return int.from_bytes(_digest(secret, "number", *what)[:6], "big")


def _made(secret: bytes, letters: int, *what: str) -> str:
    return b32encode(_digest(secret, *what)).decode("ascii")[:letters]


def _digest(secret: bytes, *what: str) -> bytes:
    # How long each is stands before it, so that no two lists come to the same bytes.
    told = b"".join(len(one).to_bytes(8, "big") + one for one in (as_text(each).encode() for each in what))
    return hmac.new(secret, told, sha256).digest()
