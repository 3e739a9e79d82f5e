"""The mistake behind the findings in every output: said first, and mended as another tool would do it."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import NamedTuple

import pytest
from junitparser import JUnitXml

from tests.report import sarif
from wirecheck import assemble, check, draw, files
from wirecheck.drawing.gallery import exhibit, gallery_page
from wirecheck.drawing.wiring import ONE_OF_THESE
from wirecheck.judge.case import Case
from wirecheck.report import checklist
from wirecheck.report.html import fragment
from wirecheck.report.mended import ANY_ONE
from wirecheck.report.report import Report

DEMO = (files.folder("boards") / "demo.wire").read_text("utf-8").replace("BP.3 20 A", "BP.3 15 A")
SWAP = DEMO.replace("RISE.bare -- LOW.ground", "RISE.bare -- pigtail -- LOW.ground")
SWAPPED = "At LOFT, RISE.black and LEG.black are swapped."
STAIR = (files.folder("boards") / "stair-light" / "right.wire").read_text("utf-8")
LOOSE = STAIR.replace("  W3.black -- L1.hot\n", "").replace("W3.white -- L1.neutral", "cap W3.white")
EXPECT = "expect L1 from S1, S2\n"
# Lines that change, that go, and several that come; the end of the text; the line ends of another system.
WRONG = {
    "a swap": SWAP,
    "a comment beside it": STAIR.replace("W3.black -- L1.hot", "W3.white -- L1.hot  # the light").replace(
        "W3.white -- L1.neutral", "W3.black -- L1.neutral"
    ),
    "two lines lost": LOOSE,
    "at the end of the text": (
        LOOSE.replace(EXPECT, "").replace("\nat TP", f"\n{EXPECT}\nat TP", 1)
    ).rstrip(),
    "two characters at the end of a line": LOOSE.replace("\n", "\r\n"),
}


class Replacement(NamedTuple):
    """A stretch by lines and columns from 1, its end left out, and what goes in its place."""

    line: int
    column: int
    end_line: int
    end_column: int
    text: str


def applied(text: str, replacements: Iterable[Replacement]) -> str:
    """A file's text after the replacements, the last first, as an editor applies them."""
    starts = [0]
    for row in text.splitlines(keepends=True):
        starts.append(starts[-1] + len(row))
    spans = sorted(
        (starts[one.line - 1] + one.column - 1, starts[one.end_line - 1] + one.end_column - 1, one.text)
        for one in replacements
    )
    assert len({span[:2] for span in spans}) == len(spans)
    for (_, end, _), (begin, _, _) in pairwise(spans):
        assert end <= begin
    for begin, end, new in reversed(spans):
        assert 0 <= begin <= end <= len(text)
        text = text[:begin] + new + text[end:]
    return text


def in_sarif(report: Report) -> list[list[Replacement]]:
    """The fixes of a log, one after another."""
    fixes = [
        fix
        for run in sarif.valid(report.render("sarif"))["runs"]
        for result in run["results"]
        for fix in result.get("fixes", ())
    ]
    told = []
    for fix in fixes:
        (change,) = fix["artifactChanges"]
        assert fix["description"]["text"]
        regions = [
            (each["deletedRegion"], each["insertedContent"]["text"]) for each in change["replacements"]
        ]
        told.append(
            [
                Replacement(one["startLine"], one["startColumn"], one["endLine"], one["endColumn"], new)
                for one, new in regions
            ]
        )
    return told


def in_json(report: Report) -> list[list[Replacement]]:
    """The mends of a report as data, the first of a finding before its others."""
    found = json.loads(report.render("json"))["files"][0]["findings"]
    mends = [
        mend
        for each in found
        for mend in ([each["mend"]] if "mend" in each else []) + each.get("other_mends", [])
    ]
    return [[Replacement(**edit) for edit in mend["edits"]] for mend in mends]


def left(text: str) -> list[tuple[str, str]]:
    return [(one.rule, one.subject) for one in check(text).findings if one.severity != "advice"]


@cache
def reported(name: str) -> Report:
    return check(WRONG[name].encode(), effort=400)


@pytest.mark.parametrize("name", WRONG)
@pytest.mark.parametrize("told", [in_sarif, in_json])
def test_a_tool_that_makes_a_mend_gets_a_board_with_less_wrong(
    name: str, told: Callable[[Report], list[list[Replacement]]]
) -> None:
    report = reported(name)
    fixes = told(report)
    assert len(fixes) == len(report.mends) > 0
    for number, fix in enumerate(fixes, 1):
        text = applied(WRONG[name], fix)
        assert text.replace("\r\n", "\n") == report.mended(number)
        assert set(left(text)) < set(left(WRONG[name]))


