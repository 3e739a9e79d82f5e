"""The rules and the parts as pages in a folder: whole, harmless, found by their words, and linked."""

from __future__ import annotations

import html
import os
import re
from collections import Counter
from pathlib import Path

import pytest

from tests.cli.boards import PART, wirecheck
from tests.page.browsers import chromium, expected, quiet_page, violations
from wirecheck import files
from wirecheck.caution import CAUTION
from wirecheck.report.manual_pages import RulePage, pages
from wirecheck.rules import manuals

HOSTILE = """part gong "</title><script>document.title = 'bad'</script>"
source "<img src=x onerror=bad()>"
terminal a contact "\\"><script src=//x></script>"
terminal b contact "&lt;b&gt;"
a -- b
rating <b> 3 V
"""
MANUALS = manuals()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What `wirecheck parts -o` writes beside a part of one's own that is up to no good."""
    work = tmp_path_factory.mktemp("work")
    (work / "gong.wire").write_text(HOSTILE, encoding="utf-8")
    (work / "index.wire").write_text(PART.replace("pull-chain", "index"), encoding="utf-8")
    done = wirecheck("parts", "-o", "new/manual", folder=work)
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")
    return work / "new" / "manual"


def test_a_part_with_any_name_has_a_page_with_a_safe_one() -> None:
    from wirecheck import shipped_parts

    lamp = shipped_parts().part("lampholder")
    assert lamp is not None
    hostile = lamp._replace(name='../"><script>', file="x.wire", title="<b>")
    board = "L1 is lampholder in A\nL2 is '<i>' in A\nat A\n  W1.black -- L1.hot  # finds: <u>"
    manual = MANUALS["box-fill"]._replace(why="A <p>.\n\nB & C.")
    made = dict(pages([RulePage(manual, board, "", None)], [lamp, hostile], {"bulb": "lampholder"}))
    assert list(made) == ["rule-box-fill.html", "part-lampholder.html", "own-2.html", "index.html"]
    assert all(
        "<script>" not in page.partition("<body>")[2].rpartition("<script>\n")[0] for page in made.values()
    )
    assert "<mark>  W1.black -- L1.hot  # finds: &lt;u&gt;</mark>" in made["rule-box-fill.html"]
    assert 'L1 is <a href="part-lampholder.html">lampholder</a> in A' in made["rule-box-fill.html"]
    assert '<a href="rule-box-fill.html">' in made["part-lampholder.html"]
    assert "<p>A &lt;p&gt;.</p>\n<p>B &amp; C.</p>" in made["rule-box-fill.html"]
    assert 'data-words="bulb"' in made["index.html"]


@pytest.mark.slow
def test_every_rule_and_every_part_has_its_page_and_every_link_an_end(folder: Path) -> None:
    there = {path.name for path in folder.iterdir()}
    own = {name for name in there if name.startswith("own-")}
    rules, parts = (
        {f"rule-{name}.html" for name in MANUALS},
        {f"part-{name}.html" for name in files.part_names()},
    )
    assert there == {"index.html", *rules, *parts, *own} and len(own) == 2
    linked: Counter[str] = Counter()
    for path in folder.iterdir():
        page = path.read_text(encoding="utf-8")
        assert CAUTION in page and "default-src 'none'" in page
        tags = re.sub(r"<(style|script)>.*?</\1>", "", page, flags=re.DOTALL)
        links = re.findall(r'href="([^"]*)"', tags)
        assert set(links) <= there and not re.search(r"<[^>]*\s(?:src|on\w+|style)=", tags), path
        linked.update(set(links))
    assert all(linked[name] >= 1 for name in there)
    assert linked["part-lampholder.html"] > 20  # The boards of rules lead to their parts.


@pytest.mark.slow
def test_a_page_says_what_the_command_says(folder: Path) -> None:
    def flat(page: str) -> str:
        return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", page)).split())

    for command, name in (
        ("rules", "box-fill"),
        ("rules", "ground-fault-protection"),
        ("parts", "gas-furnace"),
    ):
        said = wirecheck(command, name).stdout.decode()
        page = flat((folder / f"{command[:-1]}-{name}.html").read_text(encoding="utf-8"))
        words = re.findall(r"\w{5,}", said)
        assert len(words) > 50 and [word for word in words if word not in page] == []


