"""Sheets and texts as they could be, and worse."""

import re

from hypothesis import strategies as st

from wirecheck.grading.sheet import Sheet, StageScore, Taken, Trace
from wirecheck.judge.finding import SEVERITIES, STAGES

_WORST = st.text(st.characters(categories=["Cs", "Cc", "Cf", "Zs", "Po"]), max_size=4)
TEXTS = st.text(max_size=12) | _WORST.filter(
    lambda text: not re.search("[\ud800-\udbff][\udc00-\udfff]", text)
)
NUMBERS = st.floats(0, 1e6) | st.integers(0, 1000)
ROWS = st.lists(TEXTS, max_size=3).map(tuple)

taken = st.builds(
    Taken,
    stage=st.sampled_from(STAGES),
    points=NUMBERS,
    costs=st.none() | NUMBERS,
    rule=TEXTS,
    severity=st.sampled_from(SEVERITIES),
    line=st.none() | st.integers(1, 10**6),
    asked=TEXTS,
    message=TEXTS,
    to_do=ROWS,
    follows=ROWS,
    source=TEXTS,
    mistake=TEXTS,
)
stage_scores = st.lists(
    st.builds(StageScore, st.sampled_from(STAGES), NUMBERS, NUMBERS, st.booleans()),
    max_size=3,
    unique_by=lambda one: one.stage,
).map(tuple)
sheets = st.builds(
    Sheet,
    file=TEXTS,
    student=TEXTS,
    exercise=TEXTS,
    stages=stage_scores,
    taken=st.lists(taken, max_size=2).map(tuple),
    remarks=ROWS,
    refused=TEXTS,
    trace=st.builds(Trace, TEXTS, ROWS, ROWS),
)
