"""Every single mistake that hands can make on a board: each as the name of its kind, its words, the board.

A mistake is one act: one wire put elsewhere, two exchanged, one thing forgotten, one thing bought in
the wrong size. What comes out may be right all the same; the oracle decides that.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Iterator
from typing import NamedTuple

from tests.boards.work import Join, Work

Change = Iterator[tuple[str, Work]]


class Mutant(NamedTuple):
    kind: str
    words: str
    work: Work


def mutants(work: Work) -> Iterator[Mutant]:
    """All single mistakes on a board, in a fixed order; none is the board itself."""
    for mistake in MISTAKES:
        for words, changed in mistake(work):
            yield Mutant(mistake.__name__.replace("_", " "), words, changed)


def _screws(work: Work) -> dict[str, list[str]]:
    """Every screw of each place, whether or not something is on it."""
    from tests.boards.oracle import KINDS

    told: dict[str, list[str]] = {}
    for panel in work.panels:
        told[panel] = [f"{panel}.neutral", f"{panel}.ground"]
        told[panel] += [f"{panel}.a", f"{panel}.b"] if panel in work.subpanels else []
    for breaker in work.breakers:
        told[breaker.name.rpartition(".")[0]] += breaker.poles
        if {"gfci", "afci"} & set(breaker.flags):
            told[breaker.name.rpartition(".")[0]].append(f"{breaker.name}.neutral")
    for device in work.devices:
        for screw in KINDS[device.part].roles:
            told.setdefault(device.place or device.name, []).append(f"{device.name}.{screw}")
    for box in work.boxes:
        if "metal" in box.flags:
            told.setdefault(box.name, []).append(f"{box.name}.ground")
    return told


def _is_bar(screw: str, work: Work) -> bool:
    return screw.rpartition(".")[0] in work.panels and screw.endswith(("neutral", "ground"))


def _take(work: Work, at: int, name: str) -> tuple[str | None, str | None]:
    """Take a wire's end out of a join. A splice of one is no splice; a tail with nothing goes too."""
    join = work.joins[at]
    member = next(one for one in join.members if one[0] == name)
    join.members.remove(member)
    if not any(one in wires for one in (name for name, _ in join.members) for wires in [work.conductors()]):
        tails = [one for one in join.members if one[0] is not None]
        join.members[:] = tails if len(tails) < 2 else join.members
    return member


def _put(work: Work, at: int, member: tuple[str | None, str | None]) -> None:
    """Put a wire's end into a join, beside the wires that are there."""
    join = work.joins[at]
    wires = work.conductors()
    index = max((i + 1 for i, (name, _) in enumerate(join.members) if name in wires), default=0)
    join.members.insert(index, member)


def _ends(work: Work) -> list[tuple[int, str]]:
    wires = work.conductors()
    return [
        (at, name)
        for at, join in enumerate(work.joins)
        for name, _ in join.members
        if name is not None and name in wires
    ]


# -------------------------------------------------------------------- ends


def end_moved(work: Work, screws: dict[str, list[str]] | None = None) -> Change:
    """A wire's end is put into another join, or under another screw, of the same box."""
    screws = _screws(work) if screws is None else screws
    for at, name in _ends(work):
        place = work.joins[at].place
        for to, join in enumerate(work.joins):
            bar = any(one is not None and _is_bar(one, work) for one, _ in join.members)
            if to == at or join.place != place or bar:
                continue
            changed = work.copy()
            _put(changed, to, _take(changed, at, name))
            yield f"{name} moved to {join.line().strip()} in {place}", changed
        used = {one for join in work.joins for one, _ in join.members}
        for screw in screws.get(place, []):
            here = any(one == screw for one, _ in work.joins[at].members)
            if here or (screw in used and not _is_bar(screw, work)):
                continue
            changed = work.copy()
            member = _take(changed, at, name)
            changed.joins.append(Join(place, [member, (screw, None)]))
            yield f"{name} moved to {screw}", changed


def ends_exchanged(work: Work) -> Change:
    """Two wires' ends in one box change places, each with its mark."""
    for (at, one), (to, other) in itertools.combinations(_ends(work), 2):
        if at == to or work.joins[at].place != work.joins[to].place:
            continue
        changed = work.copy()
        first, second = changed.joins[at].members, changed.joins[to].members
        i = next(i for i, member in enumerate(first) if member[0] == one)
        j = next(j for j, member in enumerate(second) if member[0] == other)
        first[i], second[j] = second[j], first[i]
        yield f"{one} and {other} exchanged in {work.joins[at].place}", changed


