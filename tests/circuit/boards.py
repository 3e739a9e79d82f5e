"""Random boards as text, in a form that hypothesis can shrink.

A board is a handful of circuits, each a run of boxes that repeats its few
loads; so a small description makes up to 2,000 terminals, and a failing one
shrinks to the circuit, the box and the load that matter.
"""

from __future__ import annotations

from dataclasses import dataclass

from hypothesis import strategies as st

MOST_POINTS = 2000
# What a circuit of one box takes at most, and the panel.
ROOM = 120

LEGS = {"120": ("a",), "120/240": ("a", "b"), "208Y/120": ("a", "b", "c")}
TWO_LEGS = {"120/240": 240, "208Y/120": 208}


@dataclass(frozen=True)
class Tap:
    """A box with what hangs in it; `switch` is the position of a switch ahead of it, or None without one."""

    load: str
    size: float
    feet: int
    switch: str | None


@dataclass(frozen=True)
class Run:
    """One circuit.

    `kind` is `branch` (a breaker and a string of boxes), `multiwire` (two legs
    over one neutral), `two-pole` (line to line, behind a disconnect),
    `conduit` (wires in a raceway to one box), `stair` (3-way and 4-way
    switches) or `control` (a transformer, a contactor and what it switches).
    At tap `open_neutral` or `open_hot` that wire is left loose.
    """

    kind: str
    leg: int
    size: str
    taps: tuple[Tap, ...]
    repeat: int
    open_neutral: int | None
    open_hot: int | None
    positions: tuple[bool, ...]
    aluminum: bool
    earthed: bool


@dataclass(frozen=True)
class RandomBoard:
    """A panel of `system` with `available` kA, and its circuits."""

    system: str
    available: float
    ambient: int
    runs: tuple[Run, ...]


