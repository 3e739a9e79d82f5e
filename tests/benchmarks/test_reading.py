"""How fast files are read, and that a line costs the same in a long file as in a short one."""

from pathlib import Path

import pytest

from wirecheck.language.reader import read

SAMPLE = (Path(__file__).parents[1] / "language" / "samples" / "cooling-call.wire").read_text()


@pytest.mark.parametrize("lines", [100, 1_000, 10_000, pytest.param(100_000, marks=pytest.mark.slow)])
def test_reading(benchmark, lines):
    some = SAMPLE.splitlines()
    text = "\n".join(some[number % len(some)] for number in range(lines))
    benchmark.extra_info["lines"] = lines
    rounds = max(1, min(20, 20_000 // lines))
    result = benchmark.pedantic(read, args=(text,), rounds=rounds, warmup_rounds=min(1, 1_000 // lines))
    assert result.problems == ()
    assert len(result.statements) == sum(1 for line in text.split("\n") if line)