def screws_exchanged(work: Work) -> Change:
    """What is on two screws of one box changes places: tails and all."""
    wires = work.conductors()
    places = [
        (at, i, name)
        for at, join in enumerate(work.joins)
        for i, (name, _) in enumerate(join.members)
        if name is not None and name not in wires
    ]
    for (at, i, one), (to, j, other) in itertools.combinations(places, 2):
        if at == to or work.joins[at].place != work.joins[to].place or one == other:
            continue
        if len(work.joins[at].members) == 2 and len(work.joins[to].members) == 2:
            continue  # the same as two ends exchanged
        changed = work.copy()
        first, second = changed.joins[at].members, changed.joins[to].members
        first[i], second[j] = second[j], first[i]
        yield f"{one} and {other} exchanged", changed


def screw_mistaken(work: Work) -> Change:
    """A tail or wire goes to an empty screw instead of its own."""
    used = {name for join in work.joins for name, _ in join.members}
    wires = work.conductors()
    screws = _screws(work)
    for at, join in enumerate(work.joins):
        for i, (name, _) in enumerate(join.members):
            if name is None or name in wires or len(join.members) == 2:
                continue
            for screw in screws.get(join.place, []):
                if screw not in used:
                    changed = work.copy()
                    changed.joins[at].members[i] = (screw, None)
                    yield f"{screw} in place of {name}", changed


def end_left_loose(work: Work) -> Change:
    """A wire's end comes off its screw, or out of its splice."""
    for at, name in _ends(work):
        changed = work.copy()
        _take(changed, at, name)
        yield f"{name} left loose in {work.joins[at].place}", changed


def end_capped(work: Work) -> Change:
    """A wire's end is capped as a spare instead of being joined."""
    for at, name in _ends(work):
        changed = work.copy()
        _take(changed, at, name)
        changed.caps.append((work.joins[at].place, name))
        yield f"{name} capped in {work.joins[at].place}", changed


def join_forgotten(work: Work) -> Change:
    """A whole join is not made."""
    for at, join in enumerate(work.joins):
        changed = work.copy()
        del changed.joins[at]
        yield f"{join.line().strip()} not made in {join.place}", changed


def tail_forgotten(work: Work) -> Change:
    """A tail is not brought to its screw."""
    for at, join in enumerate(work.joins):
        for i, (name, _) in enumerate(join.members[:-1]):
            if name is None:
                changed = work.copy()
                del changed.joins[at].members[i : i + 2]
                yield f"no tail to {join.members[i + 1][0]}", changed


def no_pigtail(work: Work) -> Change:
    """The wires of a splice are put under the screw themselves."""
    for at, join in enumerate(work.joins):
        if sum(name is None for name, _ in join.members) == 1:
            changed = work.copy()
            changed.joins[at].members = [one for one in join.members if one[0] is not None]
            yield f"{join.line().strip()} without its pigtail", changed


def cap_forgotten(work: Work) -> Change:
    """A spare is not capped."""
    for i, (place, name) in enumerate(work.caps):
        changed = work.copy()
        del changed.caps[i]
        yield f"{name} not capped in {place}", changed


def spare_joined(work: Work) -> Change:
    """A spare is put into one of the joins instead of being capped."""
    for i, (place, name) in enumerate(work.caps):
        for at, join in enumerate(work.joins):
            if join.place == place:
                changed = work.copy()
                del changed.caps[i]
                _put(changed, at, (name, None))
                yield f"{name} joined to {join.line().strip()}", changed


# ------------------------------------------------------------ marks, colors


def mark_forgotten(work: Work) -> Change:
    """A white that serves as a hot is not marked at this end."""
    for at, join in enumerate(work.joins):
        for i, (name, mark) in enumerate(join.members):
            if name is not None and mark:
                changed = work.copy()
                changed.joins[at].members[i] = (name, None)
                yield f"{name} not marked in {join.place}", changed


