"""Reports to render: one board with a finding of each severity, one clean, one hostile."""

from wirecheck.judge.finding import Finding, Note
from wirecheck.judge.rule import Manual
from wirecheck.language.syntax import Span
from wirecheck.report.report import Report

TEXT = """board "Porch light"
panel LP 120 V
breaker LP.3 20 A
cable W1 14/2 NM-B 22 ft from LP to A
S1 is single-pole-switch in A
L1 is lampholder 60 W in A
"""

OVERCURRENT = Finding(
    rule="overcurrent-protection",
    severity="violation",
    message="Breaker LP.3 is 20 A, and the smallest wire behind it is 14 AWG copper.",
    span=Span(3, 14, 3, 18),
    subject="LP.3",
    value=20.0,
    limit=15.0,
    unit="A",
    source="NEC 2023 240.4(D)",
    help="Put in a 15 A breaker, or pull 12 AWG.",
    also=(Note("this cable is 14 AWG", Span(4, 10, 4, 14)),),
    stage="rough-in",
)
METAL = Finding(
    "energized-metal", "hazard", "The box A is live.", Span(4, 1, 4, 38), "A", source="NEC 2023 250.4"
)
DARK = Finding("switching", "fault", "L1 stays dark.", Span(6, 1, 6, 3), "L1", help="Feed S1.")
ADVICE = Finding("conductor-color", "advice", "The red is used as common.", Span(5, 1, 5, 3), "S1")

PORCH = Report("boards/porch light.wire", "Porch light", TEXT, (OVERCURRENT, METAL, ADVICE, DARK))
CLEAN = Report("clean.wire", "Clean", 'board "Clean"\n', ())

HOSTILE_TEXT = 'board "\x1b[31m\x9b2J\u202e"\n\x07box \x1b]0;title\x07 <&> ]]> "\n'
HOSTILE = Report(
    "a\x1b[2Jb,:%\n::error::.wire",
    "\x1b[31m\x9b2J\u202e",
    HOSTILE_TEXT,
    (
        Finding(
            "syntax",
            "fault",
            "\x1b]0;x\x07 is no word\n::error::forged\x00",
            Span(2, 1, 2, 12),
            "\x1b[7m",
            help="<b>&\x0b",
            also=(Note("see \x1b[5m", Span(99, 1, 99, 2)),),
        ),
    ),
)

MANUALS = {
    "overcurrent-protection": Manual(
        name="overcurrent-protection",
        summary="A breaker opens before its wire is too hot.",
        why="A wire that carries more than it can lose as heat burns its insulation.",
        source="NEC 2023 240.4(D)",
        stages=("rough-in",),
    )
}
