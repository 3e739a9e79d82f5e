"""The reports for programs, each against a reader of its format that is not ours."""

import json
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import ValidationError
from junitparser import JUnitXml
from pydantic_sarif.model import StaticAnalysisResultsFormatSarifVersion210JsonSchema as Sarif

import wirecheck
from tests.report import sarif
from tests.report.findings import CLEAN, HOSTILE, MANUALS, PORCH, TEXT
from wirecheck import files
from wirecheck.judge.finding import SEVERITIES, Finding, Note
from wirecheck.language.syntax import Span
from wirecheck.report.formats import FORMATS, render
from wirecheck.report.report import Report, unfinished
from wirecheck.rules import manuals

ALL = (PORCH, CLEAN, HOSTILE)


def test_json_has_the_promised_shape():
    told = json.loads(render("json", (PORCH, CLEAN), MANUALS))
    assert list(told) == ["version", "files", "skipped", "summary"]
    assert told["version"] == 1
    assert told["summary"] == {"hazard": 1, "violation": 1, "fault": 1, "advice": 1}
    porch, clean = told["files"]
    assert clean == {
        "file": "clean.wire",
        "board": "Clean",
        "findings": [],
        "unjudged": [],
        "sampled": False,
        "unfinished": [],
        "unplaced": [],
        "parts": [],
    }
    assert porch["unjudged"] == []
    assert porch["findings"][0] == {
        "rule": "overcurrent-protection",
        "severity": "violation",
        "stage": "rough-in",
        "message": "Breaker LP.3 is 20 A, and the smallest wire behind it is 14 AWG copper.",
        "line": 3,
        "column": 14,
        "end_line": 3,
        "end_column": 18,
        "subject": "LP.3",
        "value": 20.0,
        "limit": 15.0,
        "unit": "A",
        "source": "NEC 2023 240.4(D)",
        "help": "Put in a 15 A breaker, or pull 12 AWG.",
        "also": [{"line": 4, "message": "this cable is 14 AWG"}],
    }
    assert not {"value", "limit", "unit", "also"} & set(porch["findings"][1])


def test_json_points_at_the_text():
    finding = json.loads(render("json", (PORCH,), {}))["files"][0]["findings"][0]
    line = TEXT.splitlines()[finding["line"] - 1]
    assert line[finding["column"] - 1 : finding["end_column"] - 1] == "20 A"


def test_sarif_is_read_by_models_made_from_the_published_schema():
    # pydantic-sarif: generated from OASIS sarif-schema-2.1.0.json, unknown properties refused.
    log = Sarif.model_validate_json(render("sarif", ALL, MANUALS))
    (run,) = log.runs
    assert run.tool.driver.name == "wirecheck"
    assert len(run.results) == 5
    for result in run.results:
        assert run.tool.driver.rules[result.ruleIndex].id == result.ruleId
    first = run.results[0]
    region = first.locations[0].physicalLocation.region
    assert (region.startLine, region.startColumn, region.endLine, region.endColumn) == (3, 14, 3, 18)
    assert first.locations[0].physicalLocation.artifactLocation.uri == "boards/porch%20light.wire"
    assert first.relatedLocations[0].physicalLocation.region.startLine == 4
    assert [result.level.value for result in run.results] == ["error", "error", "note", "error", "error"]


def test_sarif_is_valid_by_its_schema():
    for reports in (ALL, (CLEAN,), (), (PORCH, PORCH)):
        assert sarif.valid(render("sarif", reports, MANUALS))["version"] == "2.1.0"


