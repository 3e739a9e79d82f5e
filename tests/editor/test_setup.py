"""How editors are set up: what the command prints for each, and one of them started with its lines."""

import json
import os
import subprocess
import sys
import tomllib
from pathlib import Path
from xml.etree import ElementTree

import pytest
import yaml
from click.testing import CliRunner

from tests.page.served import environment
from wirecheck import files
from wirecheck.cli import commands
from wirecheck.report import guide

SETUPS = {name: guide.lessons([files.setup_text(name)])[0] for name in files.setup_names()}
READERS = {
    ".json": json.loads,
    ".sublime-settings": json.loads,
    ".sublime-syntax": lambda text: yaml.safe_load(text.removeprefix("%YAML 1.2\n")),
    ".toml": tomllib.loads,
    ".xml": ElementTree.fromstring,
}

WRONG = 'board "Shed"\npanel LP 120 V\nbraeker LP.1 15 A\n'
LOOK = """
vim.wait(100000, function() return #vim.diagnostic.get(0) > 0 end)
local there = vim.diagnostic.get(0)[1]
vim.api.nvim_win_set_cursor(0, { 2, 1 })
local asked = { textDocument = { uri = vim.uri_from_bufnr(0) }, position = { line = 1, character = 1 } }
local _, told = next(vim.lsp.buf_request_sync(0, "textDocument/hover", asked, 100000))
local said = { there.lnum + 1, there.message, told.result.contents.value, vim.bo.omnifunc }
vim.fn.writefile({ vim.fn.json_encode(said) }, "said.json")
vim.cmd("quitall!")
"""


def typed(name):
    """The files of a setup."""
    return {file: texts[-1] for file, texts in guide.typed([SETUPS[name]]).items()}


@pytest.mark.parametrize("name", SETUPS)
def test_the_lines_are_printed_as_they_are_to_be_typed(name):
    done = CliRunner().invoke(commands, ["editor", "--setup", name])
    assert done.exit_code == 0 and done.stdout.startswith(SETUPS[name].title)
    printed = {line.strip() for line in done.stdout.splitlines()}
    for file, text in typed(name).items():
        assert {line.strip() for line in text.splitlines()} <= printed
        READERS.get(Path(file).suffix, str)(text)
    assert "pip install 'wirecheck[editor]'" in done.stdout


def test_each_says_with_what_it_was_tried_or_that_it_was_not():
    for setup in SETUPS.values():
        assert any(
            block.text.startswith(("Tried with ", "Not tried: "))
            for block in setup.blocks
            if isinstance(block, guide.Words)
        )


@pytest.mark.slow
@pytest.mark.neovim
def test_neovim_shows_what_is_wrong_and_what_a_thing_is(tmp_path):
    (tmp_path / "shed.wire").write_text(WRONG)
    (tmp_path / "look.lua").write_text(LOOK)
    (tmp_path / "init.lua").write_text(typed("neovim")["init.lua"])
    path = os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]])
    subprocess.run(
        ["nvim", "--headless", "-u", "init.lua", "shed.wire", "-S", "look.lua"],
        cwd=tmp_path,
        env=environment() | {"PATH": path, "HOME": str(tmp_path)},
        timeout=300,
        check=True,
    )
    line, found, told, completes = json.loads((tmp_path / "said.json").read_text())
    assert line == 3 and 'did you mean "breaker"' in found
    assert told.startswith("It is written: panel ") and "lsp" in completes
