"""The pages of steps and of a folder: whole in themselves, no id twice, and at work in a browser."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from base64 import b64encode
from collections import Counter
from functools import cache
from hashlib import sha256
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest

import wirecheck
from wirecheck import files
from wirecheck.caution import CAUTION
from wirecheck.circuit.call import play_call
from wirecheck.drawing.area import LEAST_ON_PAPER
from wirecheck.drawing.gallery import Exhibit, exhibit, gallery_page, not_drawn
from wirecheck.drawing.opened import MOST_INSIDES, leaves, opened_page
from wirecheck.drawing.picture import draw, draw_states
from wirecheck.drawing.steps import LYING, Shot, steps_page
from wirecheck.drawing.timing import timing_sheet
from wirecheck.findings import findings
from wirecheck.judge.case import Case
from wirecheck.picture import Picture
from wirecheck.report import checklist, checklist_html, labels, materials, materials_html
from wirecheck.report.report import not_checked

VOID = {"meta", "br", "input", "link", "img", "hr"}


class Reader(HTMLParser):
    """Every element, its ids and its text; a tag that is not closed in its place is an error."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: Counter[str] = Counter()
        self.links: list[str] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        if "id" in told:
            self.ids[told["id"] or ""] += 1
        self.links += [value or "" for name, value in attrs if name in ("href", "src")]
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def read(page: str) -> Reader:
    reader = Reader()
    reader.feed(page)
    reader.close()
    assert not reader.open
    assert set(reader.ids.values()) <= {1}, [name for name, count in reader.ids.items() if count > 1]
    # Whole in itself: it leads to places within it, and asks for nothing from elsewhere.
    assert all(link.startswith("#") and link[1:] in reader.ids for link in reader.links)
    assert not re.search(r"url\(|@import|<link|<iframe|<img", page)
    assert CAUTION in page
    return reader


def furnace() -> tuple[Case, list[Shot]]:
    text = (files.folder("boards") / "condensing-furnace/right.wire").read_text("utf-8")
    case = Case(wirecheck.assemble(text)[1])
    steps = case.played(["heat"]).steps
    shots = [
        Shot(f"{step.time:g} s", [f"{change.name} {change.now}" for change in step.changes], step.settled)
        for step in steps
    ]
    return case, shots


@cache
def stairs(title: str = "", colors: str = "paper", most: int = 3) -> list[Exhibit]:
    told = []
    for path in sorted((files.folder("boards") / "stair-light").glob("*.wire"))[:most]:
        text = path.read_text("utf-8")
        board = wirecheck.assemble(text)[1]
        if title:
            board = board._replace(title=title)
        expects = ["expect L1 from S1, S2"]
        told.append(exhibit(path.name, board, expects, findings(Case(board)), colors=colors))
    return told


def test_the_page_of_steps() -> None:
    case, shots = furnace()
    page = steps_page(case.board, "Heat", shots)
    reader = read(page)
    told = json.loads(re.search(r'id="shown">(.*?)</script>', page, re.DOTALL)[1])
    assert {name for name, _ in told} <= set(reader.ids)
    assert all(0 <= first <= last < len(shots) for _, spans in told for first, last in spans)
    assert len(re.findall("<svg", page)) == 2
    assert page.count("Before you touch a wire") == page.count("<h1>") == 1 and "board-title" not in page
    assert len(page) < 60_000 * 2 + 12_000 * len(shots)  # not a copy of the pictures for each step


def test_words_that_a_step_leaves_blank_are_not_looked_for() -> None:
    """What is shown at some steps alone is all in the picture: the script finds each by its id."""
    text = (files.folder("boards") / "heat-pump/right.wire").read_text("utf-8")
    case = Case(wirecheck.assemble(text)[1])
    states = [step.settled for step in case.played(["cool"]).steps[:2]]
    picture = draw_states(case.board, states, "ladder")
    assert picture.only and all(f'id="{name}"' in picture.svg for name in picture.only)


