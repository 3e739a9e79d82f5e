"""Boards made at random, right and wrong alike, as text in the board language."""

from __future__ import annotations

from random import Random

PARTS = {
    "single-pole-switch": ("line", "load", "ground"),
    "3-way-switch": ("common", "traveler-1", "traveler-2", "ground"),
    "4-way-switch": ("in-1", "in-2", "out-1", "out-2", "ground"),
    "duplex-receptacle": ("hot", "neutral", "ground"),
    "gfci-receptacle": ("line-hot", "line-neutral", "load-hot", "load-neutral", "ground"),
    "lampholder": ("hot", "neutral", "ground"),
    "class-2-transformer": ("primary-hot", "primary-neutral", "ground", "secondary-r", "secondary-c"),
    "fuse": ("line", "load"),
}
CABLES = {
    "14/2 NM-B": ("black", "white", "bare"),
    "12/3 NM-B": ("black", "red", "white", "bare"),
    "18/5 CL2": ("red", "white", "green", "yellow", "blue"),
    "18/8 CL2": ("red", "white", "green", "yellow", "blue", "brown", "orange", "black"),
}


def board(seed: int, most_boxes: int = 3) -> str:
    """A board's text: a tree of boxes with a loop or two, its ends joined in every way that hands can."""
    random = Random(seed)
    lines = [f'board "Generated {seed}"', "panel LP 120/240 V"]
    screws: dict[str, list[str]] = {"LP": ["LP.neutral", "LP.ground"]}
    for position in range(1, random.randint(2, 5)):
        lines.append(f"breaker LP.{position} 15 A")
        screws["LP"].append(f"LP.{position}")
    places = ["LP"]
    for number in range(random.randint(1, most_boxes)):
        box = f"B{number}"
        lines.append(f"box {box} square 21 cu in" + random.choice((" metal", "")))
        screws[box] = [f"{box}.ground"] if lines[-1].endswith("metal") else []
        for device in range(random.randint(0, 2)):
            part = random.choice(list(PARTS))
            name = f"D{number}-{device}"
            lines.append(f"{name} is {part} in {box}")
            screws[box] += [f"{name}.{terminal}" for terminal in PARTS[part]]
        places.append(box)
    ends: dict[str, list[str]] = {place: [] for place in places}
    runs = [(random.choice(places[:at]), place) for at, place in enumerate(places) if at]
    runs += [(random.choice(places), random.choice(places)) for _ in range(random.randint(0, 2))]
    for number, (one, other) in enumerate(runs):
        if random.random() < 0.2:
            lines.append(f"raceway R{number} EMT 1/2 in 10 ft from {one} to {other}")
            for wire in range(random.randint(0, 4)):
                color = random.choice(("black", "red", "blue", "white", "green"))
                name = f"H{number}-{wire}"
                lines.append(f"wire {name} 12 THHN {color} 10 ft from {one} to {other} in R{number}")
                ends[one].append(name)
                ends[other].append(name)
            continue
        kind = random.choice(list(CABLES))
        lines.append(f"cable W{number} {kind} 10 ft from {one} to {other}")
        names = [f"W{number}.{color}" for color in CABLES[kind]]
        ends[one] += names
        ends[other] += names
    for place in places:
        lines.append(f"at {place}")
        lines += _make_up(random, ends[place], screws[place])
    return "\n".join(lines) + "\n"


def _make_up(random: Random, ends: list[str], screws: list[str]) -> list[str]:
    ends, screws = list(ends), list(screws)
    random.shuffle(ends)
    random.shuffle(screws)
    lines = []
    while ends:
        taken = [ends.pop() for _ in range(min(len(ends), random.choice((1, 1, 1, 2, 2, 3, 4))))]
        names = [end + (" marked red" if random.random() < 0.1 else "") for end in taken]
        choice = random.random()
        screw = random.choice(screws) if screws else ""
        if choice < 0.1:
            lines += [f"cap {end}" for end in taken]
        elif choice < 0.2:
            continue
        elif choice < 0.3 and screw:
            tails = random.sample(screws, min(len(screws), random.randint(1, 3)))
            lines.append(" -- ".join([*names, *(f"pigtail -- {tail}" for tail in tails)]))
        elif choice < 0.4 and len(screws) > 1:
            lines.append(" -- ".join([names[0], *random.sample(screws, 2), *names[1:]]))
        elif choice < 0.8 and screw:
            lines += [f"{name} -- {random.choice(screws)}" for name in names]
        elif len(names) > 1:
            lines.append(" -- ".join(names))
        elif screw:
            lines.append(f"{names[0]} -- {screw}")
    return lines