class _Text:
    def __init__(self, board: RandomBoard) -> None:
        self.system = board.system
        self.legs = LEGS[board.system]
        # What stands in positions: the switches of the board, by name.
        self.positions: dict[str, str] = {}
        self.points = 0
        self.lines = [
            'board "A random board"',
            f"ambient {board.ambient} C",
            f"panel LP {board.system} V, {board.available:g} kA available",
        ]
        for number, run in enumerate(board.runs):
            if self.points > MOST_POINTS - ROOM:
                break
            getattr(self, "_" + run.kind.replace("-", "_"))(f"N{number}", 4 * number + 1, run)

    def add(self, *lines: str) -> None:
        self.lines += lines

    def cable(self, name: str, kind: str, feet: int, a: str, b: str, aluminum: bool = False) -> None:
        self.points += 8 if "/3" in kind else 6
        metal = " aluminum" if aluminum else ""
        self.add(f"cable {name} {kind}{metal} {feet} ft from {a} to {b}")

    def breaker(self, slot: int, run: Run, poles: int) -> tuple[str, ...]:
        """Its terminals: one, or two where the panel has two legs."""
        if poles == 2 and len(self.legs) > 1:
            self.add(f"breaker LP.{slot} 40 A 2-pole")
            return f"LP.{slot}.a", f"LP.{slot}.b"
        leg = self.legs[run.leg % len(self.legs)]
        self.add(f"breaker LP.{slot} 20 A leg {leg}")
        return (f"LP.{slot}",)

    def tap(
        self, name: str, tap: Tap, hot: str, neutral: str, ground: str, volts: int = 120, prefix: str = ""
    ) -> None:
        """One tap's switch and load, between a hot and a neutral that are joined elsewhere in the box."""
        self.points += 3 if tap.switch is None else 6
        prefix = prefix or name
        if tap.switch is not None:
            self.add(f"{prefix}S is single-pole-switch in {name}", f"{hot} -- {prefix}S.line")
            self.positions[f"{prefix}S"] = tap.switch
            hot = f"{prefix}S.load"
        load = f"{prefix}L"
        if tap.load in ("heater", "across") or (volts != 120 and tap.load in ("lamp", "driver", "fan")):
            self.add(f"{load} is heater with power {tap.size:g} W, voltage {volts} V in {name}")
            self.add(f"{hot} -- {load}.a", f"{neutral} -- {load}.b")
        elif tap.load == "motor":
            amps = tap.size / volts
            self.add(f"{load} is motor with current {amps:.3f} A, voltage {volts} V in {name}")
            self.add(f"{hot} -- {load}.a", f"{neutral} -- {load}.b")
        elif tap.load == "leak":
            self.add(f"{load} is heater with power 0.5 W, voltage {volts} V in {name}")
            self.add(f"{hot} -- {load}.a", f"{ground} -- {load}.b")
        elif tap.load == "outlet":
            self.add(f"{load} is duplex-receptacle in {name}")
            self.add(f"{hot} -- {load}.hot", f"{neutral} -- {load}.neutral", f"{ground} -- {load}.ground")
        elif tap.load != "loose":
            part = {"lamp": "lampholder", "driver": "luminaire", "fan": "bath-fan"}[tap.load]
            value = f"with current {tap.size / 120:.3f} A" if tap.load == "fan" else f"{tap.size:g} W"
            self.add(f"{load} is {part} {value} in {name}")
            self.add(f"{hot} -- {load}.hot", f"{neutral} -- {load}.neutral")

    def _string(self, name: str, run: Run, hots: tuple[str, ...], kind: str) -> None:
        """Boxes one after another; `hots` feed the first at the panel."""
        colors = ("black", "red")[: len(hots)]
        before = "LP"
        last: dict[str, str] = {}
        taps = run.taps * run.repeat
        for index, tap in enumerate(taps):
            if self.points > MOST_POINTS - ROOM:
                return
            box, cable = f"{name}B{index}", f"{name}W{index}"
            self.add(f"box {box} junction 100 cu in")
            self.cable(cable, kind, tap.feet, before, box, run.aluminum)
            self.add(f"at {before}")
            ends = dict.fromkeys((*colors, "white", "bare"), "")
            for color in ends:
                if index == 0:
                    feeds = {
                        **dict(zip(colors, hots, strict=True)),
                        "white": "LP.neutral",
                        "bare": "LP.ground",
                    }
                    feed = feeds[color]
                else:
                    feed = last[color]
                loose = (color == "white" and run.open_neutral == index) or (
                    color == colors[0] and run.open_hot == index
                )
                self.add(f"cap {cable}.{color}" if loose else f"{cable}.{color} -- {feed}")
                ends[color] = f"{cable}.{color}"
            last = ends
            self.add(f"at {box}")
            hot = ends[colors[index % len(colors)]]
            if tap.load == "across" and len(colors) == 2:
                self.tap(box, tap, ends["black"], ends["red"], ends["bare"], TWO_LEGS[self.system])
            else:
                self.tap(box, tap, hot, ends["white"], ends["bare"])
            before = box

    def _branch(self, name: str, slot: int, run: Run) -> None:
        self._string(name, run, self.breaker(slot, run, 1), f"{run.size}/2 NM-B")

    def _multiwire(self, name: str, slot: int, run: Run) -> None:
        hots = self.breaker(slot, run, 2)
        self._string(name, run, hots, f"{run.size}/{len(hots) + 1} NM-B")

    def _two_pole(self, name: str, slot: int, run: Run) -> None:
        hots = self.breaker(slot, run, 2)
        volts = TWO_LEGS.get(self.system, 120)
        other = hots[1] if len(hots) == 2 else "LP.neutral"
        tap = run.taps[0]
        disconnect, box = f"{name}D", f"{name}B"
        self.add(f"{disconnect} is disconnect-2-pole", f"box {box} junction 100 cu in")
        self.positions[disconnect] = "on" if run.positions[0] else "off"
        self.cable(f"{name}W0", f"{run.size}/2 NM-B", tap.feet, "LP", disconnect, run.aluminum)
        self.cable(f"{name}W1", f"{run.size}/2 NM-B", run.taps[-1].feet, disconnect, box)
        self.add("at LP", f"{name}W0.black -- {hots[0]}", f"{name}W0.white marked red -- {other}")
        self.add(f"{name}W0.bare -- LP.ground", f"at {disconnect}")
        self.add(
            f"{name}W0.black -- {disconnect}.line-1", f"{name}W0.white marked red -- {disconnect}.line-2"
        )
        self.add(
            f"{name}W1.black -- {disconnect}.load-1", f"{name}W1.white marked red -- {disconnect}.load-2"
        )
        self.add(f"{name}W0.bare -- {name}W1.bare -- {disconnect}.ground", f"at {box}")
        self.tap(box, tap, f"{name}W1.black", f"{name}W1.white", f"{name}W1.bare", volts)

    def _conduit(self, name: str, slot: int, run: Run) -> None:
        (hot,) = self.breaker(slot, run, 1)
        box, tap = f"{name}B", run.taps[0]
        kind = ("EMT", "PVC")[run.earthed]
        metal = " aluminum" if run.aluminum else ""
        self.points += 6
        self.add(
            f"box {box} junction 100 cu in", f"raceway {name}R {kind} 2 in {tap.feet} ft from LP to {box}"
        )
        for color in ("black", "white", "green"):
            self.add(
                f"wire {name}{color} {run.size} THHN {color}{metal} {tap.feet} ft from LP to {box} in {name}R"
            )
        self.add("at LP", f"{name}black -- {hot}", f"{name}white -- LP.neutral", f"{name}green -- LP.ground")
        self.add(f"at {box}")
        self.tap(box, tap, f"{name}black", f"{name}white", f"{name}green")

    def _stair(self, name: str, slot: int, run: Run) -> None:
        (hot,) = self.breaker(slot, run, 1)
        box, tap, fours = f"{name}B", run.taps[0], len(run.taps) - 1
        self.add(f"box {box} junction 300 cu in")
        self.cable(f"{name}W", f"{run.size}/2 NM-B", tap.feet, "LP", box, run.aluminum)
        self.add(
            "at LP", f"{name}W.black -- {hot}", f"{name}W.white -- LP.neutral", f"{name}W.bare -- LP.ground"
        )
        switches = [f"{name}X{n}" for n in range(fours + 2)]
        self.points += 5 * len(switches)
        for n, switch in enumerate(switches):
            kind = "3-way-switch" if n in (0, fours + 1) else "4-way-switch"
            self.add(f"{switch} is {kind} in {box}")
            self.positions[switch] = "down" if run.positions[n % len(run.positions)] else "up"
        self.add(f"at {box}", f"{name}W.black -- {switches[0]}.common")
        one, other = f"{switches[0]}.traveler-1", f"{switches[0]}.traveler-2"
        for switch in switches[1:-1]:
            self.add(f"{one} -- {switch}.in-1", f"{other} -- {switch}.in-2")
            one, other = f"{switch}.out-1", f"{switch}.out-2"
        self.add(f"{one} -- {switches[-1]}.traveler-1", f"{other} -- {switches[-1]}.traveler-2")
        unswitched = Tap(tap.load, tap.size, tap.feet, None)
        self.tap(box, unswitched, f"{switches[-1]}.common", f"{name}W.white", f"{name}W.bare")

    def _control(self, name: str, slot: int, run: Run) -> None:
        hots = self.breaker(slot, run, 2 if run.positions[0] else 1)
        volts = TWO_LEGS[self.system] if len(hots) == 2 else 120
        other = hots[1] if len(hots) == 2 else "LP.neutral"
        tap, box, coil = run.taps[0], f"{name}B", f"{name}K"
        fused = run.positions[-1]
        self.points += 24
        part = "fused-class-2-transformer 75 VA" if fused else "class-2-transformer 40 VA"
        self.add(f"{name}T is {part} with primary {volts} V", f"box {box} junction 100 cu in")
        self.add(f"{coil} is contactor in {box}", f"{name}C is relay-spdt in {box}")
        self.add(f"{name}S is single-pole-switch in {box}")
        self.positions[f"{name}S"] = tap.switch or "on"
        self.cable(f"{name}P", "14/2 NM-B", run.taps[-1].feet, "LP", f"{name}T")
        self.cable(f"{name}Q", "18/2 CL2", 3 * tap.feet, f"{name}T", box)
        self.cable(f"{name}W", f"{run.size}/2 NM-B", tap.feet, "LP", box, run.aluminum)
        self.add(
            "at LP", f"{name}P.black -- {hots[0]}", f"{name}P.white -- {other}", f"{name}P.bare -- LP.ground"
        )
        self.add(f"{name}W.black -- {hots[0]}", f"{name}W.white -- {other}", f"{name}W.bare -- LP.ground")
        self.add(f"at {name}T", f"{name}P.black -- {name}T.primary-hot")
        self.add(f"{name}P.white -- {name}T.primary-neutral", f"{name}Q.red -- {name}T.secondary-r")
        self.add(f"{name}Q.white -- {name}T.secondary-c")
        if run.earthed:
            self.add(f"{name}P.bare -- {name}T.secondary-c")
        self.add(
            f"at {box}", f"{name}Q.red -- {name}S.line -- {name}C.coil-a", f"{name}S.load -- {coil}.coil-a"
        )
        self.add(f"{name}Q.white -- {coil}.coil-b -- {name}C.coil-b")
        self.add(f"{name}W.black -- {coil}.line-1", f"{name}W.white -- {coil}.line-2")
        self.tap(box, tap, f"{coil}.load-1", f"{coil}.load-2", f"{name}W.bare", volts, f"{name}M")