def test_the_page_of_a_folder() -> None:
    exhibits = stairs()
    reader = read(gallery_page("Stairs", exhibits))
    assert [f"board-{number}" in reader.ids for number in (1, 2, 3)] == [True] * 3
    text = "".join(reader.text)
    for each in exhibits:
        assert each.file in text
        for finding in each.findings:
            assert finding.message in text
    assert any(each.findings for each in exhibits)


def test_a_board_that_could_not_be_drawn_is_on_the_page_and_is_no_pass() -> None:
    ended = not_drawn("slow.wire", not_checked("It took longer than 60 s.", "Give it more time."))
    page = gallery_page("Stairs", [ended, stairs()[0]])
    text = " ".join(read(page).text)
    for said in ("slow.wire", "Not checked", "not-checked", "(fault)", "It took longer than 60 s."):
        assert said in text
    assert "No problem found" not in text.split("Not checked")[2].split("Stair light")[0]


def test_a_hostile_title_stays_text() -> None:
    title = "</title><script>alert(1)</script>&\u202e\x07"
    for page in (
        gallery_page(title, stairs(title, most=1)),
        steps_page(furnace()[0].board, title, [Shot(title, [title], furnace()[1][0].settled)]),
    ):
        read(page)
        assert "<script>alert" not in page
        assert "\x07" not in page


def every_page(title: str) -> dict[str, str]:
    """One of each page that there is, with a title and names as given."""
    case, shots = furnace()
    board = case.board._replace(title=title)
    sections = checklist.checklist(Case(board), "rough-in")
    return {
        "gallery": gallery_page(title, stairs(title, most=2)),
        "steps": steps_page(board, title, [Shot(title, [title], shots[0].settled)]),
        "checklist": checklist_html.render(title, title, sections),
        "materials": materials_html.render(
            materials.Listing((title,), 2, materials.materials(board), (title,), 10)
        ),
        "labels": labels.page(labels.labels(board), [title]),
        "opened": opened_page(board, leaves(board, state=shots[0].settled), state=shots[0].settled),
    }


BREAKING_OUT = """</title></style></script>--><script>alert(1)</script><img src=x onerror=alert(1)>"'"""


def test_a_page_has_a_policy_of_just_its_own_style_and_script() -> None:
    for name, page in every_page(BREAKING_OUT).items():
        head = page[: page.index("<title>")]
        assert page.count("Content-Security-Policy") == 1
        told = re.search(r'<meta http-equiv="Content-Security-Policy" content="([^"]*)">', head)
        assert told is not None
        policy = dict(part.split(" ", 1) for part in told[1].split("; "))
        want = {"default-src": "'none'", "base-uri": "'none'", "form-action": "'none'"}
        for tag, source in (("style", "style-src"), ("script", "script-src")):
            inner = re.findall(rf"<{tag}>(.*?)</{tag}>", page, re.DOTALL)
            assert len(inner) == (tag == "style" or name == "steps")
            if inner:
                want[source] = f"'sha256-{b64encode(sha256(inner[0].encode()).digest()).decode()}'"
        assert policy == want


def test_nothing_in_a_page_needs_more_than_its_policy() -> None:
    for page in every_page(BREAKING_OUT).values():
        reader = Policed()
        reader.feed(page)
        reader.close()
        assert reader.broken == []


class Policed(HTMLParser):
    """What a policy would stop, and what no title may bring in."""

    def __init__(self) -> None:
        super().__init__()
        self.broken: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        names = {name for name, _ in attrs}
        leads = [value for name, value in attrs if name in ("href", "xlink:href", "src") and value]
        if (
            tag
            in ("img", "iframe", "object", "embed", "link", "base", "form", "foreignobject", "use", "image")
            or "style" in names
            or any(name.startswith("on") for name in names)
            or any(not value.startswith("#") for value in leads)
            or (tag == "script" and names not in (set(), {"type", "id"}))
        ):
            self.broken.append(f"{tag} {attrs}")


