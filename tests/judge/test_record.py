"""Records: what they hold, refuse and compare."""

from __future__ import annotations

import copy
import pickle

import pytest

from wirecheck.judge.record import Record


class Wire(Record):
    """A record with a field that must be given."""

    name: str
    color: str = "black"


class Cable(Wire):
    """A record with one more, and another default."""

    cores: int
    color: str = "white"


def test_fields_are_those_of_the_base_first() -> None:
    assert (Wire.fields, Cable.fields) == (("name", "color"), ("name", "color", "cores"))
    assert Wire(name="W1").color == "black" and Cable(name="W2", cores=2).color == "white"


@pytest.mark.parametrize(
    ("kind", "values", "said"),
    [
        (Wire, {}, "a Wire needs name"),
        (Cable, {"color": "red"}, "a Cable needs name, cores"),
        (Wire, {"name": "W1", "cores": 2}, "a Wire has no cores"),
    ],
)
def test_what_lacks_or_is_too_much_is_refused(
    kind: type[Record], values: dict[str, object], said: str
) -> None:
    with pytest.raises(TypeError, match=said):
        kind(**values)


def test_it_does_not_change_and_gives_another_that_differs() -> None:
    wire = Wire(name="W1")
    for change in (lambda: setattr(wire, "color", "red"), lambda: delattr(wire, "name")):
        with pytest.raises(AttributeError, match="a Wire does not change"):
            change()
    assert wire.but(color="red") == Wire(name="W1", color="red")
    assert (wire.name, wire.color) == ("W1", "black")


def test_records_are_equal_by_kind_and_values() -> None:
    assert Wire(name="W1") == Wire(name="W1", color="black") != Wire(name="W2")
    assert Cable(name="W1", cores=2, color="black") != Wire(name="W1")
    assert hash(Wire(name="W1")) == hash(Wire(name="W1", color="black"))
    assert len({Wire(name="W1"), Wire(name="W1"), Wire(name="W2")}) == 2


def test_a_record_can_be_copied_and_sent_to_another_process() -> None:
    cable = Cable(name="W1", cores=3)
    assert copy.deepcopy(cable) == pickle.loads(pickle.dumps(cable)) == cable
    assert repr(cable) == "Cable(name='W1', color='white', cores=3)"
