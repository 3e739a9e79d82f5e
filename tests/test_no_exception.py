"""No text ends a command with an exception: each text that once did, kept in `found`, and others of its kind.

A file in `found/parts` is the part `p` of one small board, and one in `found/boards` is a board.
"""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.everything import COMMANDS, case_of, failures
from tests.parts.shelf import SHIPPED
from wirecheck import check, files
from wirecheck.assembly import assemble
from wirecheck.circuit.call import play_call
from wirecheck.circuit.meter import Reading
from wirecheck.judge.case import Case
from wirecheck.language.words import FORMS, NAMED_FORMS
from wirecheck.parts.library import Library
from wirecheck.report import energized, sequence
from wirecheck.report.readings import said

FOUND = Path(__file__).parent / "found"
BOARD = """board "B"
panel LP 120/240 V
breaker LP.3 15 A
box A device 20 cu in
cable W1 14/2 NM-B 9 ft from LP to A
S1 is single-pole-switch in A
L1 is lampholder in A
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
at A
  W1.black -- S1.line
  S1.load -- L1.hot
  W1.white -- L1.neutral
"""
WITH_PART = """board "A part of one's own"
panel LP 120/240 V
breaker LP.3 15 A
X is p
cable W1 14/2 NM-B 9 ft from LP to X
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
at X
  W1.black -- X.a
  W1.white -- X.b
expect X from X
expect X live
expect heat runs X
expect X stops X
"""


def library(text: str) -> Library:
    """The shipped parts, and one called p."""
    return Library(
        lambda name: text if name == "p" else files.part_text(name), lambda: [*files.part_names(), "p"]
    )


@pytest.mark.parametrize("file", sorted(FOUND.glob("boards/*")), ids=lambda file: file.stem)
def test_no_board_ends_a_command(file: Path) -> None:
    assert failures(file.read_bytes(), SHIPPED) == {}


@pytest.mark.parametrize("file", sorted(FOUND.glob("parts/*")), ids=lambda file: file.stem)
def test_no_part_ends_a_command(file: Path) -> None:
    assert failures(WITH_PART, library(file.read_text())) == {}


def test_what_has_no_answer_is_named() -> None:
    text = (FOUND / "parts" / "resonance-without-damping.wire").read_text()
    report = check(WITH_PART, library=library(text))
    assert report.left_out == ("X.winding-1", "X.winding-2", "X.winding-3")
    assert "Not judged: X.winding-1, X.winding-2 and X.winding-3." in " ".join(str(report).split())
    assert not check(WITH_PART, library=library('part p "x"\nterminal a hot\nterminal b hot')).left_out


def test_what_has_no_answer_is_named_wherever_volts_are_shown() -> None:
    text = (FOUND / "parts" / "resonance-without-damping.wire").read_text()
    case = Case(assemble(WITH_PART, "-", library(text))[1])
    state = energized.energized(case, {}, ())
    played = play_call(case.circuit, (), {}, None)
    measured = said(Reading(0.0, "V"), ("X.a", "X.b"), state.settled)
    shown = state.render(), state._repr_html_(), sequence.text(case, played), measured
    assert all("X.winding-1, X.winding-2 and X.winding-3" in " ".join(one.split()) for one in shown)
    names = ["X.winding-1", "X.winding-2", "X.winding-3"]
    assert state.as_data()["left_out"] == sequence.as_data(case, played)["left_out"] == names


# Letters and signs, units, names and values of the language, to be put side by side.
TOKENS = sorted({word for form in (*FORMS.values(), *NAMED_FORMS.values()) for word in form.split()})
ODD = ["0", "99999999 A", "1/0", "-1", "nan", '"', "\\", "#", "LP", "LP.3", "S1", "S1.line", "W1", "W1.black"]
LINES = BOARD.splitlines()


