"""Where volts tell nothing more, ohms with the power off do, and a wire is lifted where it must be."""

from __future__ import annotations

from tests.troubles.test_diagnosis import shop_of
from wirecheck.faults.listed import fault
from wirecheck.judge.state_name import StateName
from wirecheck.report import diagnosed
from wirecheck.troubles.diagnosis import diagnosis
from wirecheck.troubles.observed import Look, Read, read
from wirecheck.troubles.trials import Tried


def test_a_welded_thermostat_is_told_from_a_shorted_cable_by_lifting_a_wire() -> None:
    """Both call for heat at rest. With the cable off its screw the thermostat is alone (common practice)."""
    shop = shop_of("heating-call")
    good = shop.good.circuit
    rest = StateName()
    told = diagnosis(
        shop,
        [
            Look(rest, "F.blower", "ran", True),
            Read(rest, "volts", ("F.W", "F.C"), 27.0),
            Read(rest, "volts", ("TS.R", "TS.W"), 0.0),
        ],
    )
    alike = {fault("short TW.red to TW.white at F", good), fault("TS stuck closed", good)}
    assert {one.faults[0] for one in told.explanations} == alike
    assert told.next is None and told.cold is not None
    assert (told.cold.a, told.cold.b, told.cold.lifted) == ("TS.R", "TS.W", ("TW.red@TS",))
    words = " ".join(diagnosed.text(shop, told, out=False).split())
    assert (
        "Turn the power off, prove at TS that it is dead, and lift TW.red. Then measure ohms from TS.R"
        in words
    )
    assert diagnosed.as_data(shop, told)["next"]["lifted"] == ["TW.red@TS"]
    # With the meter there, only the one that it is is left.
    for truth in alike:
        bad = Tried(shop.board, (truth,))
        one = Read(rest, "ohms", ("TS.R", "TS.W"), None, "off", ("TW.red@TS",))
        value = read(bad.case, one).value
        left = diagnosis(shop, [Look(rest, "F.blower", "ran", True), one._replace(value=value)])
        assert truth in [each.faults[0] for each in left.explanations]
        assert not alike.difference({truth}) & {each.faults[0] for each in left.explanations}
