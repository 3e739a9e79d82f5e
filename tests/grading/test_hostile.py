"""Works that were written to cheat or to do harm: each is judged as all others are, or has nothing, and why.

The first half tries tricks that should gain nothing; the second grades a class of hostile files by the
command, and looks at what it writes.
"""

import csv
import html.parser
import io
import os
import re
import socket

import pytest

from tests.cli.boards import wirecheck
from tests.grading.stair import RIGHT, TEXT, sheet, stair, with_changes

# A right board but for a loose ground, which costs the trim stage, and one whose light is never lit.
LOOSE = ("  W2.bare -- W3.bare -- pigtail -- S2.ground\n", "  W2.bare -- W3.bare\n")
DARK = ("  W3.black -- L1.hot\n", "  cap W3.black\n")
SWAPPED = (
    ("W2.red -- S2.traveler-2", "W2.red -- S2.common"),
    ("W3.black -- S2.common", "W3.black -- S2.traveler-2"),
)
WRONG = with_changes(LOOSE, DARK)
"""What it is worth is what it asks for: 30 of rough-in, nothing of trim, 20 of final."""
HONEST = 50

ADDED = {
    "prices of its own": "a hazard costs 0 points\nopen-ground costs 0 points\nexpectation costs 0 points\n",
    "stages of its own": "stage trim 900 points\nstage final 900 points\n",
    "an exercise within": f"{TEXT.replace('costs the stage', 'costs 0 points')}\n",
    "expectations that it meets": "expect L1 live\nexpect S1 live\n",
    "comments that claim findings": "# finds: open-ground\n# finds: switching\n# checked: 100 points\n",
    "a supply of its own": "panel XP 120/240 V, 10 kA available\nbreaker XP.1 15 A\n",
    "an edition of its own": "code nec 2008\n",
    "an ambient of its own": "ambient 0 C\n",
    "a second board": 'board "The one that counts"\n',
    "a part of its own": 'part 3-way-switch "Always on"\nterminal common hot\n',
    "a ground by a jumper": "jumper S2.ground -- S2.common\n",
    "leads that are lifted": "lift S2.ground\nlift S1.ground\n",
    "leads that are exchanged": "swap S2.ground, S2.common\n",
    "rooms": "room attic LIGHT\nroom outdoors FOOT\n",
    "what was handed out, twice": "box LIGHT octagon 99 cu in\nbreaker TP.1 90 A\n",
    "a line that takes in what follows": "wire Z 14 THHN black 5 ft from FOOT (free 7 in,",
    "a joint that takes in what follows": "at LIGHT\n  W3.white --",
    "a list that takes in what follows": "bundle W1, W2,",
    "a quote that does not end": 'board "that goes on',
    "as many mistakes as are read": "zzz 1\n" * 150,
    "as many names of nothing as are told": "at TP\n"
    + "".join(f"  W{n}.black -- TP.{n}\n" for n in range(10, 250)),
    "a joint in no place, at the end": "at nowhere\n  W3.black -- L1.hot\n",
    "characters that cannot be seen": "\u202eexpect L1 from S1\u202c\n\x00\x08\n",
    "a mark of the end": "\x04\x1a\n__END__\nEOF\n",
}


@pytest.mark.slow
@pytest.mark.parametrize("trick", ADDED)
@pytest.mark.parametrize("first", [False, True], ids=["after", "before"])
def test_no_line_that_is_added_gains_anything(trick, first):
    text = ADDED[trick]
    # Before the board itself, a line that goes on takes in the title; what was handed out follows.
    work = f"{text}\n{WRONG}" if first else f"{WRONG}\n{text}"
    done = sheet(work, effort=0)
    assert sheet(WRONG, effort=0).score == HONEST
    assert done.score <= HONEST and done.points == 100
    if not done.refused:
        # A line that cannot be read takes one of them in.
        told = [word for one in done.taken for word in (one.rule, *one.follows)]
        assert any(one.startswith("switching") for one in told)
        assert any(one.startswith("open-ground") for one in told)
    assert sheet(f"{RIGHT}\n{text}", effort=0).score <= 100


