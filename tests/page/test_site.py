"""The pages as files: each link of them leads to a file, and nothing goes along that no page shows."""

import posixpath
import re
from io import BytesIO
from urllib.parse import unquote
from zipfile import ZipFile

import pytest
from click.testing import CliRunner

from tests.cli.boards import PART
from tests.page.boards import RIGHT
from wirecheck import files
from wirecheck.cli.serve import command
from wirecheck.page import site as sites
from wirecheck.page.site import site

EXERCISE = (files.folder("boards") / "exercises" / "stair-light" / "exercise.wire").read_text(
    encoding="utf-8"
)
SECRET = "whoever reads this file knows what is asked next"


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "in here").mkdir()
    (tmp_path / "shed.wire").write_text(RIGHT)
    (tmp_path / "in here" / "a #1 & <b>.wire").write_text(RIGHT)
    (tmp_path / "in here" / "pull-chain.wire").write_text(PART)
    (tmp_path / "in here" / "stairs.wire").write_text(
        EXERCISE.replace("box-fill costs 3 points", f"box-fill costs 3 points # {SECRET}")
    )
    (tmp_path / "in here" / "spoiled.wire").write_text('exercise "Spoiled"\nbreaker breaker\n')
    (tmp_path / "faults.wire").write_text(f'faults for "Shed <light>"\nfault 1 L1 burnt out # {SECRET}\n')
    (tmp_path / "large.wire").write_text(RIGHT + "#" * 600_000)
    return tmp_path


@pytest.fixture
def fetched(monkeypatch):
    """As if Python for browsers were there, which the quick tests have no use for."""
    monkeypatch.setattr(files, "has_browser_file", lambda name: True)
    monkeypatch.setattr(files, "browser_file", lambda name: name.encode())
    monkeypatch.setattr(sites, "PACKAGES", ("graphviz",))


def links(page):
    return [unquote(each) for each in re.findall(r'(?:href|src)="([^"#]+)"', page)]


@pytest.mark.slow
def test_each_link_leads_to_a_file(folder, fetched):
    made = site(str(folder)).files
    pages = [name for name in made if name.endswith(".html")]
    assert sorted(pages) == [
        "board/in here/a #1 & <b>.wire.html",
        "board/shed.wire.html",
        "exercise/in here/stairs.wire.html",
        "index.html",
        "ticket/in here/a #1 & <b>.wire.html",
        "ticket/shed.wire.html",
    ]
    for page in pages:
        text = made[page].decode()
        assert len(links(text)) > 2 and text.index("Content-Security-Policy") < text.index("<link")
        for link in links(text):
            target = posixpath.normpath(posixpath.join(posixpath.dirname(page), link))
            assert target in made or (link.endswith("/") and target == "."), (page, link)


def test_only_what_a_page_shows_goes_along(folder, fetched):
    made, left = site(str(folder))
    boards = ZipFile(BytesIO(made["python/boards.zip"]))
    assert boards.namelist() == [
        "shed.wire",
        "in here/a #1 & <b>.wire",
        "in here/stairs.wire",
        "in here/pull-chain.wire",
    ]
    assert boards.read("shed.wire").decode() == RIGHT
    assert boards.read("in here/pull-chain.wire").decode() == PART
    assert left == [
        "Not saved, since it cannot be read or is too large for a page: large.wire.",
        "Not saved, since it is no exercise that can be used: in here/spoiled.wire.",
    ]
    assert "large.wire" in made["index.html"].decode()
    for name, data in made.items():
        assert SECRET.encode() not in data, name
    for name in boards.namelist():
        assert SECRET not in boards.read(name).decode()


def test_questions_go_to_the_worker_and_to_no_server(folder, fetched):
    made = site(str(folder)).files
    assert made["page/sent.js"] == files.page_file("alone.js") != files.page_file("sent.js")
    assert "page/alone.js" not in made
    scripts = [name for name in made if name.startswith("page/") and name.endswith(".js")]
    asked = {name for name in scripts if b"fetch(" in made[name]}
    assert asked == {"page/worker.js"}


@pytest.mark.slow
def test_what_is_packed_is_the_same_whenever_it_is_packed(folder, fetched):
    assert site(str(folder)) == site(str(folder))


def saved(*arguments):
    return CliRunner().invoke(command, list(map(str, arguments)))


def test_a_copy_without_python_for_browsers_says_what_it_lacks(folder, tmp_path, monkeypatch):
    monkeypatch.setattr(files, "has_browser_file", lambda name: name != "pyodide.asm.wasm")
    done = saved(folder, "--save", tmp_path / "out")
    assert done.exit_code == 2
    assert (
        "Not in wirecheck/page/browser: pyodide.asm.wasm. In a clone, .ci/browser fetches them."
        in done.stderr
    )
    assert not (tmp_path / "out").exists()


@pytest.mark.slow
def test_pages_are_written_and_what_was_there_is_no_board(folder, fetched, tmp_path):
    done = saved(folder, "--save", tmp_path / "out")
    assert done.exit_code == 0 and "de-energize" in done.stdout
    assert "Not saved" in done.stdout and "MB" in done.stdout
    for name, data in site(str(folder)).files.items():
        assert (tmp_path / "out" / name).read_bytes() == data
    assert saved(folder, "--save", "-").exit_code == 2
    refused = saved(folder, "--save", tmp_path / "other", "--record", tmp_path / "class.db")
    assert refused.exit_code == 2 and "nothing is handed in" in refused.stderr
    assert not (tmp_path / "other").exists() and not (tmp_path / "class.db").exists()
    assert saved(tmp_path / "none", "--save", tmp_path / "other").exit_code == 2