def test_mends_are_made_one_after_another_by_checking_again() -> None:
    """The numbers and places of a mend are those of the text that was checked, and of no other."""
    text, counts = DEMO, []
    while fixes := in_sarif(check(text, effort=400)):
        counts.append(len(fixes))
        text = applied(text, fixes[0])
    assert counts == [2, 1] and left(text) == []


def test_json_gives_the_first_mend_and_the_others() -> None:
    (finding,) = (one for one in reported("a swap").findings if one.rule == "switching")
    other = finding.mends[0]._replace(mistake="Another.", remedy="Do that.")
    several = replace(reported("a swap"), findings=(finding._replace(mends=(*finding.mends, other, other)),))
    (told,) = json.loads(several.render("json"))["files"][0]["findings"]
    assert (told["mend"]["mistake"], told["mend"]["says"]) == (SWAPPED, finding.mends[0].remedy)
    assert [one["says"] for one in told["other_mends"]] == ["Do that.", "Do that."]
    (alone,) = (one for one in reported("a swap").as_data()["findings"] if one["rule"] == "switching")
    assert "other_mends" not in alone and alone["mend"] == told["mend"]


@pytest.mark.slow
def test_every_output_for_people_says_the_mistake_before_what_comes_of_it() -> None:
    report = reported("a swap")
    message = next(one.message for one in report.findings if one.rule == "switching")
    failures = [case.result[0] for case in next(iter(JUnitXml.fromstring(report.render("junit").encode())))]
    results = json.loads(report.render("sarif"))["runs"][0]["results"]
    (listed,) = (section.note for section in sections(SWAP) if section.stage == "final")
    for said in (
        report.render("text").replace("\n  ", ""),
        report.render("github"),
        failures[-1].message,
        failures[-1].text,
        results[-1]["message"]["text"],
        fragment(report),
        draw(SWAP, effort=400).svg,
    ):
        plain = " ".join(re.sub(r"<[^>]*>", " ", said).split())
        assert plain.index(SWAPPED) < plain.index(message[:20])
    assert listed == f"The check found 1 mistake in this stage. {SWAPPED}"


def sections(text: str) -> tuple[checklist.Section, ...]:
    case = Case(assemble(text)[1])
    return checklist.checklist(case, "final", check(text, effort=400).findings)


def test_a_list_counts_mistakes_and_not_what_follows_from_them() -> None:
    """A swap that makes metal live and the lamp dark is one mistake, of the stage in which it shows first."""
    text = (files.folder("boards") / "stair-light" / "wrong-bare-to-hot.wire").read_text("utf-8")
    told = {section.stage: section for section in sections(text)}
    found = checklist.checklist(Case(assemble(text)[1]))
    notes = [section.note for section in found if "2 mistakes" in section.note or "1 mistake" in section.note]
    assert told["rough-in"].note == "" and len(notes) >= 1
    assert (
        told["trim"].note
        == "The check found 1 mistake in this stage. At LIGHT, W3.black and W3.bare are swapped."
    )
    assert told["final"].note.startswith("Do not put power on") and told["final"].lines == ()
    assert "mistake" not in told["final"].note


def test_the_page_of_a_folder_says_the_mistake_and_what_follows() -> None:
    text = (files.folder("boards") / "stair-light" / "wrong-bare-to-hot.wire").read_text("utf-8")
    found = check(text, effort=400).findings
    (finding,) = found
    page = gallery_page("Stairs", [exhibit("one.wire", assemble(text)[1], (), found)])
    assert page.index(finding.mends[0].mistake) < page.index(finding.message)
    assert finding.follows and all(one.message in page for one in finding.follows)
    several = finding._replace(mends=(*finding.mends, finding.mends[0]._replace(mistake="<Another>.")))
    page = gallery_page("Stairs", [exhibit("one.wire", assemble(text)[1], (), [several])])
    assert page.index(ONE_OF_THESE) < page.index("&lt;Another&gt;.") < page.index(finding.message)


def test_what_a_box_lacks_is_not_said_to_have_been_done() -> None:
    """Its mends say what should be: a larger box, or an extension."""
    assert ANY_ONE.startswith("The board does not tell which of these is the mistake.")
    assert ONE_OF_THESE.endswith("which of these is the mistake:")
