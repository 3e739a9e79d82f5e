"""What the page of an exercise has beside its board: what is asked, what it is worth, and the handing in."""

from __future__ import annotations

from collections.abc import Sequence

from wirecheck.page.exercises import Begun
from wirecheck.page.names import MOST_LETTERS
from wirecheck.page.views import SERVED, Around, Listed, file_of, text_of

NO_RECORD = "Nothing is handed in here, since no record is kept. Save a copy, and hand that over."


def exercise_part(one: Begun, recorded: bool) -> str:
    """What stands above the findings.

    Parameters
    ----------
    recorded : whether works can be handed in

    Examples
    --------
    >>> shed = Begun("Shed", (("final", "40 points"),), (), ("expect L1 from <S1>",))
    >>> "expect L1 from &lt;S1&gt;" in exercise_part(shed, True)
    True
    >>> "Hand in" in exercise_part(shed, False)
    False
    """
    worth = ", ".join(f"{stage} {text_of(points)}" for stage, points in one.stages)
    asked = "".join(f"<li><code>{text_of(line)}</code></li>" for line in one.asked)
    costs = text_of(" ".join(one.costs))
    return (
        '<div class="exercise" id="exercise" tabindex="-1">\n<h2>Exercise</h2>\n'
        f"<p>Worth: {worth}.</p>\n"
        f'<p class="faint">{costs}</p>\n'
        + (f"<h3>What is asked</h3><ul>{asked}</ul>\n" if asked else "")
        + (_form(one) if recorded else f"<p>{NO_RECORD}</p>\n")
        + "</div>\n"
    )


def exercise_items(exercises: Sequence[Listed], around: Around = SERVED) -> str:
    """The exercises of a folder, each a link; nothing where there is none."""
    items = "".join(
        f'<li><a href="{around.to("exercise", one.file)}">{text_of(one.title or one.file)}</a>'
        f"{file_of(one)}</li>\n"
        for one in exercises
    )
    return f"<h2>Exercises</h2>\n<ul>\n{items}</ul>\n<h2>Boards</h2>\n" if items else ""


def _form(one: Begun) -> str:
    stages = "".join(
        f'<option value="{stage}">built so far: {stage} alone</option>' for stage, _ in one.stages
    )
    return (
        '<h3>Hand in</h3>\n<form id="hand-in">\n<div class="bar">'
        f'<label>Your name <input id="name" autocomplete="name" '
        f'maxlength="{MOST_LETTERS}" required></label>\n'
        '<label id="code-asked" hidden>Your code <input id="code" autocomplete="off" spellcheck="false" '
        'autocapitalize="characters" maxlength="20"></label>\n'
        f'<label>Grade <select id="stage"><option value="">all stages</option>{stages}</select></label>\n'
        '<button type="submit" id="send">Hand in</button>\n'
        '<button type="button" id="other" hidden>Another student</button></div>\n'
        '<p class="faint">Your instructor sees your name, what you hand in, and what you are '
        "working on.</p>\n"
        '</form>\n<p id="handed" role="status"></p>\n<ul id="sheets" aria-label="Your sheets"></ul>\n'
    )
