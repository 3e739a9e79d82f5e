"""The content policy of a page: its own styles and its own script, known by their hashes, and nothing else.

Whatever a board's file brings into a page, a browser runs no script of it and fetches nothing for it.

Source: W3C Content Security Policy Level 3, 3.3 (the meta element) and 2.3.1 (hashes)
"""

from __future__ import annotations


def policy(style: str, script: str = "", pictures: bool = False) -> str:
    r"""The meta element for a page, which must come before its style and its script.

    Parameters
    ----------
    style, script : just what stands between the tags; a page without a script may run none
    pictures : whether it has pictures, which are then whole in it; none of them may run or fetch anything

    >>> policy("p { margin: 0; }")
    '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; ...">\n'
    """
    allowed = "; ".join(_allowed(style, script, pictures))
    return f'<meta http-equiv="Content-Security-Policy" content="{allowed}">\n'


def given_out(style: str) -> str:
    """The policy of a page that is whole in itself, as the header with which a server gives it out.

    >>> given_out("p { margin: 0; }")
    "default-src 'none'; style-src 'sha256-...; frame-ancestors 'none'"
    """
    return "; ".join([*_allowed(style, "", True), "frame-ancestors 'none'"])


def _allowed(style: str, script: str, pictures: bool) -> list[str]:
    """What a page that is whole in itself may do."""
    allowed = ["default-src 'none'", f"style-src {_hash(style)}"]
    if script:
        allowed.append(f"script-src {_hash(script)}")
    if pictures:
        allowed.append("img-src data:")
    return [*allowed, "base-uri 'none'", "form-action 'none'"]


def saved() -> str:
    r"""The policy of a page that is a file beside its scripts, as the meta element of its head.

    It is the policy of a page that a server gives out, but that the worker beside it may run; whether another
    page may show it in a frame, only a server can say.

    >>> saved()
    '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; script-src \'self\'; ...">\n'
    """
    allowed = "; ".join([*_beside("worker-src"), "base-uri 'none'", "form-action 'none'"])
    return f'<meta http-equiv="Content-Security-Policy" content="{allowed}">\n'


def served() -> str:
    """The policy of a page that a server gives out, as a header: the server's own files, and nothing else.

    No script or style that stands in the page itself works, whatever a board's file brought into it, and no
    page of another server can show it in a frame.

    >>> served()
    "default-src 'none'; script-src 'self'; ...; frame-ancestors 'none'"
    """
    none = [f"{kind} 'none'" for kind in ("base-uri", "form-action", "frame-ancestors")]
    return "; ".join([*_beside(), *none])


def _beside(*more: str) -> list[str]:
    """What a page may do with the files of its own server."""
    allowed = [f"{kind} 'self'" for kind in ("script-src", "style-src", "connect-src", *more)]
    return ["default-src 'none'", *allowed]


def _hash(text: str) -> str:
    from base64 import b64encode
    from hashlib import sha256

    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"