CHANGED = {
    "a line of what was handed out is broken": ("S2 is 3-way-switch 15 A in HEAD", "S2 is is 3-way-switch"),
    "the light is another one": ("L1 is lampholder 60 W in LIGHT", "L1 is pilot-light-switch in LIGHT"),
    "the light is a box": ("L1 is lampholder 60 W in LIGHT", "box L1 octagon 15 cu in"),
    "the switch is in another place": ("S2 is 3-way-switch 15 A in HEAD", "S2 is 3-way-switch 15 A in LIGHT"),
    "the breaker is larger": ("breaker TP.1 15 A", "breaker TP.1 60 A"),
    "the panel is another": ("panel TP 120/240 V, 10 kA available", "panel TP 12 V"),
    "the panel is none": ("panel TP 120/240 V, 10 kA available", "subpanel TP 120/240 V"),
    "the cable has no ground to leave loose": ("cable W3 14/2 NM-B", "cable W3 12/2 NM-B"),
    "the box is gone": ("box HEAD device 20.3 cu in", ""),
    "the edition is gone": ("code nec 2023", "code nec"),
    "nothing is asked": ("expect L1 from S1, S2", ""),
    "less is asked": ("expect L1 from S1, S2", "expect L1 from S1"),
}


@pytest.mark.slow
@pytest.mark.parametrize("change", CHANGED)
def test_no_change_of_what_was_handed_out_gains_anything(change):
    done = sheet(with_changes(CHANGED[change], text=WRONG), effort=0)
    assert done.score <= HONEST
    told = (word for one in done.taken for word in (one.rule, *one.follows))
    assert any(one.startswith("switching") for one in told)
    if not change.endswith("asked"):
        assert any(one.mistake == "What was handed out was changed." for one in done.taken)
    else:
        assert done.score == HONEST


def test_equipment_is_nobodys_to_alter():
    swap = "swap S2.common, S2.traveler-2\n"
    done = sheet(with_changes(*SWAPPED) + swap, effort=0)
    assert [one.score for one in done.stages] == [25, 30, 20]
    assert done.taken[0].message == (
        "The exercise does not say swap S2.common, S2.traveler-2, and the work does. It is judged without it."
    )
    # Where it is handed out, it is everybody's.
    both = with_changes(("expect L1", f"{swap}expect L1"), text=TEXT)
    done = sheet(with_changes(*SWAPPED) + swap, stair(both), effort=0)
    assert done.score == 100
    done = sheet(with_changes(*SWAPPED), stair(both), effort=0)
    assert done.score == 95 and "is not in the work" in done.taken[0].message


def grounds_alone():
    """The grounds are made up, and every other wire is capped."""
    head, tail = RIGHT.split("\nat ", 1)
    kept = []
    for line in tail.split("\n"):
        wires = re.findall(r"W\d\.(?:black|white|red)", line)
        kept += [f"  cap {wire}" for wire in wires] if wires else [line]
    return head + "\nat " + "\n".join(kept)


def test_what_was_left_undone_has_no_points():
    done = sheet(grounds_alone(), effort=0)
    assert [one.score for one in done.stages] == [30, 0, 0]
    assert done.taken[0].message == "No wire that is to carry current is on L1, S1 and S2 yet."


@pytest.mark.slow
@pytest.mark.parametrize(
    ("text", "why"),
    [
        (RIGHT + "zzz 1\n" * 101, "More than 100 lines of it cannot be read, and it was read no further."),
        (RIGHT + "#" * 17 * 1024 * 1024, "The file is larger than 16 MiB, which no board is."),
        (RIGHT + "\n" * 250_001, "The file is larger than 250000 lines, which no board is."),
        ('exercise "x"\n' + RIGHT, "It is not a board: it is an exercise"),
        ("PK\x03\x04" + "\ufffd" * 40, "It is not a board: no board is begun in it"),
    ],
)
def test_what_cannot_be_read_to_its_end_has_nothing(text, why):
    done = sheet(text, effort=0)
    assert done.refused.startswith(why) and done.score == 0


def relays(count):
    """A right board with relays that keep each other going, of whose play no end is found in time."""
    coils = "".join(f"  Q{n}.nc -- Q{(n + 1) % count}.coil-a\n" for n in range(count))
    feeds = " -- ".join(["W1.black", "S1.common", *(f"pigtail -- Q{n}.common" for n in range(count))])
    backs = " -- ".join(["W1.white", "W2.white", *(f"pigtail -- Q{n}.coil-b" for n in range(count))])
    return with_changes(
        ("S1 is 3-way", "".join(f"Q{n} is relay-spdt in FOOT\n" for n in range(count)) + "S1 is 3-way"),
        ("  W1.black -- S1.common\n", f"  {feeds}\n{coils}"),
        ("  W1.white -- W2.white\n", f"  {backs}\n"),
        DARK,
    )


