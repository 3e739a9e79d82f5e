"""The page in a real browser: typed in, touched, measured, reloaded; axe-core finds nothing wrong."""

import re

import pytest

from tests.page.boards import RIGHT, WRONG, WRONG_LINE
from tests.page.browsers import chromium, expected, quiet_page, violations
from tests.page.served import served
from wirecheck import files

pytestmark = [pytest.mark.slow, pytest.mark.chromium]

HOSTILE = "# </textarea><script>bad()</script>"
VIEWS = [("/", None), ("/board/wrong.wire", "line")]
VIEWS += [("/board/right.wire", tool) for tool in ("place", "wire", "power", "meter")]
BARE = "\n".join([*RIGHT.splitlines()[:9], *RIGHT.splitlines()[-1:], ""])
JOINS = [
    ("LP", "W1.black", "LP.1"),
    ("LP", "W1.white", "LP.neutral"),
    ("LP", "W1.bare", "LP.ground"),
    ("A", "W1.black", "S1.line"),
    ("A", "W2.black", "S1.load"),
    ("A", "W1.white", "W2.white"),
    ("A", "W1.bare", "S1.ground"),
    ("A", "W2.bare", "S1.ground"),
    ("B", "W2.black", "L1.hot"),
    ("B", "W2.white", "L1.neutral"),
    ("B", "W2.bare", "L1.ground"),
]
# Each check is answered two seconds late.
SLOWLY = """() => {
  const at_once = window.fetch;
  window.fetch = async (...asked) => {
    const answer = await at_once(...asked);
    if (asked[0] === "/check") await new Promise((later) => setTimeout(later, 2000));
    return answer;
  };
}"""
SIZES = [(1440, 900), (1024, 768), (390, 844)]


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    folder = tmp_path_factory.mktemp("boards")
    (folder / "right.wire").write_text(RIGHT)
    (folder / "wrong.wire").write_text(WRONG)
    (folder / "bare.wire").write_text(BARE)
    (folder / "empty.wire").write_text("")
    (folder / "heat.wire").write_bytes((files.folder("boards") / "heating-call" / "right.wire").read_bytes())
    (folder / "<img src=x>.wire").write_text(f'board "<script>alert(1)</script>"\n{HOSTILE}')
    with served(folder) as (address, _):
        yield address


@pytest.fixture(scope="module")
def browser():
    with chromium() as opened:
        yield opened


@pytest.fixture
def page(browser, address):
    with quiet_page(browser, address, viewport={"width": 1440, "height": 900}) as opened:
        yield opened


def caret_line(page):
    return page.evaluate(
        "(() => { const t = document.getElementById('text');"
        " return t.value.slice(0, t.selectionStart).split('\\n').length })()"
    )


def test_what_is_typed_is_checked_and_drawn_and_kept(page):
    page.goto("/board/right.wire")
    expected(page, "#verdict").to_contain_text("No problem found")
    text = page.locator("#text")
    text.fill(WRONG)
    expected(page, "#verdict").to_have_text("1 hazard.")
    expected(page, '#picture [id="finding-1"]').to_be_attached()
    expected(page, "#findings").to_contain_text("To do, with the power off: W2.black goes on L1.hot")
    page.reload()
    expected(page, "#verdict").to_have_text("1 hazard.")
    expected(page, "#kept").to_have_text("This is your text of before.")
    page.click("#back")
    expected(page, "#verdict").to_contain_text("No problem found")
    page.click("#undo")
    expected(page, "#verdict").to_have_text("1 hazard.")


def test_a_finding_goes_to_its_line_and_its_wire_and_the_picture_goes_to_the_line(page):
    page.goto("/board/wrong.wire")
    page.focus("#text")
    page.click("#findings .head")
    assert caret_line(page) == WRONG_LINE
    expected(page, '#picture [id="casing-conductor-W2.black"]').to_have_class("edge casing marked")
    expected(page, "#picture .ring").not_to_have_count(0)
    page.click('#picture [id="label-S1"]')
    assert caret_line(page) == WRONG.splitlines().index("S1 is single-pole-switch in A") + 1


