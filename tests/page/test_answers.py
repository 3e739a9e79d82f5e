"""The page is answered what the command line says."""

import json
import re

import pytest

import wirecheck
from tests.page.boards import RIGHT, WRONG, WRONG_LINE
from wirecheck.cli import _screen
from wirecheck.page import answers
from wirecheck.page.question import Question


def asked(text, **more):
    return json.loads(answers.board_answer("shed.wire", Question("shed.wire", text, **more)))


def measured(text, quantity, *points, **more):
    question = Question("shed.wire", text, quantity=quantity, points=points, **more)
    return json.loads(answers.meter_answer("shed.wire", question))


def test_a_wrong_board_has_the_findings_of_the_check():
    told = asked(WRONG)
    report = wirecheck.check(WRONG)
    assert [(one["rule"], one["line"]) for one in told["findings"]] == [
        (one.rule, one.line) for one in report.findings
    ]
    assert [one["says"][0] for one in told["findings"]] == [one.message for one in report.findings]
    assert not told["passes"] and not told["mends"]


@pytest.mark.slow
def test_the_mends_are_those_of_the_check_and_each_puts_it_right():
    told = asked(WRONG, mends=True)
    report = wirecheck.check(WRONG, effort=answers.EFFORT)
    assert [one["rule"] for one in told["findings"]] == [one.rule for one in report.findings]
    (finding,) = told["findings"]
    assert finding["severity"] == "hazard"
    assert [wirecheck.check(text).passes for text in finding["mended"]] == [True]
    assert finding["says"][:2] == ["At B, W2.black and W2.bare are swapped.", report.findings[0].message]
    assert told["verdict"] == "1 hazard." and not told["passes"]
    assert "conductor-W2.black" in told["marked"][str(WRONG_LINE)]


def test_as_many_mends_are_tried_as_by_the_check():
    assert answers.EFFORT == _screen.EFFORT


def test_every_line_that_stands_for_a_part_of_the_picture_is_on_it():
    told = asked(WRONG)
    ids = set(re.findall(r'<g id="([^"]*)"', told["picture"]["svg"]))
    assert set(told["lines"]) <= ids and "finding-1" in ids
    assert told["lines"]["terminal-L1.ground"] == WRONG_LINE
    assert told["picture"]["least"] <= told["picture"]["width"]


def test_a_switch_that_is_moved_shows_what_runs():
    off, on = (asked(RIGHT, power=True, moved={"S1": value})["power"] for value in ("off", "on"))
    assert ([row[1] for row in off["loads"]], [row[1] for row in on["loads"]]) == (["off"], ["runs"])
    assert on["state"] == wirecheck.energize(RIGHT, moved={"S1": "on"}).state
    assert 'class="edge live' in asked(RIGHT, power=True)["picture"]["svg"]
    assert "power" not in asked(RIGHT)


def test_what_the_text_no_longer_has_is_not_moved():
    assert asked(RIGHT, power=True, moved={"S9": "on", "S1": "sideways"}, calls=("heat",))["power"]["loads"]


@pytest.mark.parametrize(("text", "says"), [("", "there is nothing in it"), ('part x "X"', "it is a part")])
def test_what_is_no_board_is_said_to_be_none(text, says):
    assert says in asked(text)["refused"]
    assert says in measured(text, "volts", "a", "b")["refused"]


def test_the_meter_shows_what_measure_shows():
    told = measured(RIGHT, "volts", "LP.1", "LP.neutral", power=True)
    assert told["display"] == wirecheck.measure(RIGHT, "volts", "LP.1", "LP.neutral").text == "120 V"
    assert measured(RIGHT, "amps", "L1", power=True, moved={"S1": "on"})["display"] == "0.5 A"
    ohms = wirecheck.measure(RIGHT, "ohms", "LP.1", "W1.black@A").text
    assert measured(RIGHT, "ohms", "LP.1", "W1.black@A")["display"] == ohms


def test_ohms_on_a_live_circuit_are_a_danger_and_no_number():
    told = measured(RIGHT, "ohms", "LP.1", "LP.neutral", power=True)
    assert "burst in your hand" in told["danger"] and "display" not in told


def test_a_point_that_is_not_there_is_said_with_those_that_are():
    assert "S1" in measured(RIGHT, "volts", "S1.lin", "LP.neutral")["refused"]
    assert "two points" in measured(RIGHT, "volts", "LP.1")["refused"]


def test_a_switch_that_is_moved_with_the_power_off_is_drawn_and_measured_so():
    told = asked(RIGHT, moved={"S1": "off"})
    # What feeds the breakers is live yet, as in any panel, and nothing that comes after them.
    live = 'id="live-0-W1.black"'
    assert "power" not in told and live not in told["picture"]["svg"]
    assert live in asked(RIGHT, power=True)["picture"]["svg"]
    assert told["picture"]["svg"] != asked(RIGHT)["picture"]["svg"]
    at = ({"S1": "off"}, {"S1": "on"})
    ohms = [measured(RIGHT, "ohms", "S1.line", "S1.load", moved=moved)["display"] for moved in at]
    assert ohms == ["OL", "0 ohm"]


def test_a_reading_on_a_board_that_is_read_in_part_says_so():
    told = measured(f"{RIGHT}L2 is lampholder 60 W in\n", "volts", "LP.1", "LP.neutral", power=True)
    assert told["display"] == "120 V" and told["says"][-1].startswith("Not all of the text could be read")
    events = asked(f"{RIGHT}L2 is lampholder 60 W in\n", power=True)["power"]["events"]
    assert events[0].startswith("Not all of the text could be read")
