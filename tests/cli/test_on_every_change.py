"""The hooks of `.pre-commit-hooks.yaml`, and the workflow of the README, on boards that change."""

import json
import re
import shlex
import subprocess
import sys

import pytest
import yaml

from tests.cli.boards import RIGHT, ROOT
from tests.page.served import environment
from wirecheck.language.tidy import tidy

pytestmark = pytest.mark.slow

HOOKS = ROOT / ".pre-commit-hooks.yaml"
TIDY = tidy(RIGHT)
WRONG = TIDY.replace("breaker BP.3 15 A", "breaker BP.3 20 A")
PART = 'part my-lamp "A lamp"\nterminal hot hot\n'


def here(command):
    """A command line of wirecheck, as that of this Python."""
    program, *rest = shlex.split(command)
    assert program == "wirecheck"
    return [sys.executable, "-m", "wirecheck", *rest]


def run(command, folder):
    surroundings = environment() | {"PRE_COMMIT_HOME": str(folder.parent / "kept")}
    return subprocess.run(command, cwd=folder, env=surroundings, capture_output=True, text=True, timeout=300)


@pytest.fixture
def boards(tmp_path):
    """A git repository with the hooks, which run where they stand: nothing is installed for them."""
    folder = tmp_path / "boards"
    folder.mkdir()
    hooks = [
        hook | {"language": "unsupported", "entry": shlex.join(here(hook["entry"]))}
        for hook in yaml.safe_load(HOOKS.read_text())
    ]
    config = {"repos": [{"repo": "local", "hooks": hooks}]}
    (folder / ".pre-commit-config.yaml").write_text(yaml.safe_dump(config))
    assert run(["git", "init", "-q"], folder).returncode == 0
    return folder


def tried(folder, hook, **texts):
    for name, text in texts.items():
        (folder / f"{name}.wire").write_text(text)
    assert run(["git", "add", "."], folder).returncode == 0
    return run([sys.executable, "-m", "pre_commit", "run", hook], folder)


def test_the_hooks_are_well_formed():
    found = run([sys.executable, "-m", "pre_commit", "validate-manifest", str(HOOKS)], ROOT)
    assert found.returncode == 0, found.stdout


def test_a_wrong_board_is_held_back_and_a_part_is_none(boards):
    (boards / "notes.txt").write_text("no board")
    assert "no files to check" in tried(boards, "wirecheck-check").stdout
    passed = tried(boards, "wirecheck-check", shed=TIDY, lamp=PART)
    assert passed.returncode == 0, passed.stdout
    held = tried(boards, "wirecheck-check", shed=WRONG)
    assert held.returncode == 1 and "overcurrent-protection" in held.stdout


def test_a_board_is_laid_out_and_then_passes(boards):
    held = tried(boards, "wirecheck-tidy", shed=TIDY.replace("\n  ", "\n"))
    assert held.returncode == 1 and "files were modified" in held.stdout
    assert (boards / "shed.wire").read_text() == TIDY
    assert tried(boards, "wirecheck-tidy").returncode == 0


def test_the_workflow_marks_what_is_wrong(boards):
    (block,) = re.findall(r"```yaml\n(name: boards\n.*?)```", (ROOT / "README.md").read_text(), re.DOTALL)
    steps = yaml.safe_load(block)["jobs"]["boards"]["steps"]
    commands = [step["run"] for step in steps if step.get("run", "").startswith("wirecheck ")]
    assert len(commands) == 3
    for text, status in ((TIDY, 0), (WRONG, 1)):
        (boards / "shed.wire").write_text(text)
        laid_out, marked, reported = (run(here(command), boards) for command in commands)
        assert [laid_out.returncode, marked.returncode, reported.returncode] == [0, status, status]
        assert bool(re.search(r"^::error file=shed\.wire,line=4", marked.stdout, re.MULTILINE)) == bool(
            status
        )
        (of,) = [step["with"]["sarif_file"] for step in steps if "sarif_file" in step.get("with", {})]
        results = json.loads((boards / of).read_text())["runs"][0]["results"]
        assert any(one["ruleId"] == "overcurrent-protection" for one in results) == bool(status)