def test_a_switch_is_flipped_in_the_picture_and_by_keyboard_alone(page):
    page.goto("/board/right.wire")
    page.check("input[value=power]")
    page.click('#picture [id="label-S1"]')  # It moves with the power off as well.
    expected(page, "select[data-control='S1']").to_have_value("off")
    page.click('#picture [id="label-S1"]')
    page.focus("#on")
    page.keyboard.press("Space")
    expected(page, "#runs").to_contain_text("L1runs")
    page.click('#picture [id="label-S1"]')
    expected(page, "#runs").to_contain_text("L1off")
    expected(page, "#state").to_have_text("Power on, S1 off.")
    expected(page, '#picture [id^="live-"]').not_to_have_count(0)
    page.focus("select[data-control='S1']")
    page.keyboard.press("ArrowUp")
    expected(page, "#runs").to_contain_text("L1runs")


def test_leads_are_put_on_screws_and_the_meter_warns(page):
    page.goto("/board/right.wire")
    page.check("input[value=meter]")
    page.check("#powered")
    page.click('#picture [id="terminal-LP.1"]')
    page.click('#picture [id="terminal-LP.neutral"]')
    expected(page, "#display").to_have_text("120 V")
    expected(page, "#picture .lead").to_have_count(2)
    page.select_option("#quantity", "ohms")
    page.fill("#red", "LP.1")
    page.fill("#black", "LP.neutral")
    expected(page, "#says [class=danger]").to_contain_text("can burst in your hand")
    page.select_option("#quantity", "amps")
    page.fill("#red", "L1")
    expected(page, "#display").to_have_text("0.5 A")


def test_a_picture_fits_by_its_width_and_then_whole(browser, address):
    with quiet_page(browser, address) as page:
        page.goto("/board/heat.wire")
        expected(page, "#verdict").not_to_have_text("Checking.")
        box = page.locator("#picture").bounding_box()
        high = page.locator("#picture svg").bounding_box()["height"]
        assert high > box["height"]
        page.click("#fit")
        assert page.locator("#picture svg").bounding_box()["height"] <= box["height"]
        page.click("#fit")
        assert page.locator("#picture svg").bounding_box()["height"] == high
        screw = '#picture [id="terminal-TS.W"]'
        page.check("input[value=wire]")
        page.click(screw)
        before = page.locator(screw).bounding_box()
        page.click("#larger")
        after = page.locator(screw).bounding_box()
        assert abs(after["y"] - before["y"]) < 3 and after["height"] > before["height"]


def test_nothing_moves_where_power_is_put_on_and_a_call_is_played(browser, address):
    with quiet_page(browser, address) as page:
        page.goto("/board/heat.wire")
        expected(page, "#verdict").not_to_have_text("Checking.")
        page.check("input[value=power]")
        before = [page.locator(one).bounding_box()["y"] for one in ("#picture", "#power", "#on")]
        page.check("#on")
        expected(page, "#state").to_contain_text("Power on")
        page.check("#calls input >> nth=0")
        page.click("#play")
        expected(page, "#moment").to_have_text("before: at rest")
        after = [page.locator(one).bounding_box()["y"] for one in ("#picture", "#power", "#on")]
        assert after == before


@pytest.mark.parametrize("colors", ["light", "dark"])
@pytest.mark.parametrize("landscape", [False, True])
def test_a_board_and_its_findings_are_printed_on_a_page(browser, address, colors, landscape):
    with quiet_page(browser, address, color_scheme=colors) as page:
        page.goto("/board/right.wire")
        expected(page, "#verdict").to_contain_text("No problem found")
        printed = page.pdf(format="Letter", landscape=landscape)
        assert len(re.findall(rb"/Type */Page\b(?!s)", printed)) == 1
        page.emulate_media(media="print", color_scheme=colors)
        ink = "getComputedStyle(document.body).color"
        assert page.evaluate(ink) == "rgb(26, 26, 26)"
        assert page.evaluate("getComputedStyle(document.documentElement).colorScheme") == "light"
        fills = "[...document.querySelectorAll('#picture svg %s')].map((one) => getComputedStyle(one).fill)"
        assert page.evaluate(fills % "polygon")[0] == "rgb(255, 255, 255)"
        assert page.evaluate(fills % "text").count("rgb(240, 242, 244)") == 0