def mark_mistaken(work: Work) -> Change:
    """A neutral is marked as a hot."""
    wires = work.conductors()
    for at, join in enumerate(work.joins):
        for i, (name, mark) in enumerate(join.members):
            if name in wires and wires[name][1] == "white" and not mark and not wires[name][0].low:
                changed = work.copy()
                changed.joins[at].members[i] = (name, "black")
                yield f"{name} marked black in {join.place}", changed


def colors_exchanged(work: Work) -> Change:
    """Two conductors of a cable are taken for one another at both ends; marks stay on the white."""
    for cable in work.cables:
        for one, other in itertools.combinations(cable.conductors(), 2):
            changed = work.copy()
            names = {one: other, other: one}
            for join in changed.joins:
                whites = [mark for name, mark in join.members if name in names and mark]
                for i, (name, _) in enumerate(join.members):
                    if name in names:
                        new = names[name]
                        join.members[i] = (new, whites[0] if whites and new.endswith("white") else None)
            changed.caps = [(place, names.get(name, name)) for place, name in changed.caps]
            yield f"{one} and {other} exchanged at both ends", changed


def wire_color(work: Work) -> Change:
    """A single wire is pulled in another color."""
    for i, cable in enumerate(work.cables):
        for color in ("black", "white", "green", "red"):
            if cable.color is not None and color != cable.color:
                changed = work.copy()
                changed.cables[i].color = color
                yield f"{cable.name} in {color}", changed


# -------------------------------------------------- sizes, ratings, lengths


def cable_size(work: Work) -> Change:
    """A cable of another size."""
    for i, cable in enumerate(work.cables):
        for size in ("14", "12", "10", "8"):
            if size != cable.size and not cable.low:
                changed = work.copy()
                changed.cables[i].size = size
                yield f"{cable.name} of {size} AWG", changed


def cable_aluminum(work: Work) -> Change:
    """A cable of aluminum."""
    for i, cable in enumerate(work.cables):
        if not cable.low and cable.size != "14":
            changed = work.copy()
            changed.cables[i].aluminum = True
            yield f"{cable.name} of aluminum", changed


def breaker_rating(work: Work) -> Change:
    """A breaker of another rating."""
    for i, breaker in enumerate(work.breakers):
        for amps in (15, 20, 25, 30, 40, 50, 60):
            if amps != breaker.amps:
                changed = work.copy()
                changed.breakers[i].amps = amps
                yield f"{breaker.name} of {amps} A", changed


def tie_left_out(work: Work) -> Change:
    """Two single breakers in place of a two-pole one, or of two that are tied."""
    for i, breaker in enumerate(work.breakers):
        if breaker.tied:
            changed = work.copy()
            changed.breakers[i].tied = None
            yield f"no tie on {breaker.name}", changed
        if "2-pole" in breaker.flags:
            changed = work.copy()
            panel = breaker.name.rpartition(".")[0]
            names = dict(zip(breaker.poles, (f"{panel}.41", f"{panel}.43"), strict=True))
            names[f"{breaker.name}.neutral"] = f"{panel}.41.neutral"
            first, second = changed.breakers[i], work.copy().breakers[i]
            for one, name in ((first, f"{panel}.41"), (second, f"{panel}.43")):
                one.name = name
                one.flags.remove("2-pole")
            changed.breakers.insert(i + 1, second)
            for join in changed.joins:
                join.members[:] = [(names.get(name or "", name), mark) for name, mark in join.members]
            yield f"two single breakers for {breaker.name}", changed


def leg_mistaken(work: Work) -> Change:
    """A breaker on the other leg."""
    for i, breaker in enumerate(work.breakers):
        if "2-pole" not in breaker.flags:
            changed = work.copy()
            changed.breakers[i].leg = "b" if breaker.legs() == ["a"] else "a"
            yield f"{breaker.name} on the other leg", changed