@pytest.mark.slow
def test_the_rules_alone_are_written_with_the_parts_that_ship(tmp_path: Path) -> None:
    (tmp_path / "gong.wire").write_text(HOSTILE, encoding="utf-8")
    assert wirecheck("rules", "-o", ".", folder=tmp_path).returncode == 0
    assert not list(tmp_path.glob("own-*"))
    before = (tmp_path / "rule-box-fill.html").read_bytes()
    assert wirecheck("rules", "-o", ".", folder=tmp_path).returncode == 0
    assert (tmp_path / "rule-box-fill.html").read_bytes() == before


@pytest.mark.slow
@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("rules", "box-fill", "-o", "x"), b"leave RULE out"),
        (("parts", "lampholder", "-o", "x"), b"leave PART"),
        (("parts", "--words", "-o", "x"), b"leave PART"),
        (("rules", "-o", "-"), b"Name a folder"),
        (("rules", "-o", "gong.wire"), b"gong.wire"),
        (("parts", "-o", "taken"), b"taken/index.html is read by this"),
        (("parts", "-o", "linked"), b"it ends in .wire"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(
    arguments: tuple[str, ...], said: bytes, tmp_path: Path
) -> None:
    (tmp_path / "gong.wire").write_text(HOSTILE, encoding="utf-8")
    for name in ("taken", "linked"):
        (tmp_path / name).mkdir()
    os.link(tmp_path / "gong.wire", tmp_path / "taken" / "index.html")
    (tmp_path / "linked" / "index.html").symlink_to("../gong.wire")
    before = sorted(tmp_path.rglob("*"))
    done = wirecheck(*arguments, folder=tmp_path)
    assert (done.returncode, done.stdout) == (2, b"") and said in done.stderr
    assert sorted(tmp_path.rglob("*")) == before
    assert (tmp_path / "gong.wire").read_text(encoding="utf-8") == HOSTILE


@pytest.mark.slow
@pytest.mark.chromium
def test_in_a_browser_from_a_file_with_nothing_for_axe_to_find(folder: Path) -> None:
    own = sorted(path.name for path in folder.glob("own-*"))
    seen = [
        "index.html",
        "rule-box-fill.html",
        "rule-ground-fault-protection.html",
        "part-gas-furnace.html",
        *own,
    ]
    with chromium() as browser:
        for width, scheme in ((390, "light"), (390, "dark"), (1200, "light")):
            with quiet_page(browser, None, {"width": width, "height": 844}, color_scheme=scheme) as page:
                for name in seen:
                    page.goto((folder / name).as_uri())
                    assert violations(page) == [] and page.title() != "bad"
        with quiet_page(browser, None) as page:
            page.goto((folder / "index.html").as_uri())
            expected(page, "#count").to_have_text(re.compile(r"^(\d+) of \1$"))
            page.fill("#search", "OUTLET split  receptacle")
            expected(page, "li:visible").to_have_count(1)
            page.fill("#search", "no-such-thing")
            expected(page, "li:visible").to_have_count(0)
            expected(page, "h2:visible").to_have_count(0)
            page.fill("#search", "box-fill")
            page.click("text=box-fill")
            expected(page, "h1").to_have_text("box-fill")
            page.click("text=All rules and parts")
            expected(page, "#search").to_be_visible()


@pytest.mark.slow
@pytest.mark.chromium
def test_without_a_script_all_is_listed_and_on_paper_no_box_is(folder: Path) -> None:
    with chromium() as browser:
        with quiet_page(browser, None, java_script_enabled=False) as page:
            page.goto((folder / "index.html").as_uri())
            expected(page, "#search").to_be_hidden()
            expected(page, "li:visible").to_have_count(len(MANUALS) + len(files.part_names()) + 2)
        with quiet_page(browser, None) as page:
            page.goto((folder / "index.html").as_uri())
            page.emulate_media(media="print")
            expected(page, "#search").to_be_hidden()