def test_a_picture_has_no_script_and_leads_nowhere() -> None:
    case, shots = furnace()
    board = case.board._replace(title=BREAKING_OUT)
    pictures = [draw(board, findings(case), "wiring"), draw(board, (), "ladder", state=shots[0].settled)]
    pictures.append(Picture(timing_sheet(play_call(case.circuit, ("heat",)), BREAKING_OUT)).svg)
    pictures += [one for each in stairs(BREAKING_OUT, most=2) for one in (*each.pictures, *each.sheets)]
    for picture in pictures:
        root = ElementTree.fromstring(picture.encode())
        names = {element.tag.partition("}")[2] for element in root.iter()}
        assert names <= {"svg", "g", "title", "path", "polygon", "polyline", "ellipse", "text"}, names
        for element in root.iter():
            for name, value in element.attrib.items():
                assert not name.startswith("on") and "href" not in name and name != "style"
                assert "url(" not in value and "javascript:" not in value
        assert not re.search(r"<!|<\?(?!xml )", picture)
        # The names of its two vocabularies are no places to fetch from.
        assert set(re.findall(r"https?://[^\"]*", picture)) <= {
            "http://www.w3.org/2000/svg",
            "http://www.w3.org/1999/xlink",
        }


@pytest.mark.slow
@pytest.mark.chromium
@pytest.mark.parametrize("name", ["gallery", "steps", "checklist", "materials", "labels", "opened"])
def test_a_page_works_under_its_policy_in_a_browser(name: str, tmp_path: Path) -> None:
    """The page draws no complaint; what is not its own draws one, and does nothing."""
    page = every_page(BREAKING_OUT)[name]
    look = """
    const styled = getComputedStyle(document.querySelector(".caution"));
    document.title = [styled.borderLeftStyle, document.querySelectorAll("img, script").length].join(" ");
    """
    title, console = browse(page, tmp_path, look)
    assert (title, console) == (f"solid {3 if name == 'steps' else 1}", "")
    foreign = (
        '<script>document.title = "run"</script><p id="p" style="color: rgb(1, 2, 3)" onclick="x()">p</p>'
        '<img src="data:image/gif;base64,R0lGODlhAQABAAAAACw=" onerror="document.title = \'run\'">'
    )
    look = (
        'document.title += " " + (getComputedStyle(document.getElementById("p")).color === "rgb(1, 2, 3)");'
    )
    title, console = browse(page.replace("</body>", f"{foreign}</body>"), tmp_path, look)
    assert title.endswith(" false") and "run" not in title
    assert console.count("Content Security Policy") >= 3


def test_dark_pages_are_dark() -> None:
    for page in (
        gallery_page("Stairs", stairs(colors="dark", most=1), "dark"),
        steps_page(*_one(), colors="dark"),
    ):
        assert '<html lang="en" class="dark">' in page
        assert 'fill="#15181c"' in page


def _one() -> tuple[wirecheck.model.board.Board, str, list[Shot]]:
    case, shots = furnace()
    return case.board, "Heat", shots[:1]


def allowed(page: str, script: str) -> str:
    """The page with this script in its policy too."""
    code = f"'sha256-{b64encode(sha256(script.encode()).digest()).decode()}'"
    if "; script-src " in page:
        return page.replace("; script-src ", f"; script-src {code} ", 1)
    return page.replace("; base-uri ", f"; script-src {code}; base-uri ", 1)