def test_the_verdict_is_in_sight_on_a_phone_and_does_not_grow(browser, address):
    with quiet_page(browser, address, viewport={"width": 390, "height": 844}) as page:
        page.goto("/board/right.wire")
        expected(page, "#verdict").to_contain_text("No problem found")
        before = page.locator("#verdict").bounding_box()
        assert before["y"] + before["height"] == 844
        page.check("input[value=power]")
        page.locator("#text").fill(WRONG)
        expected(page, "#verdict").to_have_text("1 hazard.")
        assert page.locator("#verdict").bounding_box() == before
        page.locator("#findings > li").scroll_into_view_if_needed()
        assert page.locator("#verdict").bounding_box()["y"] < page.locator("#findings").bounding_box()["y"]


def test_all_that_is_offered_for_a_field_is_listed_whatever_is_written(page):
    page.goto("/board/right.wire")
    expected(page, "#verdict").to_contain_text("No problem found")
    page.check("input[value=place]")
    page.check("input[name=what][value=cable]")
    expected(page, "#fields [name=kind]").to_have_value("14/2 NM-B")
    page.get_by_label("Cable: some to choose from").select_option("12/3 NM-B")
    expected(page, "#fields [name=kind]").to_have_value("12/3 NM-B")


def test_nothing_in_a_name_or_a_text_runs(page):
    page.goto("/")
    page.click("text=alert(1)")
    expected(page, "#title").to_have_text("<script>alert(1)</script>")
    assert HOSTILE in page.locator("#text").input_value()
    expected(page, "#verdict").not_to_have_text("Checking.")


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("colors", ["light", "dark"])
def test_axe_finds_no_violation_and_nothing_scrolls_sideways(browser, address, size, colors):
    viewport = {"width": size[0], "height": size[1]}
    context = browser.new_context(base_url=address, viewport=viewport, color_scheme=colors, bypass_csp=True)
    page = context.new_page()
    found = []
    for view, tool in VIEWS:
        page.goto(view)
        if tool:
            expected(page, "#verdict").not_to_have_text("Checking.")
            page.check(f"input[value={tool}]")
        if tool == "line":
            page.click("text=Try it")
            expected(page, "#after-verdict").to_contain_text("No problem found")
            found += [("trial", *each) for each in violations(page)]
            page.click("#leave-it")
        if tool == "place":
            expected(page, "#parts svg").not_to_have_count(0)
        if tool == "power":
            page.check("#on")
            expected(page, "#runs").to_contain_text("Live")
        found += [(tool, *each) for each in violations(page)]
    context.close()
    assert found == []


def drawn_at(place, name):
    """Where a wire's end or a screw is on the picture."""
    return f'#picture [id="{f"label-{name}@{place}" if name.startswith("W") else f"terminal-{name}"}"]'


def by_touch(page, place, one, other, touch):
    touch(drawn_at(place, one))
    expected(page, "#done").to_contain_text("touch what it goes on")
    touch(drawn_at(place, other))


def choose_by_keyboard(page, selector, value):
    """A list by its keys alone: to its top, and down to the value."""
    page.focus(selector)
    page.keyboard.press("Home")
    for _ in range(60):
        if page.locator(selector).input_value() == value:
            return
        page.keyboard.press("ArrowDown")
    raise AssertionError(value)


def by_keyboard(page, place, one, other):
    choose_by_keyboard(page, "#place", place)
    choose_by_keyboard(page, "#taken", one)
    choose_by_keyboard(page, "#target", other)
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")