@pytest.mark.slow
@pytest.mark.parametrize("count", [2, 25, 90])
def test_relays_without_end_hide_nothing(count):
    done = sheet(relays(count), effort=0)
    assert done.score <= 80
    if done.refused:
        assert done.refused.startswith("It takes more work than is spent on one board.")
    else:
        told = (word for one in done.taken for word in (one.rule, *one.follows))
        assert any(one.startswith("switching") for one in told)


# ------------------------------------------------------------- a class of them

SCRIPT = "</title><script>alert(1)</script><img src=x onerror=alert(1)>"
STUDENTS = {
    "formula": "=HYPERLINK(A1)",
    "at": "@SUM(1+1)*cmd|' /C calc'!A0",
    "plus": "+1+1",
    "minus": "-2+3",
    "semicolon": "a;=1+1",
    "script": SCRIPT,
    "attribute": "x' onmouseover=alert(1) y='",
    "path": "../../../../etc/passwd",
    "long": "n" * 1500,
    "wide": "\N{FULLWIDTH EQUALS SIGN}1+1",
    "turned": "a\u202eb",
    "address": "javascript:alert(1)",
}
LOOP = (
    'part loop "It is inside itself"\nterminal a contact\nterminal b contact\nL is loop\na -- L.a\nb -- L.b\n'
)
ALWAYS = 'part always-on "It always passes"\nterminal a contact\nterminal b contact\na -- b\n'


def hostile_class(folder):
    """A folder of works that were written to harm, and two honest ones; the names of those with points."""
    works = folder / "class"
    works.mkdir()
    good = {"aaa-honest": 100, "zzz-honest": 100}
    for name in good:
        (works / f"{name}.wire").write_text(RIGHT)
    for name, student in STUDENTS.items():
        said = f'code nec 2023\nstudent "{student}"\n# {SCRIPT} =1+1\n'
        (works / f"name-{name}.wire").write_text(with_changes(("code nec 2023", said)), "utf-8")
    (works / "huge.wire").touch()
    os.truncate(works / "huge.wire", 200 * 1024**2)
    (works / "deep.wire").write_text(RIGHT + "(" * 1900 + "\nat " * 3000)
    (works / "endless.wire").write_text(relays(60))
    (works / "many.wire").write_text(RIGHT + "".join(f"box B{n} octagon\n" for n in range(60_000)))
    (works / "within-itself.wire").write_text(with_changes(("L1 is", "X1 is loop in LIGHT\nL1 is")))
    (works / "always.wire").write_text(with_changes(("L1 is", "X1 is always-on in LIGHT\nL1 is")))
    (works / "bytes.wire").write_bytes(os.urandom(5000))
    # Her own parts, and one with the name of a part that ships: nobody's board has them.
    (works / "always-on.wire").write_text(ALWAYS)
    (works / "3-way-switch.wire").write_text(ALWAYS.replace("always-on", "3-way-switch"))
    # The parts beside the exercise, of which one is inside itself and one has the name of one that ships.
    (folder / "loop.wire").write_text(LOOP)
    (folder / "lampholder.wire").write_text(ALWAYS.replace("always-on", "lampholder"))
    # What is no file of this folder.
    secret = folder / "secret.wire"
    secret.write_text(RIGHT.replace('board "', '# the answer\nboard "'))
    (works / "link.wire").symlink_to(secret)
    (works / "passwd.wire").symlink_to("/etc/passwd")
    (works / "circle.wire").symlink_to("circle.wire")
    os.mkfifo(works / "pipe.wire")
    (works / "device.wire").symlink_to("/dev/zero")
    with socket.socket(socket.AF_UNIX) as end:
        here = os.getcwd()
        os.chdir(works)
        try:
            end.bind("socket.wire")
        finally:
            os.chdir(here)
    nested = works
    for _ in range(60):
        nested = nested / "in"
        nested.mkdir()
    (nested / "nested.wire").write_text(RIGHT)
    (works / "up").symlink_to(folder)
    return works


class Page(html.parser.HTMLParser):
    """What a page has beside text: its elements with their attributes."""

    def __init__(self, text):
        super().__init__()
        self.found = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.found.append((tag, dict(attrs)))


KNOWN = {
    *("html", "head", "meta", "title", "style", "body", "h1", "h2", "p", "table", "thead", "tbody", "tfoot"),
    *("tr", "th", "td", "ul", "li", "img", "a", "svg", "rect", "text", "line", "div", "span", "caption"),
    *("section", "details", "summary", "figure", "figcaption", "strong", "em", "b", "i", "dl", "dt", "dd"),
    *("colgroup", "col", "ol", "header", "footer", "nav", "main", "small", "br", "g", "path"),
}


