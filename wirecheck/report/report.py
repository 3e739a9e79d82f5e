"""What one file came to: the value that every report is made of."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from wirecheck.judge.finding import NOT_CHECKED, SEVERITIES, Finding, Mend, Severity
from wirecheck.language.syntax import Span


class OwnPart(NamedTuple):
    """A part on the board that does not ship, and the file that says what it does.

    `beside` is whether the file lies beside the board, where whoever wrote the board may have written it,
    and not in a folder of parts that was named for the check.
    """

    part: str
    file: str
    beside: bool


@dataclass(frozen=True, slots=True)
class Report:
    """One file's findings, in order of place.

    A notebook shows it as a page, `print` as the text of the command line.

    Attributes
    ----------
    file : the name of the file, `-` where there is none
    board : the board's title
    text : the board's text, for the lines that the findings point at
    findings : all of them
    unjudged : the lamps, outlets and loads that no `expect` line names: whether they work as they
        should is not known
    sampled : whether the board has too many switches or calls that act on each other to try them all
    parts : the parts on the board, and inside of those, that do not ship, each with its file: the board is
        checked by what these files say
    left_out : the transformers and loads that were taken as open, since with them the volts have no answer
    ended : whether the effort ended the search for the mistakes behind the findings
    unfinished : what was not judged, since the board takes more work than is spent on one, in sentences
    unplaced : where no `room` line says what kind of place it is, so that what one asks for was not judged

    Examples
    --------
    >>> import wirecheck
    >>> report = wirecheck.check('board "Shed"\\npanel LP 120 V\\nbreaker LP.1 15 A\\nbox A octagon')
    >>> report.passes, report.counts["violation"]
    (True, 0)
    """

    file: str
    board: str
    text: str = field(repr=False)
    findings: tuple[Finding, ...]
    unjudged: tuple[str, ...] = ()
    sampled: bool = False
    parts: tuple[OwnPart, ...] = ()
    ended: bool = False
    left_out: tuple[str, ...] = ()
    unfinished: tuple[str, ...] = ()
    unplaced: tuple[str, ...] = ()

    @property
    def passes(self) -> bool:
        """Whether nothing in it is worse than advice."""
        return all(finding.severity == "advice" for finding in self.findings)

    @property
    def checked(self) -> bool:
        """Whether the check came to its end: where it did not, the one finding says so."""
        return all(finding.rule != NOT_CHECKED for finding in self.findings)

    @property
    def counts(self) -> dict[Severity, int]:
        """How many findings there are of each severity, the gravest first, with none left out."""
        return counts([self])

    @property
    def by_severity(self) -> Mapping[Severity, tuple[Finding, ...]]:
        """The findings of each severity, the gravest first, with none left out."""
        return {each: tuple(one for one in self.findings if one.severity == each) for each in SEVERITIES}

    @property
    def by_rule(self) -> Mapping[str, tuple[Finding, ...]]:
        """The findings of each rule that has some, in order of the rules' names."""
        names = sorted({finding.rule for finding in self.findings})
        return {name: tuple(one for one in self.findings if one.rule == name) for name in names}

    @property
    def mends(self) -> tuple[Mend, ...]:
        """The changes that were tried and put something right, as they are numbered in the text."""
        return tuple(mend for finding in self.findings for mend in finding.mends)

    def mended(self, number: int) -> str:
        """The board's text with one of the `mends` made, counted from 1.

        Raises
        ------
        wirecheck.WrongArgument
            There is none of that number.
        """
        from wirecheck.arguments import WrongArgument
        from wirecheck.language.rewriting import rewritten

        if not 1 <= number <= len(self.mends):
            raise WrongArgument(f"there is no mend {number}: {len(self.mends) or 'none'} is offered")
        return rewritten(self.text, self.mends[number - 1].edits)

    def as_data(self) -> dict[str, Any]:
        """Plain data, equal to what `--format json` prints of a file."""
        from wirecheck.report.formats.json import file_record

        return file_record(self)

    def render(self, form: str = "text") -> str:
        """The report in one of the formats of the command line.

        Raises
        ------
        wirecheck.WrongArgument
            Where there is no such format.
        """
        from wirecheck.report.formats import render
        from wirecheck.rules import manuals

        return render(form, [self], manuals())

    def __str__(self) -> str:
        return self.render()

    def _repr_html_(self) -> str:
        from wirecheck.report.html import fragment

        return fragment(self)


def counts(reports: Iterable[Report]) -> dict[Severity, int]:
    """How many findings of each severity, the gravest first, with none left out.

    >>> counts([])
    {'hazard': 0, 'violation': 0, 'fault': 0, 'advice': 0}
    """
    found: dict[Severity, int] = dict.fromkeys(SEVERITIES, 0)
    for report in reports:
        for finding in report.findings:
            found[finding.severity] += 1
    return found


def not_checked(message: str, to_do: str) -> Finding:
    """The finding about a file whose check did not come to its end: it stands on no line.

    >>> not_checked("It took longer than 60 s.", "Give it more time.").rule
    'not-checked'
    """
    return Finding(NOT_CHECKED, "fault", message, Span(1, 1, 1, 1), "", help=to_do, stage="rough-in")


def unfinished(file: str, message: str, to_do: str) -> Report:
    """The report of a file whose check did not come to its end.

    >>> report = unfinished("shed.wire", "It took longer than 60 s.", "Give it more time.")
    >>> report.passes, report.checked
    (False, False)
    """
    return Report(file, "", "", (not_checked(message, to_do),))