@pytest.mark.parametrize(
    "name",
    [
        *(
            "-",
            "a b.wire",
            "100%.wire",
            "a#b?c.wire",
            "a:b.wire",
            "//host/a.wire",
            "/a b/\u00e9.wire",
            "..\\a.wire",
        ),
        *(
            "[a].wire",
            "a\nb.wire",
            "%41.wire",
            "\u2028.wire",
            "C:\\a b.wire",
            ".",
            "a\udcff.wire",
            "\ud800.wire",
        ),
    ],
)
def test_every_name_of_a_file_makes_a_valid_reference(name):
    report = wirecheck.check(PORCH.text, file=name)
    told = sarif.valid(render("sarif", (report,), manuals()))
    (artifact,) = told["runs"][0]["artifacts"]
    assert {one["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] for one in _results(told)} == {
        artifact["location"]["uri"]
    }


def _results(told):
    return told["runs"][0]["results"]


def test_sarif_refuses_what_its_schema_does():
    told = json.loads(render("sarif", (PORCH,), MANUALS))
    region = told["runs"][0]["results"][0]["locations"][0]["physicalLocation"]
    for key, value in (("region", {"startLine": 0}), ("artifactLocation", {"uri": "a b"}), ("other", 1)):
        with pytest.raises(ValidationError):
            changed = json.loads(json.dumps(told))
            changed["runs"][0]["results"][0]["locations"][0]["physicalLocation"] = {**region, key: value}
            sarif.valid(json.dumps(changed))


@pytest.mark.slow
def test_every_rule_s_findings_are_valid_in_one_log():
    """The wrong board of every rule, at every stage, and files that were not checked."""
    boards = sorted((files.folder("boards") / "rules").glob("*/wrong.wire"))
    reports = [wirecheck.check(board) for board in boards]
    reports += [unfinished("a b.wire", "It took longer than 60 s.", "Give it more time."), *ALL]
    told = sarif.valid(render("sarif", reports, manuals()))
    assert len({one["ruleId"] for one in _results(told)}) > 60


@pytest.mark.slow
def test_every_board_s_findings_are_valid():
    boards = sorted(files.folder("boards").rglob("*.wire"))
    boards += sorted(Path("tests").rglob("*.wire"))
    reports = []
    for board in boards:
        try:
            reports.append(wirecheck.check(board))
        except wirecheck.NotABoard:
            kinds = (
                board.read_text("utf-8").startswith("part"),
                board.name in ("exercise.wire", "faults.wire"),
            )
            assert any(kinds) or "found" in board.parts
    assert len(_results(sarif.valid(render("sarif", reports, manuals())))) > 500


def test_what_programs_read_is_plain_ascii():
    """So that it is the same text, and true to its own words, in whatever encoding it is written."""
    report = Report("caf\u00e9 \u96ea.wire", "\u00e9", 'board "\u00e9"', HOSTILE.findings)
    for form in ("json", "sarif", "junit"):
        assert render(form, (report,), MANUALS).isascii()
    (suite,) = JUnitXml.fromstring(render("junit", (report,), MANUALS).encode("ascii"))
    assert suite.name == "caf\u00e9 \u96ea.wire"


def test_junit_is_read_by_junitparser():
    suites = list(JUnitXml.fromstring(render("junit", ALL, MANUALS).encode()))
    assert [(suite.tests, suite.failures) for suite in suites] == [(4, 3), (1, 0), (1, 1)]
    cases = [case for suite in suites for case in suite]
    assert len({(case.classname, case.name) for case in cases}) == len(cases)
    assert "20 A against 15 A" in cases[0].result[0].text


def test_github_commands_cannot_be_forged():
    lines = render("github", ALL, MANUALS).splitlines()
    assert len(lines) == 5
    command = re.compile(
        r"::(error|notice) file=[^,]*,line=\d+,endLine=\d+,col=\d+,endColumn=\d+,title=[^,:]*::[^\n]*"
    )
    assert all(command.fullmatch(line) for line in lines)
    assert lines[0].startswith("::error file=boards/porch light.wire,line=3,endLine=3,col=14,endColumn=18,")
    assert "%0A::error::forged" in lines[-1]
    assert "a\ufffd[2Jb%2C%3A%25%0A%3A%3Aerror" in lines[-1]


def test_what_was_not_judged_is_in_every_format():
    left = Report("a,b.wire", "Left", "", (), ("L1", "BF.motor"))
    sampled = Report("s.wire", "Sampled", "", (), sampled=True)
    reports = (CLEAN, left, sampled)
    (run,) = Sarif.model_validate_json(render("sarif", reports, {})).runs
    (invocation,) = run.invocations
    assert invocation.executionSuccessful and not run.results
    told = invocation.toolExecutionNotifications
    files = [one.locations[0].physicalLocation.artifactLocation.uri for one in told]
    assert files == ["a%2Cb.wire", "s.wire"]
    assert [one.level.value for one in told] == ["note", "note"]
    data = json.loads(render("sarif", reports, {}))["runs"][0]["invocations"][0]["toolExecutionNotifications"]
    assert [one["properties"] for one in data] == [
        {"unjudged": ["L1", "BF.motor"], "sampled": False, "unfinished": [], "unplaced": []},
        {"unjudged": [], "sampled": True, "unfinished": [], "unplaced": []},
    ]
    lines = render("github", reports, {}).splitlines()
    assert [line.split("::")[1] for line in lines] == [
        "notice file=a%2Cb.wire,title=not judged",
        "notice file=s.wire,title=not judged",
    ]
    assert "L1 and BF.motor" in lines[0]
    suites = list(JUnitXml.fromstring(render("junit", reports, {}).encode()))
    words = [[one.text for one in suite._elem.findall("system-out")] for suite in suites]
    assert [len(one) for one in words] == [0, 1, 1] and "L1 and BF.motor" in words[1][0]
    assert [(suite.tests, suite.failures) for suite in suites] == [(1, 0)] * 3


SPANS = st.builds(Span, *(st.integers(1, 50) for _ in range(4)))


@given(
    st.lists(
        st.builds(
            Finding,
            rule=st.sampled_from(["syntax", "ampacity"]),
            severity=st.sampled_from(SEVERITIES),
            message=st.text(),
            span=SPANS,
            subject=st.text(),
            value=st.none() | st.floats(-1e12, 1e12),
            limit=st.none() | st.floats(-1e12, 1e12),
            unit=st.none() | st.just("A"),
            source=st.none() | st.text(),
            help=st.none() | st.text(),
            also=st.lists(st.builds(Note, st.text(), SPANS), max_size=2).map(tuple),
        ),
        max_size=4,
    ),
    st.text(min_size=1),
    st.text(),
)
def test_every_format_bears_every_text(findings, file, board):
    report = Report(file, board, board, tuple(findings))
    for form in FORMATS:
        text = render(form, (report,), MANUALS)
        text.replace("\x1b", "").encode()
    json.loads(render("json", (report,), {}))
    Sarif.model_validate_json(render("sarif", (report,), {}))
    sarif.valid(render("sarif", (report,), {}))
    assert next(iter(JUnitXml.fromstring(render("junit", (report,), {}).encode()))).tests == max(
        len(findings), 1
    )