def is_safe(page, pages):
    """A page has a policy, nothing that runs, and nothing that is fetched."""
    found = Page(page).found
    policies = [one for tag, one in found if tag == "meta" and one.get("http-equiv")]
    assert [one["http-equiv"] for one in policies] == ["Content-Security-Policy"]
    assert "default-src 'none'" in policies[0]["content"]
    assert "unsafe" not in policies[0]["content"] and "http" not in policies[0]["content"]
    for tag, attributes in found:
        assert tag in KNOWN, tag
        assert not [name for name in attributes if name.startswith("on") or name == "style"], attributes
        assert "src" not in attributes or attributes["src"].startswith("data:image/svg+xml;base64,")
        assert "href" not in attributes or attributes["href"] in pages
    assert "@import" not in page and "url(" not in page


@pytest.mark.slow
def test_a_hostile_class_is_graded_and_harms_nothing(tmp_path):
    (tmp_path / "exercise.wire").write_text(TEXT)
    works = hostile_class(tmp_path)
    outside = {path: path.stat().st_mtime_ns for path in tmp_path.iterdir() if path.is_file()}
    named = ["pipe.wire", "device.wire", "socket.wire", "passwd.wire", "circle.wire", "in"]
    done = wirecheck(
        *("grade", "exercise.wire", "class", *(f"class/{name}" for name in named), "none.wire"),
        *("--format", "csv", "--pages", "pages", "--record", "term.db", "--seconds", "15"),
        folder=tmp_path,
    )
    said = done.stderr.decode()
    # Some took more than they had.
    assert done.returncode == 2 and "Traceback" not in said, said
    table = {one["file"].split("/")[-1]: one for one in csv.DictReader(io.StringIO(done.stdout.decode()))}
    scores = {name: float(one["score"]) for name, one in table.items()}

    # The honest ones, before and after all others, have what they are worth, as who is only named oddly.
    right = {"aaa-honest.wire", "zzz-honest.wire", "nested.wire", *(f"name-{name}.wire" for name in STUDENTS)}
    unseen = {"name-turned.wire", "name-long.wire"}
    assert {name for name in right - unseen if scores[name] != 100} == set()
    why = {
        "huge.wire": "The file is larger than 16 MiB",
        "bytes.wire": "",
        "pipe.wire": "class/pipe.wire cannot be read: it is a pipe, not a file",
        "device.wire": "class/device.wire cannot be read: it is a device, not a file",
        "socket.wire": "class/socket.wire cannot be read: it is a socket, not a file",
        "circle.wire": "class/circle.wire cannot be read: its links lead in a circle",
        "none.wire": "none.wire cannot be read: there is no such file or folder",
        "passwd.wire": "It is not a board",
        "many.wire": "The work on this file took longer than 15 s, and was stopped.",
    }
    for name, reason in why.items():
        assert scores[name] == 0 and table[name]["refused"].startswith(reason), table[name]
    assert scores["deep.wire"] < 100 and scores["endless.wire"] <= 80
    assert scores["within-itself.wire"] < 100 and scores["always.wire"] < 100
    # What leads out of the folder was passed over, and said; what holds a part is nobody's board.
    assert "link.wire" not in table and "class/link.wire is passed over" in said
    assert "class/up is passed over" in said
    assert "class/3-way-switch.wire and class/always-on.wire" in said
    assert "lampholder.wire is not used, since a part that ships has its name." in said

    # No cell is a formula, and no page runs or fetches anything.
    for one in table.values():
        for cell in one.values():
            assert not cell.lstrip("\"' \t").startswith(("@", "\N{FULLWIDTH EQUALS SIGN}")) or cell[0] == "'"
            assert cell[:1] not in ("=", "+", "-", "@", "\t", "\r")
    pages = os.listdir(tmp_path / "pages")
    assert len(pages) == len(table) + 1
    for page in pages:
        is_safe((tmp_path / "pages" / page).read_text("utf-8"), {*pages})
    assert outside == {path: path.stat().st_mtime_ns for path in outside}
    assert sorted(path.name for path in tmp_path.iterdir() if path.suffix != ".wire") == [
        *("class", "pages", "term.db"),
    ]
    assert not (works.parent.parent / "etc").exists()
