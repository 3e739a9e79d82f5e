"""Whether a pigtail is as thick as its circuit asks; NEC 2023 240.4(D), 210.19(D), Table 250.122."""

from __future__ import annotations

import pytest

from tests.rules.hands import at, changed, own, reported, seen, shipped
from tests.samples import fed
from wirecheck.rules.pigtail_size import RULE

RIGHT = shipped("pigtail-size")


def tail(size: str, amps: str, screw: str) -> str:
    text = changed(RIGHT, (f"pigtail 12 -- R1.{screw}", f"pigtail{size} -- R1.{screw}"))
    return changed(text, ("LP.3 20 A", f"LP.3 {amps}"))


# NEC 240.4(D): 14 AWG copper at 15 A, 12 at 20 A, 10 at 30 A. What is as thick as the cable is right.
@pytest.mark.parametrize(
    ("size", "amps", "least"),
    [
        ("", "20 A", None),
        (" 14", "15 A", None), (" 14", "20 A", "12"), (" 12", "20 A", None), (" 10", "20 A", None),
        (" 14 AWG", "20 A", "12"), (" 16", "15 A", "14"), (" 18", "20 A", "12"),
        (" 12", "30 A", None),
    ],
)  # fmt: skip
@pytest.mark.parametrize("screw", ["hot", "neutral"])
def test_a_tail_by_its_breaker(size: str, amps: str, least: str | None, screw: str) -> None:
    text = tail(size, amps, screw)
    found = seen(RULE, text)
    assert [one.least for one in found] == ([] if least is None else [least])
    for one in found:
        assert (one.severity, one.stage, one.subject, one.tap) == ("violation", "trim", f"R1.{screw}", False)
        assert f"-- pigtail{size} --" in at(text, one)


# NEC Table 250.122: 14 AWG copper at 15 A, 12 at 20 A; no larger than the circuit's own (250.122(A)).
@pytest.mark.parametrize(
    ("size", "amps", "least"),
    [(" 14", "15 A", None), (" 14", "20 A", "12"), (" 12", "20 A", None), (" 12", "70 A", None),
     (" 14", "70 A", "12"), ("", "20 A", None)],
)  # fmt: skip
def test_the_tail_of_a_ground(size: str, amps: str, least: str | None) -> None:
    found = seen(RULE, tail(size, amps, "ground"))
    assert [(one.least, one.tap) for one in found] == ([] if least is None else [(least, False)])


LIGHT = own("pigtail-size", "light")


# NEC 210.19(D): taps to a light for 15 A, from circuits of 40 A on for 20 A.
@pytest.mark.parametrize(
    ("size", "cable", "amps", "least"),
    [
        ("16", "12", "20 A", "14"), ("14", "12", "20 A", None), ("14", "10", "30 A", None),
        ("14", "8", "40 A", "12"), ("12", "8", "40 A", None), ("16", "14", "15 A", "14"),
    ],
)  # fmt: skip
def test_a_tail_to_one_light_may_be_thinner(size: str, cable: str, amps: str, least: str | None) -> None:
    text = changed(LIGHT, ("pigtail 16", f"pigtail {size}"), ("LP.3 20 A", f"LP.3 {amps}"))
    text = text.replace("12/2", f"{cable}/2")
    found = [one for one in seen(RULE, text) if one.subject == "L1.hot"]
    assert [(one.least, one.tap) for one in found] == ([] if least is None else [(least, True)])


@pytest.mark.parametrize(
    ("code", "section"), [("2017", "210.19(A)(4)"), ("2020", "210.19(A)(4)"), ("2023", "210.19(D)")]
)
def test_each_edition_has_its_section(code: str, section: str) -> None:
    (found,) = seen(RULE, changed(LIGHT, ("panel LP", f"code nec {code}\npanel LP")))
    assert found.source == f"NEC {code} {section}"


def test_a_tail_to_a_switch_of_a_light_is_none() -> None:
    text = changed(
        LIGHT,
        ("L1 is lampholder 60 W in A", "S1 is single-pole-switch in A"),
        ("L1.hot", "S1.line"), ("L1.neutral", "S1.load"), ("L1.ground", "S1.ground"),
    )  # fmt: skip
    assert {(one.subject, one.least) for one in seen(RULE, text)} == {("S1.line", "12"), ("S1.load", "12")}


def test_a_thin_tail_is_one_mistake() -> None:
    assert reported(LIGHT) == ["pigtail-size"]
    assert reported(own("pigtail-size", "ground")) == ["pigtail-size"]


def test_what_no_breaker_protects_is_not_judged() -> None:
    text = changed(RIGHT, ("  W1.black -- LP.3\n", ""), ("pigtail 12 -- R1.hot", "pigtail 14 -- R1.hot"))
    assert not seen(RULE, text)


# NEC 430.72(B), in the enclosure: 14 AWG behind 100 A, 18 behind 25 A; 724.45 (from memory): 14 AWG behind
# three times its ampacity where no motor is on the circuit, and no thinner.
@pytest.mark.parametrize(
    ("load", "size", "amps", "found"),
    [
        ("fan-motor 8 A", "14", 30, 0),
        ("fan-motor 8 A", "18", 25, 0),
        ("fan-motor 8 A", "18", 30, 1),
        ("heater 1500 W", "14", 20, 0),
        ("heater 1500 W", "14", 45, 0),
        ("heater 1500 W", "14", 50, 1),
        ("heater 1500 W", "16", 20, 1),
    ],
)
@pytest.mark.parametrize("screw", ["TH.a", "K.A2", "K.L1"])
def test_a_tail_to_the_coil_of_a_contactor(load: str, size: str, amps: int, found: int, screw: str) -> None:
    """What goes on to the load by the contactor is no control circuit, whatever the coil beside it is."""
    tails = {one: f"pigtail {size if one == screw else 6}" for one in ("TH.a", "K.A2", "K.L1")}
    text = fed(
        f"breaker LP.2 {amps} A 2-pole",
        "box U junction 300 cu in",
        "K is contactor-2-pole 30 A with coil 240 V in U",
        "TH is cooling-thermostat in U",
        f"H is {load} in U",
        "cable W1 6/2 NM-B 20 ft from LP to U",
        "at LP",
        "  W1.black -- LP.2.a",
        "  W1.white marked red -- LP.2.b",
        "at U",
        f"  W1.black -- {tails['K.L1']} -- K.L1 -- {tails['TH.a']} -- TH.a",
        "  TH.b -- K.A1",
        f"  W1.white marked red -- pigtail 6 -- K.L2 -- {tails['K.A2']} -- K.A2",
        "  K.T1 -- H.a",
        "  K.T2 -- H.b",
    )
    assert len(seen(RULE, text)) == (1 if screw == "K.L1" else found)
