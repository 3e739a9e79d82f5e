"""The usual colors of thermostat wires, as the trade has them (common practice)."""

import pytest

from wirecheck.files import table_rows
from wirecheck.parts.part import CARRIES
from wirecheck.tables.thermostat_colors import usual_colors, usually_carries


@pytest.mark.parametrize(
    ("carries", "colors"),
    [
        ("power", "red"),
        ("common", "blue black"),
        ("heat", "white"),
        ("second-heat", ""),
        ("cool", "yellow"),
        ("second-cool", ""),
        ("fan", "green"),
        ("changeover-cool", "orange"),
        ("changeover-heat", "brown blue"),
    ],
)
def test_what_each_wire_is_pulled_in(carries: str, colors: str) -> None:
    assert usual_colors(carries) == tuple(colors.split())


def test_a_color_says_what_it_is_the_most_usual_for() -> None:
    colors = ("red", "white", "yellow", "green", "blue", "orange", "brown", "black", "pink")
    assert [usually_carries(color) for color in colors] == [
        *("power", "heat", "cool", "fan", "common", "changeover-cool", "changeover-heat", None, None)
    ]


def test_the_table_uses_the_words_of_the_parts() -> None:
    assert {row["carries"] for row in table_rows("thermostat_colors")} <= set(CARRIES)