def measure(work: Work) -> Change:
    """A wire cut short, a jacket outside, a staple too far: each measure past its limit, and just at it."""
    limits = {"free": (5.5, 6), "jacket": (0.125, 0.25), "secured": (13, 8), "every": (60, 54)}
    for i, cable in enumerate(work.cables):
        if cable.low:
            continue
        for end in (0, 1):
            for name, values in limits.items():
                for value in values:
                    changed = work.copy()
                    changed.cables[i].ends[end][1][name] = value
                    yield f"{name} {value:g} in of {cable.name} at {cable.ends[end][0]}", changed
            if "bend" in cable.ends[end][1]:
                across = next(one["diameter"] for _, one in cable.ends if "diameter" in one)
                for share in (4.5, 5):
                    changed = work.copy()
                    changed.cables[i].ends[end][1]["bend"] = share * across
                    yield f"bend {share * across:g} in of {cable.name} at {cable.ends[end][0]}", changed
            changed = work.copy()
            changed.cables[i].ends[end][1]["secured"] = 10
            yield f"secured 10 in of {cable.name} at {cable.ends[end][0]}", changed


def box_volume(work: Work) -> Change:
    """A smaller box, or a larger one."""
    for i, box in enumerate(work.boxes):
        if box.volume:
            for part in (0.3, 0.6, 0.8, 0.9, 1.2):
                changed = work.copy()
                changed.boxes[i].volume = round(box.volume * part, 2)
                yield f"{box.name} of {box.volume * part:.2f} cu in", changed


def box_clamps(work: Work) -> Change:
    """A box with clamps for one without, or the other way."""
    for i, box in enumerate(work.boxes):
        changed = work.copy()
        flags = changed.boxes[i].flags
        if "clamps" in flags:
            flags.remove("clamps")
        else:
            flags.append("clamps")
        yield f"{box.name} {'with' if 'clamps' in flags else 'without'} clamps", changed


def cable_length(work: Work) -> Change:
    """A run far longer than planned; what it loses is advice as long as things work."""
    for i, cable in enumerate(work.cables):
        if not cable.low:
            changed = work.copy()
            changed.cables[i].feet = 2 * cable.feet
            yield f"{cable.name} of {2 * cable.feet:g} ft", changed
            changed = work.copy()
            changed.cables[i].feet = 9000
            yield f"{cable.name} of 9000 ft", changed


# ----------------------------------------------------------------- devices


def _renamed(work: Work, names: dict[str, str]) -> None:
    for join in work.joins:
        join.members[:] = [(names.get(name or "", name), mark) for name, mark in join.members]


def line_and_load(work: Work) -> Change:
    """Everything on the line screws of a device is on its load screws, and the other way."""
    pairs = {
        "gfci-receptacle": (("line-hot", "load-hot"), ("line-neutral", "load-neutral")),
        "afci-gfci-receptacle": (("line-hot", "load-hot"), ("line-neutral", "load-neutral")),
        "gfci-blank": (("line-hot", "load-hot"), ("line-neutral", "load-neutral")),
        "single-pole-switch": (("line", "load"),),
        "dimmer": (("line", "load"),),
        "fan-control": (("line", "load"),),
        "occupancy-sensor": (("line", "load"),),
        "occupancy-sensor-no-neutral": (("line", "load"),),
        "digital-timer": (("line", "load"),),
        "photocell": (("line", "load"),),
        "pilot-light-switch": (("line", "load"),),
        "switch-and-receptacle": (("hot", "load"),),
        "split-switch-and-receptacle": (("line", "load"),),
        "time-clock": (("line-1", "load-1"), ("line-2", "load-2")),
        "pump-pressure-switch": (("line-1", "load-1"), ("line-2", "load-2")),
        "pump-float": (("line", "load"),),
        "disconnect-2-pole": (("line-1", "load-1"), ("line-2", "load-2")),
        "double-pole-switch": (("line-1", "load-1"), ("line-2", "load-2")),
        "line-voltage-thermostat": (("line-1", "load-1"), ("line-2", "load-2")),
        "4-way-switch": (("in-1", "out-1"), ("in-2", "out-2")),
        "contactor-2-pole": (("L1", "T1"), ("L2", "T2")),
    }
    for device in work.devices:
        names = {}
        for a, b in pairs.get(device.part, ()):
            names |= {f"{device.name}.{a}": f"{device.name}.{b}", f"{device.name}.{b}": f"{device.name}.{a}"}
        if names:
            changed = work.copy()
            _renamed(changed, names)
            yield f"line and load of {device.name} exchanged", changed