@pytest.mark.parametrize("way", ["mouse", "finger", "keyboard"])
def test_a_board_is_wired_from_nothing_to_a_clean_verdict(browser, address, way):
    context = browser.new_context(base_url=address, viewport={"width": 1024, "height": 768}, has_touch=True)
    page = context.new_page()
    page.goto("/board/bare.wire")
    expected(page, "#verdict").not_to_have_text("Checking.")
    page.check("input[value=wire]")
    for place, one, other in JOINS:
        before = page.locator("#text").input_value()
        if way == "keyboard":
            by_keyboard(page, place, one, other)
        else:
            by_touch(page, place, one, other, page.click if way == "mouse" else page.tap)
        expected(page, "#text").not_to_have_value(before)
        expected(page, drawn_at(place, other)).to_be_attached()
    page.select_option("#place", "A")
    page.select_option("#taken", "S1.ground")
    page.focus("[data-act=tail]")
    page.keyboard.press("Enter")
    expected(page, "#verdict").to_contain_text("No problem found")
    for _ in range(len(JOINS) + 1):
        page.click("#undo")
    expected(page, "#text").to_have_value(BARE)
    page.click("#redo")
    expected(page, "#text").not_to_have_value(BARE)
    context.close()


def test_nothing_moves_under_what_presses(page):
    """An answer that comes between a pointer's going down and its coming up waits, and moves nothing."""
    page.goto("/board/bare.wire")
    expected(page, "#verdict").not_to_have_text("Checking.")
    page.check("input[value=wire]")
    page.evaluate(SLOWLY)
    verdict = page.locator("#verdict").inner_text()
    by_touch(page, "LP", "W1.black", "LP.1", page.click)
    page.locator(drawn_at("LP", "W1.white")).scroll_into_view_if_needed()
    middle = page.locator(drawn_at("LP", "W1.white")).bounding_box()
    page.mouse.move(middle["x"] + middle["width"] / 2, middle["y"] + middle["height"] / 2)
    page.mouse.down()
    page.wait_for_timeout(3000)
    expected(page, "#verdict").to_have_text(verdict)
    assert page.locator(drawn_at("LP", "W1.white")).bounding_box() == middle
    page.mouse.up()
    expected(page, "#done").to_have_text("W1.white in LP: touch what it goes on.")
    expected(page, "#verdict").not_to_have_text(verdict)
    page.mouse.down()  # A pointer that never comes up holds nothing for ever.
    by_keyboard(page, "LP", "W1.white", "LP.neutral")
    expected(page, "#verdict").to_contain_text("3 hazards, 3 violations", timeout=20_000)


def test_a_mend_is_tried_and_taken_back(page):
    page.goto("/board/wrong.wire")
    page.click("text=Try it")
    expected(page, "#before-verdict").to_have_text("1 hazard.")
    expected(page, "#after-verdict").to_contain_text("No problem found")
    for side in ("before", "after"):
        expected(page, f"#{side}-picture .marked").not_to_have_count(0)
    expected(page, "#trial-lines").to_contain_text("W2.black -- L1.hot")
    page.keyboard.press("Escape")
    expected(page, "#text").to_have_value(WRONG)
    page.click("text=Try it")
    page.click("#leave-it")
    expected(page, "#text").to_have_value(WRONG)
    page.click("text=Try it")
    page.keyboard.press("Enter")
    expected(page, "#verdict").to_contain_text("No problem found")
    page.click("#undo")
    expected(page, "#text").to_have_value(WRONG)
    expected(page, "#verdict").to_have_text("1 hazard.")


def test_a_call_is_played_with_a_slider(page):
    page.goto("/board/heat.wire")
    expected(page, "#verdict").not_to_have_text("Checking.")
    page.check("input[value=power]")
    page.check("#on")
    page.check("#calls input >> nth=0")
    page.click("#play")
    expected(page, "#moment").to_have_text("before: at rest")
    page.click("#later")
    expected(page, "#moment").to_contain_text("heat is called")
    expected(page, "#chart-box .moment.on").to_have_attribute("id", "moment-1")
    page.focus("#step")
    page.keyboard.press("End")
    expected(page, "#picture .state.on").not_to_have_count(0)
    expected(page, "#ending").to_contain_text("At rest after")
    last = page.locator("#step").get_attribute("max")
    expected(page, "#chart-box .moment.on").to_have_attribute("id", f"moment-{last}")
    page.keyboard.press("Home")
    expected(page, "#moment").to_have_text("before: at rest")
    page.click("#leave")
    expected(page, "#picture .state").to_have_count(0)
    expected(page, "#playing").to_be_hidden()
    expected(page, "#chart").to_be_hidden()
    expected(page, "#findings").to_be_attached()


