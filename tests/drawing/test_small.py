"""A part in a list is drawn by its signs, within its frame."""

import re

import pytest

import wirecheck
from wirecheck.drawing.small import small_picture


@pytest.mark.parametrize("part", ["lampholder", "3-way-switch", "disconnect-3-pole", "gas-furnace"])
def test_a_small_picture_holds_all_its_strokes(part):
    device = wirecheck.assemble(f'board "One"\nD1 is {part}')[1].devices["D1"]
    svg = small_picture(device)
    left, top, wide, high = map(float, re.search(r'viewBox="([^"]*)"', svg)[1].split())
    for way in re.findall(r' d="([^"]*)"', svg):
        numbers = [float(one) for one in re.findall(r"-?\d+\.\d", way)]
        assert all(left <= x <= left + wide for x in numbers[::2])
        assert all(top <= y <= top + high for y in numbers[1::2])
    assert svg.count("<path") >= 1


def test_what_has_no_sign_has_no_picture():
    device = wirecheck.assemble('board "One"\nD1 is junction')[1].devices["D1"]
    assert small_picture(device) == ""
