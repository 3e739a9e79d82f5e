"""What a page asks of a board, each under an address of its own, and what answers it.

A server answers by this table, and so does the page itself where there is none.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, NamedTuple

from wirecheck.page.answers import board_answer, mends_answer, meter_answer
from wirecheck.page.deeds import deed_answer
from wirecheck.page.placing import place_answer
from wirecheck.page.play import play_answer
from wirecheck.page.question import NotAQuestion, Question, question
from wirecheck.page.shelf import parts_answer

NO_BOARD = "There is no such board in this folder."


class Asking(NamedTuple):
    """One thing that is asked.

    Attributes
    ----------
    answer : what is answered, as JSON, of the path of a board's file and a question
    patient : whether it takes long, so that it waits until nobody else asks
    needs : what a question must have for it
    """

    answer: Callable[[str, Question], str]
    patient: bool = False
    needs: Literal["", "deed", "placing"] = ""

    def question(self, sent: bytes) -> Question:
        """What was sent, as a question that can be answered here.

        Raises
        ------
        NotAQuestion
            It is none.
        """
        asked = question(sent)
        if self.needs and getattr(asked, self.needs) is None:
            raise NotAQuestion(f"it has no {self.needs}")
        return asked


ASKED = {
    "/check": Asking(board_answer),
    "/mends": Asking(mends_answer, patient=True),
    "/measure": Asking(meter_answer),
    "/wire": Asking(deed_answer, needs="deed"),
    "/place": Asking(place_answer, needs="placing"),
    "/parts": Asking(parts_answer),
    "/play": Asking(play_answer),
}
"""Each thing that is asked, by its address."""


def not_understood(error: NotAQuestion) -> str:
    """What is said to who sent no question."""
    return f"This was not understood: {error}."
