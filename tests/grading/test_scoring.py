"""Scores that were worked out by hand, from the exercise's lines: see the remark at each.

The exercise gives 30 points for the rough-in, 30 for the trim and 40 for the final; a hazard costs the stage,
a violation 5, a fault 10, `box-fill` 3, and the expectation 20.
"""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.grading.classroom import laid_out, works
from tests.grading.stair import RIGHT, TEXT, scores, sheet, stair, with_changes
from wirecheck.grading.exercise import exercise

# One mistake: on the switch at the foot, the feed and a traveler change places.
SWAPPED = (
    ("W1.black -- S1.common", "W1.black -- S1.traveler-1"),
    ("W2.black -- S1.traveler-1", "W2.black -- S1.common"),
)
LOOSE = (("W3.bare -- L1.ground", ""),)
CROWDED = (("W2.bare -- W3.bare -- pigtail -- S2.ground", "W2.bare -- W3.bare -- S2.ground"),)
SHORT = (("free 8 in, jacket 3/8 in", "free 4 in, jacket 3/8 in"),)
# What is in the ceiling box: its hot on the bare screw, so the metal is live and the lamp is dead.
LIVE_METAL = (("W3.black -- L1.hot", "W3.black -- L1.ground"), ("W3.bare -- L1.ground", "W3.bare -- L1.hot"))
REVERSED = (
    ("W3.black -- L1.hot", "W3.black -- L1.neutral"),
    ("W3.white -- L1.neutral", "W3.white -- L1.hot"),
)

CASES = {
    # Nothing is wrong: 30 + 30 + 40.
    "right": ((), [30, 30, 40], []),
    # The expectation is not met, which costs 20 of the final's 40; the search finds one mistake.
    "feed and traveler swapped": (SWAPPED, [30, 30, 20], [20]),
    # The lamp's ground is loose: a hazard of the trim, which costs all of its 30.
    "ground forgotten": (LOOSE, [30, 0, 40], [30]),
    # Two wires under a screw for one: a violation of the trim, 5.
    "two under one screw": (CROWDED, [30, 25, 40], [5]),
    # 4 in free where 6 are needed (300.14): a violation of the rough-in, 5.
    "free end too short": (SHORT, [25, 30, 40], [5]),
    # One mistake of many consequences: live metal, a dead lamp. The hazard belongs to the trim: 30.
    "metal live": (LIVE_METAL, [30, 0, 40], [30]),
    # One mistake of two: the shell of the lampholder is hot. A hazard of the trim: 30.
    "hot and neutral reversed at the lamp": (REVERSED, [30, 0, 40], [30]),
    # A white for the feed at the foot: all beyond it is the wrong way round. A hazard of the trim: 30.
    "hot and neutral swapped at the foot": (
        (
            ("W1.black -- S1.common", "W1.white -- S1.common"),
            ("W1.white -- W2.white", "W1.black -- W2.white"),
        ),
        [30, 0, 40],
        [30],
    ),
    # Two mistakes: 20 for the expectation, 5 for the free end.
    "swapped and too short": (SWAPPED + SHORT, [25, 30, 20], [5, 20]),
    # Two mistakes: the expectation, and the two wires under one screw.
    "swapped and crowded": (SWAPPED + CROWDED, [30, 25, 20], [5, 20]),
    # Two mistakes: the hazard takes all of the trim, so that nothing is left for the crowded screw.
    "ground forgotten and crowded": (LOOSE + CROWDED, [30, 0, 40], [30, 0]),
    # Two violations of the same stage: 30 - 5 - 5.
    "two free ends too short": (
        (*SHORT, ("free 7 in, jacket 1/2 in, secured 7 in", "free 5 in, jacket 1/2 in, secured 7 in")),
        [20, 30, 40],
        [5, 5],
    ),
    # The breaker was handed out: it is judged as it was, and the change costs 5 at the first stage.
    "handed out changed": ((("breaker TP.1 15 A", "breaker TP.1 20 A"),), [25, 30, 40], [5]),
    # A smaller box of her own choice is such a change too: box fill is judged with the box that was given.
    "box changed": ((("box FOOT device 20.3 cu in", "box FOOT device 14 cu in"),), [25, 30, 40], [5]),
}


QUICK = ("right", "feed and traveler swapped", "metal live", "ground forgotten and crowded", "box changed")


@pytest.mark.parametrize(
    "name", [pytest.param(one, marks=[pytest.mark.slow] * (one not in QUICK)) for one in CASES]
)
def test_scores_are_those_worked_out_by_hand(name):
    changes, left, taken = CASES[name]
    done = sheet(with_changes(*changes))
    assert scores(done) == left, done.taken
    assert [one.points for one in done.taken] == taken


def test_a_mistake_of_many_consequences_counts_once_and_names_them():
    (one,) = sheet(with_changes(*LIVE_METAL)).taken
    assert one.severity == "hazard" and one.follows
    assert one.to_do == ("Look again at the screws of L1.",)
    assert one.mistake == "At LIGHT, W3.black and W3.bare are swapped."


