"""The pages as files, in a real browser, from a server that knows nothing of boards."""

import asyncio
import functools
import json
import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer

import pytest

from tests.cli.boards import wirecheck
from tests.page.boards import RIGHT, WRONG
from tests.page.browsers import chromium, expected, quiet_page, violations
from wirecheck import files
from wirecheck.page.alone import Alone
from wirecheck.page.answers import board_answer
from wirecheck.page.question import question

pytestmark = [pytest.mark.slow, pytest.mark.chromium, pytest.mark.saved]

LOADS = 60_000
"""Milliseconds for the first answer, on a machine that does much else."""
BOARDS = files.folder("boards")
EXERCISE = BOARDS / "exercises" / "stair-light" / "exercise.wire"
# A sample of what ships: of each eighth folder what is right in it and some of what is wrong.
SAMPLE = [path for place in sorted(BOARDS.iterdir())[::8] for path in sorted(place.glob("*.wire"))[:3]]


class Quiet(SimpleHTTPRequestHandler):
    """Gives out files, and says nothing of it."""

    def log_message(self, *said):
        pass


@contextmanager
def given_out(folder):
    """The address of a plain server of files."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=folder))
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    """The pages lie in a folder of a school's server, beside other things."""
    folder, school = (tmp_path_factory.mktemp(name) for name in ("boards", "school"))
    (folder / "hall").mkdir()
    (folder / "right.wire").write_text(RIGHT)
    wrong = BOARDS / "stair-light" / "wrong-traveler-on-common.wire"
    (folder / "hall" / "stair light.wire").write_bytes(wrong.read_bytes())
    (folder / "hall" / "exercise.wire").write_bytes(EXERCISE.read_bytes())
    (folder / "heat.wire").write_bytes((BOARDS / "heating-call" / "right.wire").read_bytes())
    done = wirecheck("serve", ".", "--save", school / "wiring", folder=folder)
    assert done.returncode == 0, done.stderr
    with given_out(school) as server:
        yield f"{server}/wiring/"


@pytest.fixture(scope="module")
def browser():
    with chromium() as opened:
        yield opened


@pytest.fixture
def page(browser, address):
    with quiet_page(browser, address, viewport={"width": 1440, "height": 900}) as opened:
        opened.set_default_timeout(LOADS)
        yield opened


def says(page, selector, words):
    expected(page, selector).to_contain_text(words, timeout=LOADS)


def test_a_stair_light_is_put_right_and_powered_and_nothing_comes_from_elsewhere(page, address):
    asked = []
    page.context.on("request", lambda request: asked.append((request.method, request.url)))
    page.goto(address)
    page.click('main a[href="board/hall/stair%20light.wire.html"]')
    says(page, "#verdict", "Loading what checks boards")
    says(page, "#verdict", "1 fault")
    expected(page, '#picture [id="finding-1"]').to_be_attached()
    page.click("#findings button:has-text('Try it') >> nth=0")
    says(page, "#after-verdict", "No problem found")
    page.click("#take")
    says(page, "#verdict", "No problem found")
    expected(page, '#picture [id="finding-1"]').not_to_be_attached()
    mended = page.input_value("#text")
    page.check("input[value=power]")
    page.check("#on")
    says(page, "#runs", "L1")
    before, after = ("runs", "off") if "runs" in page.inner_text("#runs") else ("off", "runs")
    says(page, "#runs", f"L1{before}")
    page.click('#picture [id="label-S1"]')
    says(page, "#runs", f"L1{after}")
    page.reload()
    says(page, "#verdict", "No problem found")
    assert page.input_value("#text") == mended
    assert len(asked) > 20
    assert [each for each in asked if each[0] != "GET" or not each[1].startswith(address)] == []


def test_a_call_is_played_a_meter_reads_and_a_part_is_found(page, address):
    page.goto(f"{address}board/heat.wire.html")
    says(page, "#verdict", "No problem found")
    page.check("input[value=power]")
    page.check("#on")
    page.check("#calls >> text=heat")
    page.click("#play")
    expected(page, "#chart svg").to_be_visible(timeout=LOADS)
    page.check("input[value=place]")
    page.fill("#part", "three-way")
    says(page, "#parts", "3-way")
    page.goto(f"{address}board/right.wire.html")
    page.check("input[value=meter]")
    page.check("#powered")
    page.fill("#red", "LP.1")
    page.fill("#black", "LP.neutral")
    says(page, "#display", "120 V")


def test_an_exercise_begins_and_is_not_judged_before_it_is_handed_in(page, address):
    page.goto(address)
    page.click("main a:has-text('Stair light from two landings')")
    says(page, "#verdict", "All of it can be read.")
    says(page, "#exercise", "Nothing is handed in here, since no record is kept. Save a copy")
    expected(page, "#hand-in").to_have_count(0)


