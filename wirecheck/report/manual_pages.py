"""The rules and the parts as pages of HTML: each whole in itself, and one that finds them by their words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from wirecheck.caution import CAUTION
from wirecheck.judge.rule import Manual
from wirecheck.language.mentions import mentions
from wirecheck.language.reader import comment_begins, read
from wirecheck.language.syntax import DeviceStatement, Syntax
from wirecheck.parts.part import Part
from wirecheck.report.catalog import matters
from wirecheck.report.html import page, paragraph, text
from wirecheck.report.manual import editions
from wirecheck.tables.editions import Difference

INDEX = "index.html"

STYLE = """
:root { color-scheme: light dark; --line: #999; --faint: #f2f2f2; --wrong: #b00020; }
:root { --mark: #ffe9a8; --link: #0b4fb3; --ground: #fff; --ink: #1a1a1a; }
@media (prefers-color-scheme: dark) {
  :root { --line: #777; --faint: #2a2a2a; --wrong: #ff8a95; --mark: #5a4a10; --link: #9ec1ff; }
  :root { --ground: #17191c; --ink: #e8eaed; }
}
body { font: 16px/1.45 system-ui, sans-serif; max-width: 46em; margin: 1em auto; padding: 0 1em; }
html { background: var(--ground); color: var(--ink); }
body { background: var(--ground); }
body, pre { overflow-wrap: anywhere; }
h1 { font-size: 1.5em; margin: .6em 0 .2em; }
h2 { font-size: 1.1em; margin: 1.2em 0 .2em; border-bottom: 1px solid var(--line); }
p, ul, dl { margin: .4em 0; }
ul { padding-left: 1.2em; }
dt { font-weight: 600; margin-top: .4em; }
dd { margin: 0 0 0 1.2em; }
pre { font: 14px/1.4 monospace; white-space: pre-wrap; background: var(--faint); padding: .6em; }
a { color: var(--link); }
mark { background: var(--mark); color: inherit; }
input { font: inherit; width: 100%; box-sizing: border-box; padding: .5em; }
.found { list-style: none; padding: 0; }
.found li { padding: .25em 0; border-bottom: 1px solid var(--line); }
.found a { display: inline-block; padding: .2em 0; font-weight: 600; }
.caution { border: 2px solid var(--wrong); padding: .4em .7em; margin-top: 1.5em; }
@media print {
  :root { color-scheme: light; --line: #999; --faint: #f2f2f2; --wrong: #b00020; --mark: #ffe9a8; }
  :root { --ground: #fff; --ink: #1a1a1a; }
  @page { margin: 14mm; }
  body { font-size: 10pt; line-height: 1.3; max-width: none; margin: 0; padding: 0; }
  pre { font-size: 8.5pt; }
  a { color: inherit; text-decoration: none; }
  nav, .search { display: none; }
  h1, h2, dt { break-after: avoid; }
  li, dd, .caution { break-inside: avoid; }
}
"""

SCRIPT = """
const box = document.getElementById("search");
const rows = [...document.querySelectorAll(".found li")];
const words = rows.map((row) => `${row.textContent} ${row.dataset.words || ""}`.toLowerCase());
const find = () => {
  const asked = box.value.toLowerCase().split(/\\s+/).filter(Boolean);
  let count = 0;
  rows.forEach((row, number) => {
    row.hidden = !asked.every((word) => words[number].includes(word));
    if (!row.hidden) count += 1;
  });
  for (const list of document.querySelectorAll("section")) {
    list.hidden = !list.querySelector("li:not([hidden])");
  }
  document.getElementById("count").textContent = `${count} of ${rows.length}`;
};
box.addEventListener("input", find);
document.querySelector(".search").hidden = false;
find();
"""


class RulePage(NamedTuple):
    """What there is to say of a rule: its manual, its two boards, where the editions of the code differ."""

    manual: Manual
    wrong: str
    right: str
    differences: Sequence[Difference] | None


def pages(
    rules: Sequence[RulePage], parts: Sequence[Part], words: Mapping[str, str]
) -> Iterator[tuple[str, str]]:
    """Each page with the name of its file, the one that leads to all others at the end.

    Parameters
    ----------
    words : what people call parts, each with the part's name
    """
    files = _files(parts)
    about = {rule.manual.name: _about(rule.wrong) for rule in rules}
    for rule in rules:
        yield _rule_file(rule.manual.name), _rule_page(rule, about[rule.manual.name], files)
    known = {part.name: part for part in parts}
    for part in parts:
        speaking = [name for name, told in about.items() if part.name in told]
        yield files[part.name], _part_page(part, known, speaking, files)
    yield INDEX, _index(rules, parts, files, words)


def _files(parts: Iterable[Part]) -> dict[str, str]:
    """The file of each part's page. One that does not ship has a number in it: its name may be anything.

    >>> from wirecheck import shipped_parts
    >>> lamp = shipped_parts().part("lampholder")
    >>> _files([lamp, lamp._replace(name="../x", file="../x.wire")])
    {'lampholder': 'part-lampholder.html', '../x': 'own-2.html'}
    """
    return {
        part.name: f"own-{number}.html" if part.file else f"part-{part.name}.html"
        for number, part in enumerate(parts, 1)
    }


def _rule_file(name: str) -> str:
    return f"rule-{name}.html"


# ------------------------------------------------------------------- a rule


def _about(wrong: str) -> tuple[str, ...]:
    """The parts that the marked lines of a rule's wrong board speak of, by their names.

    >>> _about("S1 is dimmer in A\\nat A\\n  W1.black -- S1.line  # finds: switching")
    ('dimmer',)
    """
    source = read(wrong, "wrong.wire")
    parts = {one.name.text: one.part.text for one in _devices(source)}
    lines = _marked(source.text)
    told = (one.name for one in mentions(source) if one.kind == "device" and one.span.line in lines)
    return tuple(dict.fromkeys(parts[name] for name in told if name in parts))


def _devices(source: Syntax) -> list[DeviceStatement]:
    return [one for one in source.statements if isinstance(one, DeviceStatement)]


def _marked(board: str) -> set[int]:
    """The lines of a board that say what they must raise."""
    lines = enumerate(board.splitlines(), 1)
    return {number for number, line in lines if "finds:" in line[comment_begins(line) :]}


def _rule_page(rule: RulePage, about: Sequence[str], files: Mapping[str, str]) -> str:
    manual = rule.manual
    kind = f"A rule, from the stage: {', '.join(manual.stages)}."
    if manual.severities:
        kind += f" Can be: {', '.join(manual.severities)}."
    body = [paragraph(kind), f"<p><strong>{text(manual.summary)}</strong></p>"]
    body += [paragraph(" ".join(each.split())) for each in manual.why.split("\n\n") if each.strip()]
    body += [_heading("Source"), paragraph(manual.source)]
    for heading, lines in editions(rule.differences):
        body += [_heading(heading), _list(map(text, lines))] if heading else map(paragraph, lines)
    links = [_link(files[name], name) for name in about if name in files]
    body += [_heading("Parts that its example is about"), _list(links)] if links else []
    for heading, board in (("Wrong", rule.wrong), ("Right", rule.right)):
        body += [_heading(heading), _board(board, files)] if board.strip() else []
    return _page(manual.name, body)


def _board(board: str, files: Mapping[str, str]) -> str:
    """A board's text, in which the parts lead to their pages, and the line that is wrong is marked."""
    source = read(board.rstrip(), "board.wire")
    lines = source.text.splitlines()
    shown = list(map(text, lines))
    for one in _devices(source):
        row, name = one.part.span.line - 1, one.part.text
        if name in files:
            before, after = one.part.span.column - 1, one.part.span.column - 1 + len(name)
            line = lines[row]
            shown[row] = f"{text(line[:before])}{_link(files[name], name)}{text(line[after:])}"
    for number in _marked(source.text):
        shown[number - 1] = f"<mark>{shown[number - 1]}</mark>"
    return f"<pre>{chr(10).join(shown)}</pre>"


# ------------------------------------------------------------------- a part


def _part_page(
    part: Part, known: Mapping[str, Part], speaking: Sequence[str], files: Mapping[str, str]
) -> str:
    body = [f"<p><strong>{text(part.title)}</strong></p>"]
    for heading, rows in matters(part, known):
        body += [_heading(heading), _rows(rows)]
    inner = dict.fromkeys(child.part for child in part.children if child.part in files)
    body += [_heading("Parts inside"), _list(_link(files[name], name) for name in inner)] if inner else []
    links = [_link(_rule_file(name), name) for name in speaking]
    body += [_heading("Rules whose example is about it"), _list(links)] if links else []
    return _page(part.name, body)


def _rows(rows: Sequence[tuple[str, str]]) -> str:
    if not any(name for name, _ in rows):
        return _list(text(said) for _, said in rows)
    return f"<dl>{''.join(f'<dt>{text(name)}</dt><dd>{text(said)}</dd>' for name, said in rows)}</dl>"


# ---------------------------------------------------------------- all of it


def _index(
    rules: Sequence[RulePage], parts: Sequence[Part], files: Mapping[str, str], words: Mapping[str, str]
) -> str:
    called: dict[str, list[str]] = {}
    for word, name in words.items():
        called.setdefault(name, []).append(word)
    ruled = [
        _entry(_rule_file(rule.manual.name), rule.manual.name, rule.manual.summary, rule.manual.severities)
        for rule in rules
    ]
    listed = [_entry(files[part.name], part.name, part.title, called.get(part.name, ())) for part in parts]
    body = [
        '<div class="search" role="search" hidden><label for="search">Find a rule or a part by its words'
        '</label><input type="search" id="search" autocomplete="off">'
        '<p id="count" role="status"></p></div>',
        _section("Rules", ruled),
        _section("Parts", listed),
    ]
    return _page("Rules and parts", body, SCRIPT)


def _entry(file: str, name: str, said: str, words: Iterable[str]) -> str:
    """A line that leads to a page, with words by which it is found too."""
    return f'<li data-words="{text(" ".join(words))}">{_link(file, name)} {text(said)}</li>'


def _section(title: str, entries: Iterable[str]) -> str:
    return f'<section>{_heading(title)}<ul class="found">{"".join(entries)}</ul></section>'


def _page(title: str, body: Iterable[str], script: str = "") -> str:
    """A whole page; the one with the script is the one that leads to the others."""
    back = "" if script else f"<nav>{_link(INDEX, 'All rules and parts')}</nav>\n"
    lines = "\n".join(body)
    whole = f'{back}<main>\n<h1>{text(title)}</h1>\n{lines}\n<p class="caution">{text(CAUTION)}</p>\n</main>'
    return page(title, STYLE, whole, script)


def _heading(words: str) -> str:
    return f"<h2>{text(words)}</h2>"


def _link(file: str, words: str) -> str:
    return f'<a href="{file}">{text(words)}</a>'


def _list(items: Iterable[str]) -> str:
    return f"<ul>{''.join(f'<li>{item}</li>' for item in items)}</ul>"
