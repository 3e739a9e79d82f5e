"""Exercises, tickets and the instructor's view in a real browser; axe-core finds nothing wrong."""

import re

import pytest

from tests.page.boards import RIGHT
from tests.page.browsers import chromium, expected, quiet_page, violations
from tests.page.classroom import EXERCISE, WORK, WRONG_WORK
from tests.page.served import served

pytestmark = [pytest.mark.slow, pytest.mark.chromium]

LOOKS = [(1024, 768, "light"), (1024, 768, "dark"), (390, 844, "light")]


@pytest.fixture(scope="module")
def browser():
    with chromium() as opened:
        yield opened


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "boards").mkdir()
    (tmp_path / "boards" / "shed.wire").write_text(EXERCISE)
    return tmp_path / "boards"


def hand_in(page, name):
    page.fill("#name", name)
    page.focus("#send")
    page.keyboard.press("Enter")


def test_an_exercise_is_handed_in_and_its_sheet_is_read_after_a_restart(browser, folder):
    with served(folder, "--record", "../class.db") as (address, _):
        port = address.rsplit(":", 1)[1]
        with quiet_page(browser, address) as page:
            page.goto("/")
            page.click("text=Shed <light>")
            expected(page, "#verdict").to_have_text("All of it can be read.")
            page.locator("#text").fill(WRONG_WORK)
            hand_in(page, "Ana Ruiz")
            expected(page, "#handed").to_contain_text("Handed in: 70 of 100 points. Your code is ")
            page.locator("#text").fill(WORK)
            page.click("#send")
            expected(page, "#sheets li").to_have_count(2)
            expected(page, "#handed").to_contain_text("100 of 100 points")
            page.reload()
            expected(page, "#text").to_have_value(WORK)
            expected(page, "#sheets li").to_have_count(2)
            sheet = page.get_attribute("#sheets li:last-child a", "href")
            state = page.context.storage_state()
    with served(folder, "--record", "../class.db", "--port", port) as (address, _):
        with quiet_page(browser, address, storage_state=state) as page:
            page.goto("/exercise/shed.wire")
            expected(page, "#text").to_have_value(WORK)
            page.goto(sheet)
            expected(page, "h1").to_have_text("Ana Ruiz")
            expected(page, ".picture").to_be_visible()
            expected(page, "body").to_contain_text("70 of 100 points")
        with quiet_page(browser, address) as page:  # Another browser, whose user has the same name.
            page.goto("/exercise/shed.wire")
            hand_in(page, "ana ruiz")
            expected(page, "#handed").to_contain_text("Somebody has handed in as ana ruiz before.")
            expected(page, "#code").to_be_focused()
    assert [each.name for each in folder.iterdir()] == ["shed.wire"]


def test_the_next_student_at_a_browser_begins_anew(browser, folder):
    with served(folder, "--record", "../class.db") as (address, _), quiet_page(browser, address) as page:
        page.goto("/exercise/shed.wire")
        begun = page.locator("#text").input_value()
        page.locator("#text").fill(WORK)
        hand_in(page, "Ana")
        expected(page, "#sheets li").to_have_count(1)
        page.click("#other")
        expected(page, "#name").to_have_value("")
        expected(page, "#text").to_have_value(begun)
        expected(page, "#sheets li").to_have_count(0)


def test_what_is_asked_is_one_touch_away_where_it_is_below_the_board(browser, folder):
    phone = {"width": 390, "height": 844}
    with (
        served(folder) as (address, _),
        quiet_page(browser, address, viewport=phone, has_touch=True) as page,
    ):
        page.goto("/exercise/shed.wire")
        expected(page, "#exercise").not_to_be_in_viewport()
        page.tap("text=What is asked")
        expected(page, "#exercise h2").to_be_in_viewport()
        page.set_viewport_size({"width": 1440, "height": 900})
        expected(page, ".asked").to_be_hidden()


@pytest.mark.parametrize(("width", "height", "colors"), LOOKS)
def test_axe_finds_no_violation(browser, folder, width, height, colors):
    found = []
    with served(folder, "--record", "../class.db") as (address, _):
        context = browser.new_context(
            base_url=address,
            viewport={"width": width, "height": height},
            color_scheme=colors,
            bypass_csp=True,
        )
        page = context.new_page()
        page.goto("/")
        found += violations(page)
        page.goto("/exercise/shed.wire")
        page.locator("#text").fill(WRONG_WORK)
        hand_in(page, "Ana")
        expected(page, "#sheets li").to_have_count(1)
        found += violations(page)
        page.goto(page.get_attribute("#sheets a", "href"))
        found += violations(page)
        context.close()
    assert found == []


