"""The signs of what opens and closes, each lying between its two leads.

Contacts that a coil moves are the pair of bars of JIC and NEMA ladder diagrams, a bar across where they
are closed at rest. What something else moves is a blade between two terminals, over the sign of what
moves it: a dome for pressure, a step for temperature, a ball for a level, a flag for flow, a wedge for
what a machine or a door pushes.

Which side of the line the blade is on tells what it does when what is under it pushes up, that is on a
rise: a blade below the line is pushed closed, one above it is pushed open. On or off its terminal is how
it stands in the picture. So a switch that opens on a rise is above, and one that opens on a fall below,
though both rest closed; a normally open one that is held closed is below, and touches.

Source: NEMA ICS 19 and IEEE 315, section 4.6 (both from memory); checked against a course of motor
control, where the four limit switches (open, held closed, closed, held open) have their arms below and
above the terminal (http://www.industrial-electronics.com/motor_control/2b_symbols.html), and one of HVAC,
where a low-pressure switch is pushed closed from below and a high-pressure switch open
(https://www.hvactrainingsolutions.net/hvac-training-electrical/). That safeties are shown as they stand
in a run, and controls as they stand without a call, is common practice. The arrows of timed contacts point
up for a wait as the coil pulls in and down for one as it lets go (from memory; so does an electrician tell
another, in 2010: https://electriciantalk.com, "Timer Symbol"); that such contacts wait so is told by Lessons
in Electric Circuits, volume IV, chapter 5. A delay on break opens at once and waits before it closes again,
which neither arrow says: it is moved by a clock, and its words tell how.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import NamedTuple

from wirecheck.drawing.strokes import Strokes

REACH = 15.0
"""From a sign's middle to the ends of its leads, in points."""
BRIDGE = 3.1
"""The pen of the bridge between the bars of a contact that is closed now: no other stroke has it."""
BELOW = frozenset(("closes-on-rise", "opens-on-fall", "held-closed"))
ABOVE = frozenset(("opens-on-rise", "closes-on-fall", "held-open"))
DAMP = frozenset(("humidify", "dehumidify"))
TIP = 11.3
"""How far from the line the other terminal of a switch with two throws is: where its blade ends."""
PIVOT, TOUCHING, OFF = 0.8, 2.2, 9.5
"""How far from the line a blade begins, and where it ends: on its terminal, and off it."""
DROP = 6.0
"""How much further down what moves a blade is, where the blade hangs below the line."""


class Switch(NamedTuple):
    """How a contact is drawn: as what, over what, on which side of the line.

    `form` is `pair`, `blade`, `button`, `cell` or `link`, or `throw`: one of the ways of a switch that is
    drawn whole.
    `delays` is `on`, `off` or `both` where it moves some time after its coil. Of one with two `throws` the
    other terminal is drawn, too, to which the blade goes. A `mirrored` throw has its common on the right.
    """

    form: str = "pair"
    mover: str = ""
    below: bool = False
    delays: str = ""
    throws: bool = False
    mirrored: bool = False


TURNED = {"closes-on-rise": "opens-on-fall", "closes-on-fall": "opens-on-rise"}
"""What a contact that is drawn closed does, where its part says when it closes."""


def switch(flags: frozenset[str], mover: str, rests_closed: bool) -> Switch:
    """How a contact is drawn that something else than a coil moves.

    Where the part does not say what it does on a rise, one that rests open is pushed closed and one that
    rests closed is pushed open.

    >>> switch(frozenset(["opens-on-fall"]), "pressure", True) == Switch("blade", "pressure", below=True)
    True
    >>> switch(frozenset(["momentary"]), "hand", False).form
    'button'
    >>> switch(frozenset(["timed"]), "hand", False).mover
    'time'
    """
    if mover == "light":
        return Switch("cell", mover)
    if "opens-once" in flags:
        return Switch("link", mover)
    if mover in ("", "hand"):
        return Switch("button" if "momentary" in flags else "blade", "time" if "timed" in flags else "hand")
    return Switch("blade", mover, bool(flags & BELOW) or not (flags & ABOVE or rests_closed))


def follows(calls: Iterable[str]) -> str:
    """What moves the contact of a control that makes calls by itself: water that it floats on, damp, or heat.

    >>> follows(["water"]), follows(["heat", "cool"]), follows(["humidify"])
    ('water', 'temperature', 'humidity')
    """
    called = frozenset(calls)
    return "water" if "water" in called else "humidity" if called & DAMP else "temperature"


def sense(flags: frozenset[str], mover: str = "", closed: bool = False) -> str:
    """What a contact does on a rise or a fall, in words; nothing where its part does not say.

    One that is drawn `closed` opens, also where its part says when it closes.

    >>> sense(frozenset(["closes-on-rise", "snap-switch"])), sense(frozenset(["closes-on-fall"]), "daylight")
    ('closes on rise', 'closes in the dark')
    >>> sense(frozenset(["closes-on-fall"]), closed=True)
    'opens on rise'
    """
    told = {TURNED.get(word, word) if closed else word for word in flags & (BELOW | ABOVE)}
    words = " ".join(word.replace("-", " ") for word in sorted(told))
    if mover in ("light", "daylight"):
        return words.replace("on rise", "in the light").replace("on fall", "in the dark")
    return words


