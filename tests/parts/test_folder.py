"""The part files of a folder: found by name alone, whatever the name is, and within bounds."""

from __future__ import annotations

import string
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wirecheck import assembly, check_file, files, parts_of
from wirecheck.parts.folder import NO_PART, PartFolder

LETTERS = st.text(string.ascii_letters + string.digits + "_", min_size=1, max_size=8)
# As the language writes a name: words with hyphens between them.
NAMES = st.lists(LETTERS, min_size=1, max_size=3).map("-".join)
SHIPPED = frozenset(files.part_names())


def text(name: str) -> str:
    return f'part {name} "One of mine"\nterminal a contact\n'


@given(NAMES.filter(lambda name: name not in SHIPPED), NAMES)
def test_a_part_is_found_by_its_files_name_where_its_own_name_is_the_same(name: str, inside: str) -> None:
    with TemporaryDirectory() as folder:
        path = Path(folder, f"{name}.wire")
        path.write_text(text(inside))
        board = Path(folder, "the board")
        board.write_text(f'board "B"\nD is {name}\n')
        report = check_file(board)
        assert [(one.part, one.file) for one in report.parts] == (
            [(name, str(path))] if inside == name else []
        )
        assert ("unknown-part" in report.by_rule) == (inside != name)
        # No other name finds the file.
        other = assembly.library_beside(board).part(inside)
        assert other is None or other.file is None or inside == name


@given(st.sampled_from(sorted(SHIPPED)), st.sampled_from(sorted(SHIPPED)))
def test_no_file_beside_a_board_takes_a_shipped_name(name: str, inside: str) -> None:
    with TemporaryDirectory() as folder:
        Path(folder, f"{name}.wire").write_text(text(inside))
        library = assembly.library_beside(Path(folder, "board.wire"))
        for asked in (name, inside):
            part = library.part(asked)
            assert part is not None and part == assembly.shipped_parts().part(asked)
        assert library.passed_over(name) == (str(Path(folder, f"{name}.wire")), None)


@given(st.one_of(st.text(max_size=20), st.text("./\\ab\0", max_size=8)))
def test_no_name_leads_out_of_the_folder(name: str) -> None:
    with TemporaryDirectory() as outer:
        folder = Path(outer, "inner")
        folder.mkdir()
        for place in ("a", "b", "ab"):
            Path(outer, f"{place}.wire").write_text(text(place))
        found = PartFolder(str(folder), beside=True).find(name)
        assert found is None or found.unread == NO_PART or found.text == "" != found.unread


@pytest.mark.parametrize("name", ["", ".", "..", "../a", "/etc/a", ".hidden", "a/b", "a\0b", "n" * 300])
def test_a_name_that_is_no_files_name_finds_nothing(name: str) -> None:
    assert PartFolder("", beside=True).find(name) is None
    assert parts_of("tests").part(name) is None


def test_the_python_interface_is_that_of_the_command(tmp_path: Path) -> None:
    course, work = tmp_path / "course", tmp_path / "work"
    for place in (course, work):
        place.mkdir()
    (course / "lampholder.wire").write_text(text("lampholder"))
    (work / "lampholder.wire").write_text(text("lampholder"))
    (work / "mine.wire").write_text(text("mine"))
    board = work / "board.wire"
    board.write_text('board "B"\nL is lampholder\nM is mine\n')
    alone, given = check_file(board), check_file(board, library=parts_of(course))
    assert alone.parts == (("mine", str(work / "mine.wire"), True),)
    assert given.parts == (
        ("lampholder", str(course / "lampholder.wire"), False),
        ("mine", str(work / "mine.wire"), True),
    )
    assert [one.message for one in alone.by_rule["unknown-part"]] == [
        f"{work / 'lampholder.wire'} is not used, since a part that ships has its name."
    ]
    assert alone.as_data()["parts"] == [{"part": "mine", "file": str(work / "mine.wire"), "beside": True}]
    assert "Parts that do not ship" in alone._repr_html_()
    for nowhere in (tmp_path / "nowhere", board):
        with pytest.raises(OSError, match=nowhere.name):
            parts_of(nowhere)


def test_misspelt_names_cost_a_bounded_time(tmp_path: Path) -> None:
    """Each is compared with the names of a folder, and after the first ones no more."""
    for number in range(50):
        (tmp_path / f"part-{number}.wire").write_text(text(f"part-{number}"))
    library = assembly.library_beside(tmp_path / "board.wire")
    near = [library.missing(f"prat-{number}x")[1] or "" for number in range(80)]
    offered = ["Did you mean part-" in one for one in near]
    assert offered[0] and not any(offered[50:])


def test_parts_that_ask_for_each_other_end(tmp_path: Path) -> None:
    for name, inner in (("a", "b"), ("b", "c"), ("c", "a")):
        (tmp_path / f"{name}.wire").write_text(f'part {name} "X"\nterminal t contact\ni is {inner}\n')
    board = tmp_path / "board.wire"
    board.write_text('board "B"\nD is a\n')
    (finding,) = check_file(board).by_rule["unknown-part"]
    assert "cannot be inside itself" in finding.message