def test_without_the_search_each_finding_counts():
    changed = with_changes(*LIVE_METAL)
    assert len(sheet(changed, effort=0).taken) > len(sheet(changed).taken) == 1


@pytest.mark.parametrize(
    ("shown", "to_do", "follows"),
    [
        ("as questions", ("Look again at the screws of L1.",), True),
        ("in full", ("Swap them.",), True),
        ("not", (), False),
    ],
)
def test_the_mends_are_shown_as_the_exercise_says(shown, to_do, follows):
    line = {
        "as questions": "show mends as questions",
        "in full": "show mends in full",
        "not": "show no mends",
    }
    given_text = TEXT.replace("show mends as questions", line[shown])
    (one,) = sheet(with_changes(*LIVE_METAL), stair(given_text)).taken
    assert (len(one.to_do), bool(one.follows)) == (len(to_do), follows)
    assert shown != "as questions" or one.to_do == to_do
    assert ("swapped" in one.message) == (shown == "in full")


def test_a_rule_has_its_own_price():
    small = with_changes(("box FOOT device 20.3 cu in", "box FOOT device 12.5 cu in"), text=TEXT)
    work = with_changes(("box FOOT device 20.3 cu in", "box FOOT device 12.5 cu in"))
    (one,) = sheet(work, stair(small)).taken
    assert (one.rule, one.points) == ("box-fill", 3)
    free = small.replace("box-fill costs 3 points", "box-fill costs 0 points")
    assert sheet(work, stair(free)).taken == ()
    dear = small.replace("box-fill costs 3 points", "box-fill costs the stage")
    assert scores(sheet(work, stair(dear)))[0] == 0


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "There is nothing in it."),
        ("\n\n  \n", "There is nothing in it."),
        (with_changes(("code nec 2023", 'code nec 2023\nfor "Porch light"')), 'It is for "Porch light"'),
        ('board "Stair light"\npanel TP 120/240 V', "Nothing is joined in it yet."),
        # Caps join nothing.
        (re.sub(r"^  \S+ -- .*$", "  cap W1.black", RIGHT, flags=re.M), "Nothing is joined in it yet."),
        ("hello", "It is not a board: no board is begun in it"),
        ('part lamp "A lamp"\nterminal a hot', "It is not a board: it is a part"),
    ],
)
def test_what_cannot_be_graded_has_nothing_and_the_reason(text, why):
    done = sheet(text)
    assert done.refused.startswith(why) and done.score == 0 and done.points == 100
    assert done.taken == ()


def test_what_is_not_joined_yet_leaves_the_later_stages_without_points():
    part = RIGHT[: RIGHT.index("at HEAD")] + "expect L1 from S1, S2\n"
    done = sheet(part)
    # The splice of the rough-in in HEAD is not there: 5, as where the rough-in alone is graded.
    assert scores(done) == [25, 0, 0] and scores(sheet(part, stage="rough-in")) == [25]
    assert done.taken[1].message == "Wires come to HEAD and LIGHT, and nothing is joined there yet."


def test_who_she_is_comes_from_her_line_or_from_the_file():
    assert sheet(RIGHT).student == "work"
    assert sheet(RIGHT.replace("code nec 2023", 'code nec 2023\nstudent " Ana Ruiz "')).student == "Ana Ruiz"
    assert sheet(RIGHT.replace("code nec 2023", 'code nec 2023\nstudent ""')).student == "work"


def test_what_she_asks_of_her_own_board_is_not_asked():
    lies = RIGHT.replace("expect L1 from S1, S2", "expect L1 live\nexpect S1 live\nexpect nobody live")
    assert sheet(lies) == sheet(RIGHT)._replace(trace=sheet(lies).trace)


@pytest.mark.parametrize("line", ["ambient 60 C", "a hazard costs 0 points", "stage final 900 points"])
def test_how_it_is_judged_is_nobodys_to_choose(line):
    done = sheet(with_changes(("panel TP", f"{line}\npanel TP"), *LOOSE))
    assert scores(done)[1:] == [0, 40]


def test_another_edition_is_a_change():
    done = sheet(with_changes(("code nec 2023", "code nec 2017")))
    assert scores(done) == [25, 30, 40]
    assert "code nec 2023 was handed out" in done.taken[0].message


def test_a_line_that_cannot_be_read_costs_and_hides_nothing():
    done = sheet(with_changes(("W1.white -- TP.neutral", "W1.white -> TP.neutral"), *LOOSE))
    assert {one.rule for one in done.taken} >= {"syntax"}
    assert done.score < 70


def test_names_that_are_not_there_are_said_with_her_own_lines():
    text = with_changes(("W3.black -- L1.hot", "W3.black -- L9.hot"))
    (unknown,) = [one for one in sheet(text).taken if one.rule == "unknown-name"]
    assert text.split("\n")[unknown.line - 1].strip() == "W3.black -- L9.hot"