def browse(page: str, folder: Path, script: str) -> tuple[str, str]:
    """Open a page in a browser and run a script in it; its title after that, and what the console said."""
    program = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))))
    path = folder / "page.html"
    path.write_text(allowed(page, script).replace("</body>", f"<script>{script}</script></body>"), "utf-8")
    done = subprocess.run(
        [
            program, "--headless", "--no-sandbox", "--disable-gpu", "--enable-logging=stderr",
            f"--user-data-dir={folder / 'profile'}", "--window-size=1366,768", "--virtual-time-budget=4000",
            "--dump-dom", path.as_uri(),
        ],
        capture_output=True, text=True, timeout=120, check=True,
    )  # fmt: skip
    title = re.search(r"<title>(.*?)</title>", done.stdout)
    assert title is not None
    return title[1], "\n".join(line for line in done.stderr.splitlines() if "CONSOLE" in line)


@pytest.mark.slow
@pytest.mark.chromium
def test_steps_in_a_browser(tmp_path: Path) -> None:
    """Every step, by the button, shows what it shall and nothing else; keys and list work too."""
    case, shots = furnace()
    script = """
    const wrong = [], next = document.getElementById("on");
    const look = (id) => getComputedStyle(document.getElementById(id)).visibility;
    const seen = () => shown.filter(([id]) => look(id) === "visible");
    for (let step = 0; step < rows.length; step++) {
      const want = shown.filter(([, spans]) => spans.some(([from, to]) => from <= step && step <= to)).length;
      if (at !== step || seen().length !== want) wrong.push(step);
      next.click();
    }
    document.dispatchEvent(new KeyboardEvent("keydown", {key: "Home"}));
    if (at !== 0) wrong.push("Home");
    document.dispatchEvent(new KeyboardEvent("keydown", {key: "ArrowRight"}));
    if (at !== 1) wrong.push("ArrowRight");
    rows[3].click();
    if (at !== 3 || rows[3].getAttribute("aria-current") !== "step") wrong.push("list");
    slider.value = 5; slider.dispatchEvent(new Event("input"));
    if (at !== 5) wrong.push("slider");
    which.value = "both"; which.dispatchEvent(new Event("change"));
    if (document.querySelectorAll("figure:not([hidden])").length !== 2) wrong.push("both");
    if (document.documentElement.scrollWidth > innerWidth) wrong.push("wide");
    const whole = document.getElementById("size"), room = document.querySelector(".pictures");
    for (const kind of ["wiring", "ladder"]) {
      which.value = kind; which.dispatchEvent(new Event("change"));
      const words = [...document.querySelectorAll(`#${kind} text`)].filter((each) => each.checkVisibility());
      if (Math.min(...words.map((each) => parseFloat(each.getAttribute("font-size")) * each.getCTM().a)) < 6)
        wrong.push(`${kind} is small`);
      if (document.getElementById(kind).getBoundingClientRect().height < 440) wrong.push(`${kind} is low`);
      whole.click();
      if (room.scrollHeight > room.clientHeight || room.scrollWidth > room.clientWidth)
        wrong.push(`${kind} whole`);
      whole.click();
      dispatchEvent(new Event("beforeprint"));
      const titles = [...printed.querySelectorAll("h2")].map((each) => each.textContent);
      if (titles.join() !== rows.map((row) => row.title).join()) wrong.push(`${kind} printed`);
      const on = printed.querySelectorAll("section")[3].querySelectorAll(".state.on").length;
      const want = shown.filter(([id, spans]) => id.startsWith(kind) && holds(spans, 3)).length;
      if (on !== want || printed.querySelector("[id]")) wrong.push(`${kind} step`);
      dispatchEvent(new Event("afterprint"));
      if (printed.firstChild) wrong.push("left over");
    }
    document.title = wrong.join(",") || `${rows.length} steps`;
    """
    title, console = browse(steps_page(case.board, "Heat", shots), tmp_path, script)
    assert (title, console) == (f"{len(shots)} steps", "")