def test_what_was_typed_outlives_the_server(browser, tmp_path):
    (tmp_path / "shed.wire").write_text(RIGHT)
    context = browser.new_context()
    page = context.new_page()
    with served(tmp_path) as (address, _):
        page.goto(f"{address}/board/shed.wire")
        expected(page, "#verdict").to_contain_text("No problem found")
    page.locator("#text").fill(WRONG)
    expected(page, "#verdict").to_contain_text("The server does not answer now.")
    with served(tmp_path, "--port", address.rsplit(":", 1)[1]):
        expected(page, "#verdict").to_have_text("1 hazard.", timeout=20_000)
        page.reload()
        expected(page, "#text").to_have_value(WRONG)
    assert (tmp_path / "shed.wire").read_text() == RIGHT
    context.close()


def test_a_wire_is_dragged_to_its_screw(page):
    page.goto("/board/bare.wire")
    expected(page, "#verdict").not_to_have_text("Checking.")
    page.check("input[value=wire]")
    page.drag_and_drop(drawn_at("LP", "W1.black"), drawn_at("LP", "LP.1"))
    expected(page, "#text").to_have_value(re.compile("at LP\n  W1.black -- LP.1\n"))


def test_an_answer_that_comes_late_does_not_end_a_play(page):
    page.goto("/board/heat.wire")
    expected(page, "#verdict").not_to_have_text("Checking.")
    page.check("input[value=power]")
    page.check("#on")
    expected(page, "#runs").to_contain_text("Live")
    page.evaluate(SLOWLY)
    page.check("#calls input >> nth=0")
    page.click("#play")
    expected(page, "#moment").to_have_text("before: at rest")
    page.wait_for_timeout(3000)
    page.click("#later")
    expected(page, "#moment").to_contain_text("heat is called")
    expected(page, "#picture .state.on").not_to_have_count(0)
    page.uncheck("#calls input >> nth=0")  # What is asked after it does.
    expected(page, "#playing").to_be_hidden()


THINGS = [
    ("panel", {"kind": "120 V"}, None),
    ("breaker", {"size": "15 A"}, None),
    ("box", {"kind": "device", "size": "20 cu in"}, None),
    ("box", {"kind": "octagon", "size": "20 cu in"}, None),
    ("device", {"place": "A", "size": ""}, "light switch"),
    ("device", {"place": "B", "size": "60 W"}, "light"),
    ("cable", {"kind": "14/2 NM-B", "size": "9 ft", "place": "LP", "to": "A"}, None),
    ("cable", {"kind": "14/2 NM-B", "size": "9 ft", "place": "A", "to": "B"}, None),
    ("goal", {"name": "L1", "kind": "S1"}, None),
]
MADE = RIGHT.splitlines()[1:9]


def fill_in(page, way, name, value):
    """A field of the form: places are touched in the picture, or chosen by keys."""
    selector = f"#fields [name={name}]"
    if page.locator(selector).evaluate("one => one.tagName") == "INPUT":
        page.fill(selector, value)
    elif way == "keyboard":
        choose_by_keyboard(page, selector, value)
    elif name in ("place", "to"):
        touch = page.click if way == "mouse" else page.tap
        touch(f'#picture [id="room-{value}"]', position={"x": 12, "y": 12})
    else:
        page.select_option(selector, value)


