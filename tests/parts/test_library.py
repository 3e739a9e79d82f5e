"""The library: lazy, patient with circles, bounded."""

from __future__ import annotations

from collections import Counter

from tests.parts.shelf import of
from wirecheck import files
from wirecheck.parts.library import MOST_DEEP, MOST_INSIDE, Library


def test_only_what_is_asked_for_is_read_and_only_once() -> None:
    asked: Counter[str] = Counter()

    def text_of(name: str) -> str | None:
        asked[name] += 1
        return files.part_text(name)

    library = Library(text_of, files.part_names)
    assert library.names() == sorted(files.part_names())
    assert not asked
    assert library.part("lampholder") is library.part("lampholder")
    assert asked == {"lampholder": 1}
    library.part("gas-furnace")
    assert set(asked.values()) == {1}
    assert "3-way-switch" not in asked


def test_an_unknown_part_is_none() -> None:
    assert of().part("nothing") is None


def test_a_part_that_is_missing_inside_is_a_problem_and_what_hangs_on_it_is_left_out() -> None:
    outer = of(
        wire='part wire "A wire"\nterminal a contact\nterminal b contact\na -- b\n',
        outer='part outer "Outer"\nterminal a contact\ninner is wier\n'
        "inner.a -- a\na -- inner.b when inner is up\n",
    ).part("outer")
    assert outer is not None
    assert [problem.rule for problem in outer.problems] == ["unknown-part"]
    assert outer.problems[0].help == "Did you mean wire?"
    assert outer.children == ()
    assert outer.contacts == ()


def test_a_part_inside_itself_is_a_problem_and_not_a_crash() -> None:
    library = of(
        a='part a "A"\nterminal t contact\nb is b\nb.t -- t\n',
        b='part b "B"\nterminal t contact\nc is c\nc.t -- t\n',
        c='part c "C"\nterminal t contact\na is a\na.t -- t\n',
    )
    a = library.part("a")
    assert a is not None
    assert a.problems == ()
    c = library.part("c")
    assert c is not None
    assert "cannot be inside itself" in c.problems[0].message
    assert "a is in c, which is in b, which is in a" in c.problems[0].message
    assert c.children == ()


def test_parts_that_double_at_each_level_are_bounded() -> None:
    texts = {"level0": 'part level0 "Level"\nterminal t contact\n'}
    for level in range(1, 200):
        inner = f"one is level{level - 1}\ntwo is level{level - 1}\n"
        texts[f"level{level}"] = f'part level{level} "Level"\nterminal t contact\n{inner}'
    library = Library(texts.get, lambda: texts)

    def count(name: str) -> int:
        part = library.part(name)
        assert part is not None
        return 1 + sum(count(child.part) for child in part.children)

    for level in range(200):
        library.part(f"level{level}")
    assert max(count(f"level{level}") for level in range(200)) <= MOST_INSIDE
    deepest = Library(texts.get, lambda: texts).part("level199")
    assert deepest is not None


def test_an_own_part_comes_before_a_shipped_one() -> None:
    own = {"lampholder": 'part lampholder "My own"\nterminal hot hot "the hot"\n'}
    library = Library(
        lambda name: own.get(name) or files.part_text(name), lambda: {*own, *files.part_names()}
    )
    mine = library.part("lampholder")
    assert mine is not None
    assert mine.title == "My own"


def test_how_deep_parts_stand_in_one_another_is_bounded_whichever_is_asked_for_first() -> None:
    texts = {f"p{level}": f'part p{level} "x"\ninner is p{level - 1}\n' for level in range(1, 400)}
    texts["p0"] = 'part p0 "x"\n'
    library = Library(texts.get, lambda: texts)
    faulty = [level for level in range(400) if (made := library.part(f"p{level}")) and made.problems]
    assert faulty[0] == MOST_DEEP + 1
    made = library.part(f"p{MOST_DEEP + 1}")
    assert made is not None
    assert made.children == ()
    assert made.problems[0].message == "With p12 there would be 13 parts within a part; 12 is the most."