@pytest.mark.slow
@settings(max_examples=15)
@given(st.lists(st.tuples(st.integers(0, len(LINES)), st.lists(st.sampled_from([*TOKENS, *ODD])))))
def test_no_splice_of_the_language_ends_a_command(spliced: list[tuple[int, list[str]]]) -> None:
    lines = list(LINES)
    for place, words in spliced:
        lines.insert(place, " ".join(words))
    assert failures("\n".join(lines), SHIPPED) == {}


WINDINGS = st.tuples(
    st.sampled_from(["126 V", "120 V", "1 V", "50000 V"]),
    st.sampled_from(["120 V", "24 V", "50000 V"]),
    st.lists(st.sampled_from("abcd"), min_size=4, max_size=4),
    st.sampled_from(["40 VA", "0.1 VA", "10000 kVA"]),
    st.sampled_from(["5 %", "0.1 %", "100 %"]),
)
LOADS = st.tuples(
    st.sampled_from(["motor", "electronics", "lamp", "coil"]),
    st.lists(st.sampled_from("abcd"), min_size=2, max_size=2),
    st.sampled_from(["60 W", "0.001 W", "10000 kW", "10 kA", "0.01 mA", "0.001 ohm"]),
    st.sampled_from(["120 V", "0.1 V", "50000 V"]),
)


@settings(max_examples=15)
@given(st.lists(WINDINGS, max_size=4), st.lists(LOADS, max_size=4))
def test_no_winding_and_no_load_within_its_range_is_without_an_answer(
    windings: list[tuple[str, str, list[str], str, str]], loads: list[tuple[str, list[str], str, str]]
) -> None:
    lines = ['part p "x"', *(f"terminal {letter} contact" for letter in "abcd")]
    for first, second, (a, b, c, d), capacity, share in windings:
        lines.append(
            f"transforms {first} from {a} to {b} into {second} from {c} to {d}, capacity {capacity}, "
            f"impedance {share}"
        )
    for number, (kind, (a, b), draws, volts) in enumerate(loads):
        lines.append(f"load l{number} {kind} from {a} to {b}, {draws} at {volts}")
    assert failures(WITH_PART, library("\n".join(lines))) == {}


# Characters that hide, turn the text around, stack up, fill nothing, or look like plain ones.
UNICODE = [
    *(chr(number) for number in range(1, 32) if chr(number) not in "\n\r"),
    *"\x7f\x85\xa0\xad\u034f\u061c\u115f\u17b4\u180e\u200b\u200d\u200e\u2028\u2029\u202e\u2060\u2066\u3164",
    *"\ue000\ufdd0\ufe0f\ufeff\uffa0\ufff9\ufffc\ufffd\ufffe\uffff\ud800\U0001f4a1\U000e0041\U000f0000",
    *"\u0410\u0435\uff21\u0301\u0e4e\u2044\u2212\u2160\u0663",
    "e" + "\u0301" * 200,
]


HIDDEN = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


@pytest.mark.parametrize(
    "odd",
    [pytest.param(odd, marks=[pytest.mark.slow] * (at % 3 > 0)) for at, odd in enumerate(UNICODE)],
    ids=lambda odd: f"U+{ord(odd[0]):04X}",
)
def test_no_character_of_a_title_reaches_an_output_that_cannot_hold_it(odd: str) -> None:
    case = case_of(BOARD.replace('board "B"', f'board "A{odd}B"'), SHIPPED)
    assert case is not None
    for name in ("check", "draw"):
        for words in COMMANDS[name](case):
            assert not {one for one in words if unicodedata.category(one) in HIDDEN} - set("\n\t")
            words.encode()


@pytest.mark.parametrize("first", range(0, len(UNICODE), 20))
def test_no_character_in_a_name_or_a_comment_ends_a_command(first: int) -> None:
    lines = [f"# {odd}\nL{odd}1 is lampholder\nexpect L1 from S1{odd}" for odd in UNICODE[first : first + 20]]
    text = BOARD + "\n".join(lines)
    assert failures(text, SHIPPED) == {}
    assert failures(text.encode("utf-8", "surrogatepass"), SHIPPED) == {}