def test_a_ticket_is_the_same_here_and_there_and_is_closed(page, address, tmp_path):
    page.goto(address)
    page.click("summary")
    page.click('main a[href="ticket/right.wire.html"]')
    expected(page, "#look").to_be_enabled(timeout=LOADS)
    expected(page, "#complaints").not_to_contain_text("Loading", timeout=LOADS)
    complaints = page.locator("#complaints p").all_inner_texts()
    page.click("#look")
    says(page, "#answers", "look")
    page.click("summary")
    page.click("[data-line=stop]")
    says(page, "#newest", ".")
    expected(page, "#look").to_be_disabled(timeout=LOADS)
    (kept,) = page.evaluate("Object.entries(localStorage)")
    assert kept[0] == "wirecheck-ticket:wiring/right.wire::"
    kept = json.loads(kept[1])
    (tmp_path / "right.wire").write_text(RIGHT)
    # The browser's driver has a loop of its own in this thread.
    with ThreadPoolExecutor() as beside:
        told = beside.submit(asyncio.run, here(tmp_path, {**kept, "file": "right.wire", "text": ""})).result()
    assert told["complaints"] == complaints and kept["lines"] == ["look", "stop"]
    assert told["outcome"].split() == page.inner_text("#newest").split()


async def here(folder, step):
    """What comes of a step on a ticket, from the same Python on this machine."""
    alone = Alone(str(folder))
    while "trying" in (told := json.loads(await alone.answered("/ask", json.dumps(step)))):
        pass
    return told


def asked_of(page, address, where, questions):
    """What a page is answered, as its script has it."""
    return page.evaluate(
        """async ([script, where, questions]) => {
          const {sent} = await import(script);
          return Promise.all(questions.map((question) => sent(where, question)));
        }""",
        [f"{address}page/sent.js", where, questions],
    )


def test_what_is_found_and_drawn_is_what_the_command_line_finds_and_draws(page, address, tmp_path):
    questions = []
    for number, path in enumerate(SAMPLE):
        (tmp_path / f"{number}.wire").write_bytes(path.read_bytes())
        text = path.read_text(encoding="utf-8")
        questions.append({"file": f"{number}.wire", "text": text, "width": 700, "height": 400, "power": True})
    page.goto(address)
    answers = asked_of(page, address, "/check", questions)
    for asked, answer in zip(questions, answers, strict=True):
        here = board_answer(str(tmp_path / asked["file"]), question(json.dumps(asked).encode()))
        assert answer == json.loads(here), asked["text"].splitlines()[0]
    done = wirecheck("check", ".", "--format", "json", "--effort", "0", folder=tmp_path, timeout=300)
    told = {one["file"]: one["findings"] for one in json.loads(done.stdout)["files"]}
    found = {asked["file"]: answer["findings"] for asked, answer in zip(questions, answers, strict=True)}
    assert len(found) > 24 and sum(map(len, found.values())) > 8
    for file, findings in found.items():
        assert [one["rule"] for one in findings] == [one["rule"] for one in told[file]]
        for one, other in zip(findings, told[file], strict=True):
            assert other["message"] in one["says"]


def test_what_takes_too_long_is_stopped_and_what_is_asked_next_is_answered(page, address):
    slow = 'board "Slow"\npanel LP 120/240 V\n' + "".join(
        f"box B{number} device 20 cu in\nS{number} is 4-way-switch in B{number}\n" for number in range(9000)
    )
    page.clock.install()
    page.goto(address)
    (first,) = asked_of(page, address, "/check", [{"file": "a.wire", "text": WRONG}])
    page.evaluate(
        """async ([script, text]) => {
          globalThis.ask = async (text) => (await import(script)).sent("/check", {file: "a.wire", text});
          globalThis.stopped = ask(text);
        }""",
        [f"{address}page/sent.js", slow],
    )
    page.clock.fast_forward(61_000)
    told, after = page.evaluate("async (text) => [await stopped, await ask(text)]", WRONG)
    assert told == {
        "refused": "This took longer than a minute here, and was stopped. Check it with wirecheck itself."
    }
    assert after == first and after["verdict"].startswith("1 hazard")


def test_what_is_given_up_is_not_worked_out_and_the_next_is(page, address):
    page.goto(address)
    answers = page.evaluate(
        """async ([script, text]) => {
          const {sent} = await import(script);
          const way = new AbortController();
          const question = {file: "right.wire", text};
          const given_up = [sent("/mends", question, way), sent("/mends", question, way)];
          const next = sent("/mends", question);
          way.abort();
          const check = await sent("/check", question);
          return [...await Promise.all(given_up), check.mends, (await next).mends];
        }""",
        [f"{address}page/sent.js", WRONG],
    )
    assert answers == [None, None, False, True]


def test_what_cannot_be_loaded_is_said_and_tried_again(browser, address):
    context = browser.new_context()
    page = context.new_page()
    context.route("**/program.zip", lambda route: route.abort())
    page.goto(f"{address}board/right.wire.html")
    says(page, "#verdict", "What checks boards cannot be loaded now. Your text is kept in this browser.")
    context.unroute("**/program.zip")
    says(page, "#verdict", "No problem found")
    context.close()


def test_axe_finds_nothing_wrong(browser, address):
    with quiet_page(browser, address, viewport={"width": 390, "height": 844}) as page:
        for name in ("index.html", "board/right.wire.html", "exercise/hall/exercise.wire.html"):
            page.goto(f"{address}{name}")
            assert violations(page) == []