def tab(work: Work) -> Change:
    """The tab left in where the halves are fed apart."""
    for i, device in enumerate(work.devices):
        if device.part == "split-receptacle":
            changed = work.copy()
            changed.devices[i].part = "duplex-receptacle"
            top, bottom = f"{device.name}.hot-top", f"{device.name}.hot-bottom"
            _renamed(changed, {top: f"{device.name}.hot", bottom: f"{device.name}.hot"})
            yield f"the tab of {device.name} left in", changed
        if device.part == "duplex-receptacle":
            changed = work.copy()
            changed.devices[i].part = "split-receptacle"
            _renamed(changed, {f"{device.name}.hot": f"{device.name}.hot-top"})
            yield f"the tab of {device.name} broken out", changed


def receptacle_rating(work: Work) -> Change:
    """A receptacle of the other rating."""
    for i, device in enumerate(work.devices):
        if device.part in ("duplex-receptacle", "split-receptacle", "gfci-receptacle"):
            now = device.values[0] if device.values else 15
            changed = work.copy()
            changed.devices[i].values = [35 - now]
            changed.devices[i].settings = f"with current {35 - now:g} A"
            yield f"{device.name} of {35 - now:g} A", changed


def control_mistaken(work: Work) -> Change:
    """A dimmer where the speed control of a fan should be, and the other way."""
    other = {"dimmer": "fan-control", "fan-control": "dimmer"}
    for i, device in enumerate(work.devices):
        if device.part in other:
            changed = work.copy()
            changed.devices[i].part = other[device.part]
            yield f"{device.name} is a {other[device.part]}", changed


def breaker_plain(work: Work) -> Change:
    """A plain breaker in place of a ground-fault one, with the white on the neutral bar."""
    for i, breaker in enumerate(work.breakers):
        if "gfci" in breaker.flags:
            changed = work.copy()
            changed.breakers[i].flags.remove("gfci")
            _renamed(changed, {f"{breaker.name}.neutral": f"{breaker.name.rpartition('.')[0]}.neutral"})
            yield f"{breaker.name} is a plain breaker", changed


def box_wet(work: Work) -> Change:
    """A box where rain comes in."""
    for i, box in enumerate(work.boxes):
        changed = work.copy()
        changed.boxes[i].flags = [flag for flag in box.flags if flag != "wet"]
        changed.boxes[i].flags += [] if "wet" in box.flags else ["wet"]
        yield f"{box.name} {'dry' if 'wet' in box.flags else 'wet'}", changed


def heater_size(work: Work) -> Change:
    """A heater of more watts, each of a size that is sold."""
    for i, device in enumerate(work.devices):
        if device.part in ("baseboard-heater", "heater"):
            for watts in (2000.0, 2500.0, 3750.0, 5000.0, 7500.0):
                if device.values[:1] == [watts]:
                    continue
                changed = work.copy()
                changed.devices[i].values = [watts, *device.values[1:]]
                volts = "".join(f" {value:g} V" for value in device.values[1:])
                changed.devices[i].settings = f"{watts:g} W{volts}"
                yield f"{device.name} of {watts:g} W", changed


def _set_to(work: Work, i: int, name: str, value: str) -> Work:
    """The board with one setting of a device at another value."""
    changed = work.copy()
    device = changed.devices[i]
    device.settings = re.sub(rf"\b{name} [\d.]+", f"{name} {value}", device.settings)
    return changed


def coil_mistaken(work: Work) -> Change:
    """A contactor with a coil for other volts."""
    for i, device in enumerate(work.devices):
        for volts in ("24", "120", "208", "240", "277"):
            if device.part.startswith("contactor") and f"coil {volts} V" not in device.settings:
                yield f"{device.name} with a coil of {volts} V", _set_to(work, i, "coil", volts)


def contactor_rating(work: Work) -> Change:
    """A contactor of another rating."""
    for i, device in enumerate(work.devices):
        for amps in (25, 40, 60):
            if device.part.startswith("contactor") and device.values[0] != amps:
                changed = work.copy()
                changed.devices[i].settings = re.sub(r"^[\d.]+ A", f"{amps} A", device.settings)
                changed.devices[i].values = [amps, *device.values[1:]]
                yield f"{device.name} of {amps} A", changed