def switch_reach(drawn: Switch) -> tuple[float, float]:
    """How far a contact reaches over and under the wire, open or closed, in points.

    >>> switch_reach(Switch("blade", "hand")), switch_reach(Switch("blade", "pressure", below=True))
    ((10.0, 4.0), (6.0, 21.0))
    """
    if drawn.form == "button":
        return 13.0, 4.0
    if drawn.form == "pair":
        return 9.0, 9.0
    if drawn.form == "throw":
        return 6.0, 4.0
    if drawn.form == "cell":
        return 15.0, 6.0
    if drawn.form == "link":
        return 5.0, 15.0
    if drawn.mover in ("", "hand") and not drawn.delays:
        return 10.0, 4.0
    over = TIP + 2.5 if drawn.throws else 10.0
    return (6.0, 15.0 + DROP) if drawn.below else (over, 15.0)


def blade_middle(closed: bool) -> float:
    """How far from the line the middle of a blade is, on its terminal or off it.

    >>> blade_middle(True) < blade_middle(False)
    True
    """
    return (PIVOT + (TOUCHING if closed else OFF)) / 2


class Contacts(Strokes):
    """Draws what opens and closes."""

    def leads(self, half: float) -> None:
        """The two leads, from the sign's own edges out."""
        self.line((-REACH, 0), (-half, 0))
        self.line((half, 0), (REACH, 0))

    def switch(self, drawn: Switch, rests_closed: bool, closed: bool, shown: bool) -> None:
        """A contact as it stands: at rest, or (`shown`) in a state."""
        if drawn.form == "pair":
            self.pair(rests_closed, closed and shown)
        elif drawn.form == "button":
            self.button(rests_closed, closed)
        elif drawn.form == "cell":
            self.cell()
        elif drawn.form == "link":
            self.link(closed)
        else:
            self.blade(drawn, closed)

    def pair(self, rests_closed: bool, closed: bool) -> None:
        """A contact: two bars; a bar across where it rests closed, a bridge where it is closed now."""
        self.leads(4.5)
        for side in (-4.5, 4.5):
            self.line((side, -8.5), (side, 8.5), pen=1.6)
        if rests_closed:
            self.line((-8, 8), (8, -8))
        if closed:
            self.line((-4.5, 0), (4.5, 0), pen=BRIDGE)

    def terminals(self) -> None:
        """The leads with a ring at the end of each, between which a blade or a bridge moves."""
        self.leads(11.5)
        self.circle(-10, 0, 1.5, pen=1.1)
        self.circle(10, 0, 1.5, pen=1.1)

    def button(self, rests_closed: bool, closed: bool) -> None:
        """A push button: its bridge over its terminals or under them, and the stem that is pressed."""
        self.terminals()
        apart, side = (5.0, 1) if rests_closed else (7.0, -1)
        level = side * (2.4 if closed else apart)
        self.line((-11, level), (11, level), pen=1.8)
        self.line((0, level), (0, -12), pen=1.1)
        self.line((-4, -12), (4, -12), pen=1.1)

    def blade(self, drawn: Switch, closed: bool) -> None:
        """A switch: its blade on or off its terminal, over the sign of what moves it."""
        self.terminals()
        side = 1 if drawn.below else -1
        tip = side * (TOUCHING if closed else OFF)
        self.line((-8.7, side * PIVOT), (11, tip), pen=1.8)
        if drawn.throws:
            self.circle(10, side * TIP, 1.5, pen=1.1)
            self.line((11.5, side * TIP), (REACH - 1.5, side * TIP))
        middle = side * blade_middle(closed)
        low = DROP if drawn.below else 0.0
        draw = MOVERS.get("delay" if drawn.delays else drawn.mover)
        if draw is not None:
            draw(self, low, middle)
        if drawn.delays:
            self.arrows(drawn.delays, low)

    def cell(self) -> None:
        """A photoconductive cell: the zigzag of a resistor, and two rays that fall on it (IEEE 315)."""
        self.leads(12)
        self.line((-12, 0), *((-10 + 4 * step, -5.5 if step % 2 == 0 else 5.5) for step in range(6)), (12, 0))
        for x in (-6, 1):
            self.line((x - 4, -14.5), (x, -7.5), pen=1)
            self.line((x - 3.2, -9), (x, -7.5), (x, -11), pen=1)

    def link(self, closed: bool) -> None:
        """A thermal link: a fuse over the step of a bimetal, since heat melts it and no current."""
        self.box(11, 4.5)
        if closed:
            self.line((-REACH, 0), (REACH, 0))
        else:
            self.leads(11)
        self.step(0, 4.5)

    def throw(self, drop: float, closed: bool, mirrored: bool) -> None:
        """One way of a switch that has several: to a terminal further down, its blade there or dashed.

        The blade turns about the common: its other end lies on the terminal, over its ring.
        """
        side = -1 if mirrored else 1
        self.line((-REACH, 0), (-11.5, 0))
        self.line((11.5, drop), (REACH, drop))
        self.circle(-10, 0, 1.5, pen=1.1)
        self.circle(10, drop, 1.5, pen=1.1)
        if closed and not drop:
            self.line((-8.7 * side, -0.8), (11 * side, -2.2), pen=1.8)
        elif closed:
            self.line((-8.6, 0), (8.6, drop), pen=1.8)
        else:
            self.line((-8.6, 0), (8.6, drop), pen=0.7, dash="dashed")

    def step(self, y: float, top: float) -> None:
        """Temperature: the step of a bimetal."""
        self.line((1, top), (1, y + 5), (6, y + 5), (6, y + 9), (1, y + 9), (1, y + 14), pen=1)

    def dome(self, y: float, top: float) -> None:
        """Pressure: a dome over its diaphragm."""
        self.line((1, top), (1, y + 7), pen=1)
        self.curve((-5, y + 14), (-5, y + 4.7), (7, y + 4.7), (7, y + 14), pen=1)
        self.line((-5, y + 14), (7, y + 14), pen=1)

    def ball(self, y: float, top: float) -> None:
        """A level: the ball of a float."""
        self.line((1, top), (1, y + 7), pen=1)
        self.circle(1, y + 10.5, 3.5, pen=1)

    def flag(self, y: float, top: float) -> None:
        """Flow: the paddle that it pushes."""
        self.line((1, top), (1, y + 14.5), pen=1)
        self.line((1, y + 6), (8, y + 10), (1, y + 14), pen=1)

    def wedge(self, y: float, top: float) -> None:
        """What a machine or a door pushes: the bumper of a limit switch."""
        self.line((1, top + 0.5), (6, y + 9), (-4, y + 9), (1, top + 0.5), pen=1)

    def damp(self, y: float, top: float) -> None:
        """Humidity: a ring with its letter, since the standards have no sign for it."""
        self.line((1, top), (1, y + 5.5), pen=1)
        self.circle(1, y + 10, 4.5, pen=1)
        self.line((-0.9, y + 7.6), (-0.9, y + 12.4), pen=1)
        self.line((2.9, y + 7.6), (2.9, y + 12.4), pen=1)
        self.line((-0.9, y + 10), (2.9, y + 10), pen=1)

    def clock(self, y: float, top: float) -> None:
        """Time: a clock's face."""
        self.line((1, top), (1, y + 6), pen=1)
        self.circle(1, y + 10, 4, pen=1)
        self.line((1, y + 7.5), (1, y + 10), (3.2, y + 10), pen=0.9)

    def ray(self, y: float, top: float) -> None:
        """Light: two rays that fall on it."""
        for side in (-2, 4):
            self.line((side + 4, y + 14), (side, y + 7), pen=1)
            self.line((side, y + 10.5), (side, y + 7), (side + 3.2, y + 8.4), pen=1)
        self.line((1, top), (1, y + 4), pen=1)

    def waves(self, y: float, top: float) -> None:
        """Somebody who moves: the waves of a sensor, one within the other."""
        self.line((1, top), (1, y + 5), pen=1)
        for wide in (3.0, 6.0):
            low = y + 6 + wide
            self.curve((1 - wide, y + 6), (1 - wide, low), (1 + wide, low), (1 + wide, y + 6), pen=1)

    def cloud(self, y: float, top: float) -> None:
        """Smoke: a wisp of it."""
        self.line((1, top), (1, y + 5), pen=1)
        self.curve((-5, y + 9), (-2, y + 4), (1, y + 14), (7, y + 8), pen=1)

    def stem(self, y: float, top: float) -> None:
        """The stem of a contact that waits."""
        self.line((1, top), (1, y + 14), pen=1)

    def arrows(self, delays: str, y: float) -> None:
        """Which way it waits: an arrow up after its coil pulls in, an arrow down after it lets go."""
        if delays in ("on", "both"):
            self.line((-3, y + 9), (1, y + 5), (5, y + 9), pen=1)
        if delays in ("off", "both"):
            self.line((-3, y + 10.5), (1, y + 14.5), (5, y + 10.5), pen=1)


MOVERS: Mapping[str, Callable[[Contacts, float, float], None]] = {
    "temperature": Contacts.step,
    "pressure": Contacts.dome,
    "humidity": Contacts.damp,
    "water": Contacts.ball,
    "flow": Contacts.flag,
    "door": Contacts.wedge,
    "machine": Contacts.wedge,
    "time": Contacts.clock,
    "daylight": Contacts.ray,
    "motion": Contacts.waves,
    "smoke": Contacts.cloud,
    "delay": Contacts.stem,
}
"""What is drawn under a blade, by what moves it; under one that a hand moves there is nothing."""