def text_of(board: RandomBoard) -> tuple[str, dict[str, str]]:
    """The board as text, and the positions that its switches stand in."""
    text = _Text(board)
    return "\n".join(text.lines) + "\n", text.positions


taps = st.builds(
    Tap,
    load=st.sampled_from(["lamp", "heater", "motor", "driver", "fan", "outlet", "across", "leak", "loose"]),
    size=st.sampled_from([5.0, 40.0, 60.0, 150.0, 600.0, 1500.0]),
    feet=st.integers(1, 250),
    switch=st.sampled_from([None, "on", "off"]),
)


def runs(most: int, repeat: int) -> st.SearchStrategy[Run]:
    """A circuit of up to `most` boxes, written out up to `repeat` times."""
    opened = st.one_of(st.none(), st.none(), st.integers(0, most - 1))
    return st.builds(
        Run,
        kind=st.sampled_from(["branch", "multiwire", "two-pole", "conduit", "stair", "control"]),
        leg=st.integers(0, 2),
        size=st.sampled_from(["14", "12", "10", "8", "6", "2", "1/0", "4/0"]),
        taps=st.lists(taps, min_size=1, max_size=most).map(tuple),
        repeat=st.integers(1, repeat),
        open_neutral=opened,
        open_hot=opened,
        positions=st.lists(st.booleans(), min_size=1, max_size=4).map(tuple),
        aluminum=st.booleans(),
        earthed=st.booleans(),
    )


def boards(most: int = 5, repeat: int = 1, circuits: int = 6) -> st.SearchStrategy[RandomBoard]:
    """A random board; with `most` 6, `repeat` 20 and 12 circuits up to 2,000 terminals."""
    return st.builds(
        RandomBoard,
        system=st.sampled_from(sorted(LEGS)),
        available=st.sampled_from([5.0, 10.0, 22.0]),
        ambient=st.sampled_from([20, 30, 45]),
        runs=st.lists(runs(most, repeat), min_size=1, max_size=circuits).map(tuple),
    )