def lamp_mistaken(work: Work) -> Change:
    """Other lamps in a light whose label says how large they may be; more of them where it has several."""
    for i, device in enumerate(work.devices):
        for watts in ("40", "60", "75", "100"):
            if device.part == "multi-lamp-luminaire":
                yield f"{device.name} with lamps of {watts} W", _set_to(work, i, "power", watts)
            elif device.part == "recessed-luminaire":
                changed = work.copy()
                changed.devices[i].settings = re.sub(r"^[\d.]+ W", f"{watts} W", device.settings)
                changed.devices[i].values = [float(watts), *device.values[1:]]
                yield f"{device.name} with a lamp of {watts} W", changed
        if device.part == "multi-lamp-luminaire":
            yield f"{device.name} of eight lamps", _set_to(work, i, "lamps", "8")


def cable_kind(work: Work) -> Change:
    """The outdoor cable indoors, where a light asks for wires that stand its heat."""
    if any("supply" in device.settings for device in work.devices):
        for i, cable in enumerate(work.cables):
            if cable.kind == "NM-B":
                changed = work.copy()
                changed.cables[i].kind = "UF-B"
                yield f"{cable.name} is UF-B", changed


def connector_mistaken(work: Work) -> Change:
    """Another of the connectors that the board speaks of, or one that it says nothing of."""
    known = [line.split()[1] for line in work.head if line.startswith("connector ")]
    for at, join in enumerate(work.joins):
        for i, option in enumerate(join.options):
            if option.startswith("connector "):
                for other in (*known, ""):
                    if option != f"connector {other}":
                        changed = work.copy()
                        changed.joins[at].options[i : i + 1] = [f"connector {other}"] if other else []
                        yield f"{other or 'no'} connector on {join.line().strip()}", changed


def tail_size(work: Work) -> Change:
    """A tail cut from a length of other wire."""
    for at, join in enumerate(work.joins):
        for i, (name, mark) in enumerate(join.members):
            for size in ("18", "16", "12") if name is None and mark else ():
                changed = work.copy()
                changed.joins[at].members[i] = (None, size)
                yield f"a tail of {size} AWG in {join.line().strip()}", changed


def pushed_in(work: Work) -> Change:
    """A wire goes into the hole beside its screw, or under the screw: on boards that speak of holes."""
    if any("push-in" in join.options for join in work.joins):
        wires = work.conductors()
        for at, join in enumerate(work.joins):
            changed = work.copy()
            if "push-in" in join.options:
                changed.joins[at].options.remove("push-in")
                yield f"{join.line().strip()} under the screw", changed
            elif (
                not join.options
                and len(join.members) == 2
                and join.place not in work.panels
                and sum(name in wires for name, _ in join.members) == 1
            ):
                changed.joins[at].options.append("push-in")
                yield f"{join.line().strip()} pushed in", changed


def box_addition(work: Work) -> Change:
    """A ring or an extension that is not put on a box."""
    for i, box in enumerate(work.boxes):
        for j, (words, _) in enumerate(box.added):
            changed = work.copy()
            del changed.boxes[i].added[j]
            yield f"no {words} on {box.name}", changed


def new_work(work: Work) -> Change:
    """An outlet of three wires that was not found so."""
    for i, device in enumerate(work.devices):
        if "existing" in device.settings.split():
            changed = work.copy()
            left = [word for word in device.settings.split() if word != "existing"]
            changed.devices[i].settings = " ".join(left)
            yield f"{device.name} is new work", changed


MISTAKES: tuple[Callable[[Work], Change], ...] = (
    end_moved,
    ends_exchanged,
    screws_exchanged,
    screw_mistaken,
    end_left_loose,
    end_capped,
    join_forgotten,
    tail_forgotten,
    no_pigtail,
    cap_forgotten,
    spare_joined,
    mark_forgotten,
    mark_mistaken,
    colors_exchanged,
    wire_color,
    cable_size,
    cable_aluminum,
    breaker_rating,
    tie_left_out,
    leg_mistaken,
    measure,
    box_volume,
    box_clamps,
    cable_length,
    line_and_load,
    tab,
    receptacle_rating,
    control_mistaken,
    breaker_plain,
    box_wet,
    heater_size,
    coil_mistaken,
    contactor_rating,
    lamp_mistaken,
    cable_kind,
    connector_mistaken,
    tail_size,
    pushed_in,
    box_addition,
    new_work,
)