@pytest.mark.parametrize("way", ["mouse", "finger", "keyboard"])
def test_a_board_is_placed_from_an_empty_text(browser, address, way):
    context = browser.new_context(base_url=address, viewport={"width": 1024, "height": 768}, has_touch=True)
    page = context.new_page()
    page.goto("/board/empty.wire")
    expected(page, "#verdict").to_contain_text("begin with a panel")
    page.check("input[value=place]")
    for what, values, word in THINGS:
        before = page.locator("#text").input_value()
        page.focus(f"input[name=what][value={what}]")
        page.keyboard.press("Space")
        if word:
            page.fill("#part", word)
            expected(page, "#parts input:checked").to_have_count(1)
        for name, value in values.items():
            fill_in(page, way, name, value)
        page.focus("#fields button[type=submit]")
        page.keyboard.press("Enter")
        expected(page, "#text").not_to_have_value(before)
        expected(page, "#placed").to_contain_text("done")
        page.wait_for_timeout(300)
        expected(page, "#fields button[type=submit]").to_be_focused()
    made = page.locator("#text").input_value().splitlines()
    assert [row for row in MADE if row not in made] == []
    assert made[-1] == "expect L1 from S1"
    for _ in THINGS:
        page.click("#undo")
    expected(page, "#text").to_have_value("")
    context.close()


PULLED = [
    ("raceway", {"kind": "EMT 1/2 in", "size": "12 ft", "place": "LP", "to": "B"}),
    ("wire", {"kind": "12 THHN", "within": "RW1", "color": "white"}),
    ("room", {"place": "B", "kind": "hall"}),
]


@pytest.mark.parametrize("way", ["mouse", "finger", "keyboard"])
def test_a_wire_is_pulled_into_a_raceway_and_a_box_is_put_in_a_room(browser, address, way):
    context = browser.new_context(base_url=address, viewport={"width": 1024, "height": 768}, has_touch=True)
    page = context.new_page()
    page.goto("/board/right.wire")
    expected(page, "#verdict").to_contain_text("No problem found")
    page.check("input[value=place]")
    for what, values in PULLED:
        before = page.locator("#text").input_value()
        page.focus(f"input[name=what][value={what}]")
        page.keyboard.press("Space")
        for name, value in values.items():
            if name == "within" and way != "keyboard":
                expected(page, f'#picture [id="jacket-{value}"]').to_be_attached()
                along = page.locator(f'#picture [id="jacket-{value}"] path').first
                x, y = along.evaluate(
                    "(one) => { const {x, y} = one.getPointAtLength(20); const m = one.getScreenCTM();"
                    " return [x * m.a + m.e, y * m.d + m.f]; }"
                )
                (page.mouse.click if way == "mouse" else page.touchscreen.tap)(x, y)
                expected(page, "#fields [name=within]").to_have_value(value)
            else:
                fill_in(page, way, name, value)
        page.focus("#fields button[type=submit]")
        page.keyboard.press("Enter")
        expected(page, "#text").not_to_have_value(before)
        expected(page, "#placed").to_contain_text("done")
    made = page.locator("#text").input_value().splitlines()
    assert "raceway RW1 EMT 1/2 in 12 ft from LP to B" in made
    assert "wire W3 12 THHN white 12 ft from LP to B in RW1" in made
    assert "room hall B" in made
    for _ in PULLED:
        page.click("#undo")
    expected(page, "#text").to_have_value(RIGHT)
    page.click("#redo")
    expected(page, "#text").to_have_value(re.compile("raceway RW1"))
    context.close()


def test_a_machine_is_placed_as_it_is_offered_and_a_call_should_run_what_is_in_it(page):
    page.goto("/board/right.wire")
    expected(page, "#verdict").to_contain_text("No problem found")
    page.check("input[value=place]")
    for part in ("gas furnace", "thermostat"):
        page.fill("#part", part)
        expected(page, "#parts input:checked").to_have_count(1)
        page.select_option("#fields [name=place]", "")
        page.click("#fields button[type=submit]")
        expected(page, "#placed").to_contain_text("done")
        page.check("input[name=what][value=box]")
        page.check("input[name=what][value=device]")
    expected(page, "#text").to_have_value(
        re.compile("is gas-furnace with mca .*\n.* is heat-cool-thermostat")
    )
    page.check("input[name=what][value=goal]")
    page.locator("#fields [name=name] option", has_text="inducer").wait_for(state="attached")
    inducer = page.locator("#fields [name=name] option", has_text="inducer").inner_text()
    page.select_option("#fields [name=name]", inducer)
    page.get_by_label("switches or call: some to choose from").select_option("heat")
    page.click("#fields button[type=submit]")
    expected(page, "#text").to_have_value(re.compile(f"\nexpect heat runs {inducer}\n"))