@pytest.mark.slow
@pytest.mark.chromium
def test_a_board_with_its_insides_in_a_browser(tmp_path: Path) -> None:
    """One picture is shown at a time, the one that is chosen, and it lies in the window."""
    script = """
    const shown = () => [...document.querySelectorAll(".leaf")].filter((leaf) => leaf.checkVisibility());
    const said = [];
    for (const choice of document.querySelectorAll(".choice")) {
      choice.labels[0].click();
      const [leaf, more] = shown(), box = leaf.querySelector("svg").getBoundingClientRect();
      if (more || box.right > innerWidth || box.width < 300) said.push("wrong");
      said.push(leaf.querySelector("h2").textContent);
    }
    document.title = said.join(", ");
    """
    case, _ = furnace()
    page = opened_page(case.board, leaves(case.board), "F")
    assert 'id="choice-2" checked' in page
    title, console = browse(page, tmp_path, script)
    assert (title, console) == ("Wiring diagram, Ladder diagram, Inside F", "")


@pytest.mark.slow
@pytest.mark.chromium
def test_a_folder_in_a_browser(tmp_path: Path) -> None:
    """Every picture has its size and lies in the window, and the page does not scroll sideways."""
    script = """
    const boxes = [...document.querySelectorAll(".screen svg")].map((svg) => svg.getBoundingClientRect());
    const wrong = boxes.filter((box) => box.width < 200 || box.height < 80 || box.right > innerWidth).length;
    document.title = `${boxes.length} ${wrong} ${document.documentElement.scrollWidth <= innerWidth}`;
    """
    title, console = browse(gallery_page("Stairs", stairs()), tmp_path, script)
    assert (title, console) == ("6 0 true", "")


@pytest.mark.slow
def test_printed_steps_are_read_and_their_colors_told() -> None:
    """No words of a printed step under the least, none beyond the paper's edge, and strokes beside color."""
    text = (files.folder("boards") / "heat-pump/right.wire").read_text("utf-8")
    case = Case(wirecheck.assemble(text)[1])
    steps = case.played(["cool"]).steps[:2]
    page = steps_page(case.board, "Cool", [Shot("0 s", ["cool"], step.settled) for step in steps])
    for kind, widest in (("wiring", LYING[0]), ("ladder", LYING[0])):
        own = re.search(rf'<figure id="{kind}".*?<svg width="([\d.]+)pt"', page)
        printed = re.search(rf"#printed .{kind} svg {{ width: (\d+)pt", page)
        assert own is not None and printed is not None
        assert float(printed[1]) <= widest
        figure = page[page.index(f'<figure id="{kind}"') :]
        figure = figure[: figure.index("</figure>")]
        least = min(float(size) for size in re.findall(r'font-size="([\d.]+)"', figure))
        assert least * float(printed[1]) / float(own[1]) >= LEAST_ON_PAPER - 0.01
    assert 'class="edge ticks"' in page


def printed_sheets(page: str) -> list[ElementTree.Element]:
    """The pictures of a page that are for paper."""
    found = re.findall(r'<div class="(?:lying|upright)">(<svg.*?</svg>)</div>', page, re.DOTALL)
    return [ElementTree.fromstring(each.replace("xlink:", "")) for each in found]


def lettering(sheet: ElementTree.Element) -> float:
    """The least size of a sheet's words in points of the paper."""
    width = float(sheet.attrib["width"].removesuffix("pt"))
    scale = width / float(sheet.attrib["viewBox"].split()[2])
    high = float(sheet.attrib["height"].removesuffix("pt")) / float(sheet.attrib["viewBox"].split()[3])
    sizes = [float(each.attrib["font-size"]) for each in sheet.iter() if "font-size" in each.attrib]
    return min(sizes) * min(scale, high)


