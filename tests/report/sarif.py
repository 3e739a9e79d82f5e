"""SARIF held against its published schema, by a validator that is not ours.

`sarif-schema-2.1.0.json` is the JSON schema of the OASIS Standard "Static Analysis Results Interchange Format
(SARIF) Version 2.1.0" (27 March 2020), in the text that the public catalog of JSON schemas keeps of it
(sarif-2.1.0-rtm.5.json). Copyright OASIS Open 2020. It may be copied and given on with this notice (from
memory).
"""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from typing import Any

from jsonschema import Draft4Validator, FormatChecker

SCHEMA = Path(__file__).parent / "sarif-schema-2.1.0.json"
FORMATS = FormatChecker([])
# RFC 3986, appendices A and B: its characters, and a scheme before the first colon where there is one.
_REFERENCE = re.compile(
    r"(?:[A-Za-z][A-Za-z0-9+.-]*:|(?![^/?#]*:))"
    r"(?:[A-Za-z0-9._~:/?@!$&'()*+,;=-]|%[0-9A-F]{2})*(?:#(?:[A-Za-z0-9._~:/?@!$&'()*+,;=-]|%[0-9A-F]{2})*)?"
)


@FORMATS.checks("uri-reference")
def _is_reference(value: object) -> bool:
    return not isinstance(value, str) or _REFERENCE.fullmatch(value) is not None


@FORMATS.checks("uri")
def _is_uri(value: object) -> bool:
    return not isinstance(value, str) or (_is_reference(value) and re.match(r"[a-z]+:", value) is not None)


@cache
def _validator() -> Draft4Validator:
    schema = json.loads(SCHEMA.read_text("utf-8"))
    Draft4Validator.check_schema(schema)
    return Draft4Validator(schema, format_checker=FORMATS)


def valid(text: str | bytes) -> Any:
    """The log, where it is valid.

    Raises
    ------
    jsonschema.ValidationError
        Where it is not.
    """
    told = json.loads(text)
    _validator().validate(told)
    return told