def test_what_was_not_judged_is_said_from_the_findings(page):
    page.goto("/board/right.wire")
    page.fill(
        "#text",
        RIGHT.replace(
            "expect L1 from S1\n",
            "S2 is single-pole-switch in A\nLS is limit-switch in A\nR1 is gfci-receptacle in A\n",
        ),
    )
    page.get_by_role("button", name="Say what L1 should do").click()
    expected(page, "#fields [name=name]").to_be_focused()
    expected(page, "#fields [name=name]").to_have_value("L1")
    expected(page, "#fields [name=kind]").to_have_value("")  # Nobody knows which switch works which load.
    page.select_option("#fields [name=name]", "R1")
    page.click("#fields button[type=submit]")
    expected(page, "#text").to_have_value(re.compile("\nexpect R1 live\n"))
    expected(page, "#fields [name=name]").to_have_value("L1")
    page.select_option("#fields [name=name]", "LS")
    page.click("#fields button[type=submit]")
    expected(page, "#text").to_have_value(re.compile("\nexpect LS stops L1\n"))
    page.get_by_role("button", name="Say what room").click()
    expected(page, "input[name=what][value=room]").to_be_checked()
    expected(page, "#fields [name=place]").to_be_focused()


def test_a_device_goes_where_its_like_goes_and_a_machine_stands_by_itself(page):
    page.goto("/board/right.wire")
    page.check("input[value=place]")
    page.fill("#part", "clamp")
    expected(page, "#part-says").not_to_be_empty()
    page.fill("#part", "lamp")
    expected(page, "#parts input[value=lampholder]").to_be_checked()
    expected(page, "#parts input[value=ground-rod]").to_have_count(0)
    expected(page, "#fields [name=place]").to_have_value("A")
    page.click('#picture [id="room-B"]', position={"x": 12, "y": 12})
    page.click("#fields button[type=submit]")
    expected(page, "#text").to_have_value(re.compile("L2 is lampholder .* in B"))
    page.fill("#part", "furnace")
    expected(page, "#fields [name=place]").to_have_value("")
    page.fill("#part", "switch")
    expected(page, "#fields [name=place]").to_have_value("B")
    page.fill("#part", "breaker")
    expected(page, "#part-says").to_have_text("For that, choose “Breaker” above.")
    page.check("input[name=what][value=box]")
    page.get_by_label("Kind: some to choose from").select_option("octagon")
    expected(page, "#fields [name=size]").to_have_value("15.5 cu in")


def test_what_a_tool_asks_for_is_in_sight_on_a_phone(browser, address):
    with quiet_page(browser, address, viewport={"width": 390, "height": 844}, has_touch=True) as page:
        page.goto("/board/empty.wire")
        page.tap("input[name=tool][value=place]")
        expected(page, "#fields button[type=submit]").to_be_in_viewport(ratio=1)
        expected(page, "input[name=tool][value=place]").to_be_in_viewport(ratio=1)
        page.goto("/board/right.wire")
        page.tap(".say")
        expected(page, "#fields button[type=submit]").to_be_in_viewport(ratio=1)
        page.goto("/board/wrong.wire")
        page.get_by_role("button", name="Try it").first.tap()
        expected(page, "#before-verdict").to_be_in_viewport()
        expected(page, "#after-verdict").to_be_in_viewport()
        expected(page, "#after-picture svg").to_be_in_viewport()