LIST = 'faults for "Shed <light>"\nfault 1 open W2.black at B\n'


@pytest.fixture
def faulty(folder):
    (folder / "right.wire").write_text(RIGHT)
    (folder / "list.wire").write_text(LIST)
    return folder


def test_a_ticket_is_found_and_goes_on_after_a_reload_and_a_restart(browser, faulty):
    with served(faulty) as (address, _):
        port = address.rsplit(":", 1)[1]
        with quiet_page(browser, address) as page:
            page.goto("/")
            page.click("text=Boards with a hidden fault")
            page.click("text=list.wire")
            expected(page, "#complaints").to_have_text("As it stands, L1 does not come on.")
            expected(page, "#control").to_be_visible()
            expected(page, "#call").to_be_hidden()  # Nothing on the board makes a call.
            page.click("#look")
            expected(page, "#newest").to_have_text("Nothing runs.")
            page.click('#picture [id="label-W2.black@B"]')
            page.click('#picture [id="label-W2.white@B"]')
            page.focus("#measure")
            page.keyboard.press("Enter")
            expected(page, "#newest").to_contain_text("W2.black@B to W2.white@B: ")
            expected(page, "#count").to_contain_text("1 reading,")
            page.reload()
            expected(page, "#answers li").to_have_count(2)
            state = page.context.storage_state()
    with (
        served(faulty, "--port", port) as (address, _),
        quiet_page(browser, address, storage_state=state) as page,
    ):
        page.goto("/ticket/right.wire?faults=list.wire")
        expected(page, "#answers li").to_have_count(2)
        page.select_option("#where", "B")
        page.select_option("#what", "open W2.black at B")
        page.click("text=That is it")
        expected(page, "#newest").to_contain_text("Right: open W2.black at B.")
        expected(page, "#newest").to_contain_text("of 100 points")
        expected(page, "#look").to_be_disabled()
        page.click("#another")
        expected(page, "#answers li").to_have_count(0)
        page.fill("#line", "<script>bad()</script>")
        page.keyboard.press("Enter")
        expected(page, "#newest").to_contain_text("is not known")


@pytest.mark.parametrize(("width", "height", "colors"), LOOKS)
def test_axe_finds_no_violation_on_a_ticket(browser, faulty, width, height, colors):
    found = []
    with served(faulty) as (address, _):
        context = browser.new_context(
            base_url=address,
            viewport={"width": width, "height": height},
            color_scheme=colors,
            bypass_csp=True,
        )
        page = context.new_page()
        page.goto("/")
        page.click("text=Boards with a hidden fault")
        found += violations(page)
        page.goto("/ticket/right.wire?faults=list.wire")
        page.click("#look")
        expected(page, "#answers li").to_have_count(1)
        expected(page, "#newest").to_be_in_viewport()
        page.click("#measure")
        expected(page, "#newest").to_have_text(re.compile("^A lead hangs free"))
        found += violations(page)
        page.click("text=Give up")
        page.click("text=Show what it was")
        expected(page, "#newest").to_contain_text("It was: open W2.black at B.")
        found += violations(page)
        context.close()
    assert found == []


def instructor(server):
    """The address that the terminal tells."""
    while line := server.stdout.readline():
        if "/class/" in line:
            return re.search(r"http://\S+", line)[0]
    raise AssertionError("no address of the instructor's view")


@pytest.mark.parametrize(("width", "height", "colors"), LOOKS)
def test_the_instructor_sees_the_class_as_it_works(browser, faulty, width, height, colors):
    found = []
    with served(faulty, "--record", "../class.db") as (address, server):
        view = instructor(server)
        with quiet_page(browser, address) as student:
            student.goto("/exercise/shed.wire")
            student.locator("#text").fill(WRONG_WORK)
            hand_in(student, "Ana Ruiz")
            expected(student, "#sheets li").to_have_count(1)
            context = browser.new_context(
                viewport={"width": width, "height": height}, color_scheme=colors, bypass_csp=True
            )
            page = context.new_page()
            page.goto(view)
            expected(page, "#now").to_contain_text("handed in: 70 of 100 points")
            student.goto("/ticket/right.wire?faults=list.wire")
            student.click("#look")
            expected(student, "#answers li").to_have_count(1)
            found += violations(page)
            page.bring_to_front()
            expected(page, "#now").to_contain_text("1 asked so far", timeout=20_000)
            page.click("text=all stages, 1")
            expected(page, "body").to_contain_text("Mean 70")
            found += violations(page)
            page.click("text=Ana Ruiz >> nth=0")
            expected(page, "h1").to_have_text("Ana Ruiz")
            context.close()
    assert found == []