@pytest.mark.parametrize("name", ["stair-light", "kitchen-multiwire", "cooling-hookup"])
@pytest.mark.slow
def test_points_always_add_up_and_the_layout_changes_nothing(name):
    import random

    from tests.grading.classroom import exercise_file
    from wirecheck import shipped_parts

    given_exercise = exercise(exercise_file(name).read_text("utf-8"), name, shipped_parts())
    dice = random.Random(3)
    for _, text in works(name, 40, seed=7):
        done = sheet(text, given_exercise)
        adds_up(done)
        title, _, *rest = text.split("\n")
        plain = "\n".join(line for line in (title, *rest) if line.strip())
        other = sheet(laid_out(plain, "Somebody", dice), given_exercise)
        assert mistakes(other) == mistakes(done)
        assert other.stages == done.stages and other.trace.same == done.trace.same


def mistakes(done):
    """Each mistake without its lines; which of them finds its stage used up goes by the order of lines."""
    return sorted(re.sub(r"line(=| )\d+", "line", repr(one._replace(points=0.0))) for one in done.taken)


def adds_up(done):
    for stage in done.stages:
        taken = sum(one.points for one in done.taken if one.stage == stage.stage)
        assert stage.score + taken == stage.points and stage.score >= 0
    assert done.score + sum(one.points for one in done.taken) == done.points


@given(st.lists(st.sampled_from([SWAPPED, LOOSE, CROWDED, SHORT]), unique=True, max_size=3), st.randoms())
def test_points_add_up_whatever_mistakes_meet(changes, dice):
    text = with_changes(*(one for each in changes for one in each))
    done = sheet(text, effort=0)
    adds_up(done)
    moved = laid_out(
        "\n".join(line for line in text.split("\n") if line.strip() and line[0] != "#"), "X", dice
    )
    assert sheet(moved, effort=0).stages == done.stages


TYPO = (("W3.black -- L1.hot", "W3.black -- L1.hut"),)


@pytest.mark.parametrize(
    "slip",
    [
        TYPO,
        (("W3.black -- L1.hot", "W3.blak -- L1.hot"),),
        (("W3.black -- L1.hot", "W3.black - L1.hot"),),
        (("W3.black -- L1.hot", "W3.black \u2013 L1.hot"),),
    ],
)
def test_a_slip_of_the_pen_costs_once(slip):
    """The light never comes on because of it: that costs 20, and the slip alone 10."""
    done = sheet(with_changes(*slip))
    (one,) = done.taken
    assert (one.rule in ("syntax", "unknown-name"), one.points, done.score) == (True, 20, 80)
    assert "L1 never comes on." in " ".join(one.follows)
    assert one.to_do


def test_a_line_of_nonsense_gains_nothing():
    nonsense = ("at LIGHT", "W1 W2 W3 S1 S2 L1 TP -- everything --\nat LIGHT")
    for wrong in (SWAPPED, LOOSE, SWAPPED + LOOSE, SWAPPED + CROWDED):
        honest = sheet(with_changes(*wrong), effort=0)
        assert sheet(with_changes(*wrong, nonsense), effort=0).score <= honest.score


def test_what_only_the_changed_thing_has_is_not_charged_again():
    thicker = with_changes(
        ("cable W3 14/2 NM-B", "cable W3 14/3 NM-B"),
        ("at LIGHT\n", "at LIGHT\n  cap W3.red\n"),
        ("at HEAD\n", "at HEAD\n  cap W3.red\n"),
    )
    assert scores(sheet(thicker)) == [25, 30, 40]


def test_a_mistake_costs_the_expectation_that_it_spoils_though_it_hides_it():
    """The hot on the neutral screw is a short: nothing lights, and the short alone is told."""
    short = with_changes(
        ("W3.white -- L1.neutral", "W3.black -- W3.white -- L1.neutral"), ("  W3.black -- L1.hot\n", "")
    )
    dear = TEXT.replace("a hazard costs the stage", "a hazard costs 2 points")
    done = sheet(short, stair(dear))
    assert max(one.points for one in done.taken) == 20, done.taken


def test_a_joint_that_cannot_be_read_is_no_joint_that_is_not_there():
    done = sheet(RIGHT.replace(" -- ", " \u2013 "))
    assert done.refused.startswith("No joint of it can be read. On line 23, ") and "--" in done.refused


def test_advice_and_what_was_not_measured_stand_on_the_sheet():
    import re

    bare = re.sub(r" \((?:free|secured)[^)]*\)", "", RIGHT)
    done = sheet(bare, effort=0)
    assert done.score == 100 and any("tape measure" in one for one in done.remarks)
    assert not any("tape measure" in one for one in sheet(RIGHT, effort=0).remarks)
    assert not any("tape measure" in one for one in sheet(bare, stage="trim", effort=0).remarks)