def test_a_size_is_set_and_what_cannot_be_is_said(page):
    page.goto("/board/right.wire")
    expected(page, "#verdict").to_contain_text("No problem found")
    page.check("input[value=place]")
    page.check("input[name=what][value=value]")
    page.click('#picture [id="label-LP.1"]')
    expected(page, "#fields [name=name]").to_have_value("LP.1")
    page.fill("#fields [name=size]", "20 A")
    page.click("#fields button[type=submit]")
    expected(page, "#text").to_have_value(RIGHT.replace("LP.1 15 A", "LP.1 20 A"))
    page.fill("#fields [name=size]", "20 <script>")
    page.click("#fields button[type=submit]")
    expected(page, "#placed").to_contain_text("cannot be read")
    page.select_option("#fields [name=name]", "W2")
    page.click("text=Take it away")
    expected(page, "#text").not_to_have_value(re.compile("W2"))
    page.click("#undo")
    page.click("#undo")
    expected(page, "#text").to_have_value(RIGHT)


def test_what_is_written_before_the_answer_comes_stays(page):
    """The answer to one value came after the next was written, and put its own in the place of it."""
    page.goto("/board/right.wire")
    expected(page, "#verdict").to_contain_text("No problem found")
    page.check("input[value=place]")
    page.check("input[name=what][value=value]")
    page.select_option("#fields [name=name]", "LP.1")
    held = []
    page.route("**/check", lambda route: held.append(route))
    page.fill("#fields [name=size]", "20 A")
    page.click("#fields button[type=submit]")
    expected(page, "#text").to_have_value(RIGHT.replace("LP.1 15 A", "LP.1 20 A"))
    page.fill("#fields [name=size]", "30 A")
    page.wait_for_timeout(100)
    assert held
    # Taken off, it lets go what it held.
    page.unroute("**/check")
    # What is there to be set is told by the answer: a breaker of 20 A is too large for this wire.
    expected(page, "#verdict").not_to_contain_text("No problem found")
    expected(page, "#fields [name=size]").to_have_value("30 A")
    page.click("#undo")
    expected(page, "#verdict").to_contain_text("No problem found")
    page.select_option("#fields [name=name]", "W2")
    page.select_option("#fields [name=name]", "LP.1")
    expected(page, "#fields [name=size]").to_have_value("15 A")


def test_what_was_touched_stays_where_it_was_on_the_screen(browser, address):
    context = browser.new_context(base_url=address, viewport={"width": 1024, "height": 600})
    page = context.new_page()
    page.goto("/board/heat.wire")
    expected(page, "#verdict").not_to_have_text("Checking.")
    page.check("input[value=wire]")
    screw = '#picture [id="terminal-TS.W"]'
    page.locator(screw).scroll_into_view_if_needed()
    page.click(screw)
    expected(page, "#done").to_contain_text("touch what it goes on")
    before = page.locator(screw).bounding_box()
    text = page.locator("#text").input_value()
    page.click("[data-act=off]")
    expected(page, "#text").not_to_have_value(text)
    expected(page, "#picture [id='finding-1']").to_be_attached()
    after = page.locator(screw).bounding_box()
    # Where the whole width is shown there is nothing to scroll that way.
    assert abs(after["y"] - before["y"]) < 3
    context.close()


@pytest.mark.parametrize("size", [(1440, 900), (390, 844)])
def test_letters_twice_as_large_cut_nothing_off(browser, address, size):
    viewport = {"width": size[0], "height": size[1]}
    context = browser.new_context(base_url=address, viewport=viewport)
    page = context.new_page()
    session = context.new_cdp_session(page)
    session.send("Page.setFontSizes", {"fontSizes": {"standard": 32, "fixed": 26}})
    page.goto("/board/right.wire")
    expected(page, "#verdict").not_to_have_text("Checking.")
    assert page.evaluate("getComputedStyle(document.body).fontSize") == "32px"
    for tool in ("line", "place", "wire", "power", "meter"):
        page.check(f"input[name=tool][value={tool}]")
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        cut = page.evaluate(
            "[...document.querySelectorAll('main button, main select, main input:not(.card input)')]"
            ".filter((one) => one.offsetParent && one.getBoundingClientRect().right > innerWidth)"
            ".map((one) => one.outerHTML)"
        )
        assert cut == [], tool
    context.close()