def test_the_pages_print_pictures_that_are_laid_out_for_paper() -> None:
    """Whole sheets, no words under the least, no hidden names in them, and strokes beside color."""
    case, _ = furnace()
    for page, count in (
        (gallery_page("Stairs", stairs()), sum(len(each.sheets) for each in stairs())),
        (opened_page(case.board, leaves(case.board)), 3),
    ):
        sheets = printed_sheets(page)
        assert len(sheets) >= count
        for sheet in sheets:
            size = [float(sheet.attrib[side].removesuffix("pt")) for side in ("width", "height")]
            assert sorted(size) == [612.0, 792.0]
            assert lettering(sheet) >= LEAST_ON_PAPER - 0.01
            assert all("id" not in each.attrib for each in sheet.iter())
        assert ".screen { display: none; }" in page[page.index("@media print") :]
        told = {"".join(each.itertext()) for each in sheets}
        assert any("Wiring diagram" in words for words in told)
        assert any("Ladder diagram" in words for words in told)
    # The key of the strokes stands on each wiring diagram that has a red wire.
    assert all("red" in (each.text for each in printed_sheets(page)[0].iter()) for page in (page,))


def test_the_few_words_of_a_right_board_stand_under_its_picture() -> None:
    """On paper they take no page of their own: below all that is drawn, within the sheet."""
    right = next(each for each in stairs() if not each.findings)
    assert right.told and not any(each.told for each in stairs() if each.findings)
    page = gallery_page("Stairs", [right])
    assert page.index('class="words-of screen"') < page.index(right.file, page.index("<section"))
    sheet = printed_sheets(page)[0]
    _, top, _, high = map(float, sheet.attrib["viewBox"].split())
    words = {each.text or "": float(each.attrib["y"]) for each in sheet.iter() if each.tag.endswith("text")}
    told = [right.file, "What it should do", *right.expects, "No problem found"]
    heights = [words[line] for line in told]
    assert heights == sorted(heights)
    assert heights[0] > max(y for line, y in words.items() if line not in told)
    turned = float(re.search(r"translate\([\d.-]+ ([\d.-]+)\)", ElementTree.tostring(sheet, "unicode"))[1])
    assert heights[-1] + turned < top + high


@pytest.mark.slow
@pytest.mark.chromium
def test_printed_pages_are_words_and_whole_sheets(tmp_path: Path) -> None:
    """As a browser prints it: the index, a page of words for a wrong board, each sheet by itself, no more."""
    program = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))))
    path, out = tmp_path / "page.html", tmp_path / "page.pdf"
    case, _ = furnace()
    inside = leaves(case.board)
    for page, words, sheets in (
        (
            gallery_page("Stairs", stairs()),
            1 + sum(not each.told for each in stairs()),
            [one for each in stairs() for one in each.sheets],
        ),
        (opened_page(case.board, inside), 0, [one for leaf in inside for one in leaf.sheets]),
    ):
        path.write_text(page, "utf-8")
        subprocess.run(
            [
                program, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
                f"--user-data-dir={tmp_path / 'profile'}", f"--print-to-pdf={out}", path.as_uri(),
            ],
            capture_output=True, timeout=120, check=True,
        )  # fmt: skip
        boxes = re.findall(rb"/MediaBox \[\s*0 0 ([\d.]+) ([\d.]+)\s*\]", out.read_bytes())
        assert len(boxes) == words + len(sheets)
        lying = sum(float(wide) > float(high) for wide, high in boxes)
        assert lying == sum(float(re.search(r'width="([\d.]+)', one)[1]) > 700 for one in sheets)


@pytest.mark.slow
def test_a_page_holds_no_more_insides_than_it_can_and_says_so():
    lines = [f"F{number} is gas-furnace" for number in range(MOST_INSIDES + 2)]
    board = wirecheck.assemble("\n".join(['board "Heat"', *lines, ""]))[1]
    last = f"F{MOST_INSIDES + 1}"
    held = leaves(board, chosen=last)
    assert len(held) == 2 + MOST_INSIDES and held[-1].name == f"Inside {last}"
    assert "The insides of 2 more pieces of equipment are not on this page" in opened_page(board, held, last)
    few = wirecheck.assemble("\n".join(['board "Heat"', *lines[:2], ""]))[1]
    assert "not on this page" not in opened_page(few, leaves(few))
