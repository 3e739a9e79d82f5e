"""What is kept of who works on what: bounded, and the first end of a ticket counts."""

from wirecheck.page.seen import FORGOTTEN, MOST_FOUND, MOST_SEEN, STAYS, Noted, Seen

HOT = Noted("polarity", "L1", "The shell of L1 is hot.")
BARE = Noted("grounding", "S1", "S1 has no ground.")


class Clock:
    now = 0.0

    def __call__(self):
        return self.now


def seen():
    clock = Clock()
    return Seen(clock), clock


def test_a_finding_stays_from_when_it_came_until_it_is_gone():
    told, clock = seen()
    told.board("Ana", "board", "a.wire", "A", [HOT])
    clock.now = STAYS - 1
    told.board("Ana", "board", "a.wire", "A", [HOT, BARE])
    assert told.stuck() == ()
    clock.now = STAYS
    told.board("Ana", "board", "a.wire", "A", [HOT, BARE])
    assert [(one.rule, one.who) for one in told.stuck()] == [("polarity", (("Ana", HOT, STAYS),))]
    told.board("Ana", "board", "a.wire", "A", [BARE])
    assert told.stuck() == ()
    told.board("Ana", "board", "a.wire", "A", [HOT])
    assert told.now()[0].found == {HOT: STAYS}


def test_what_most_are_stuck_on_comes_first():
    told, clock = seen()
    for now in (0.0, STAYS):
        clock.now = now
        told.board("Ana", "board", "a.wire", "A", [BARE, HOT])
        told.board("Bo", "exercise", "b.wire", "B", [HOT])
    assert [(one.rule, len(one.who)) for one in told.stuck()] == [("polarity", 2), ("grounding", 1)]


def test_another_board_begins_anew_and_who_left_is_forgotten():
    told, clock = seen()
    told.board("Ana", "board", "a.wire", "A", [HOT])
    clock.now = 5.0
    told.board("Ana", "board", "b.wire", "B", [HOT])
    (one,) = told.now()
    assert (one.file, one.since, one.found) == ("b.wire", 5.0, {HOT: 5.0})
    clock.now = 5.0 + FORGOTTEN
    assert told.now() == ()


def test_it_is_bounded():
    told, _ = seen()
    for number in range(MOST_SEEN + 5):
        told.board(str(number), "board", "a.wire", "A", [])
        told.ticket(f"t{number % 9}", "a.wire", str(number), 1, 50)
    assert len(told.now()) == MOST_SEEN and len(told._ended) == MOST_SEEN
    many = [HOT._replace(subject=str(one)) for one in range(MOST_FOUND + 1)]
    told.board("0 Ana", "board", "a.wire", "A", many)
    assert [len(one.found) for one in told.now() if one.who == "0 Ana"] == [MOST_FOUND]


def test_the_first_end_of_a_ticket_stands():
    told, _ = seen()
    told.ticket("Ana", "a.wire", "1", 3, None)
    assert told.now()[0].last == "3 asked so far"
    told.ticket("Ana", "a.wire", "1", 4, 60)
    told.ticket("Ana", "a.wire", "1", 1, 100)
    assert told.now()[0].last == "60 points, 4 asked"


def test_what_was_seen_of_a_machine_is_hers_who_hands_in_from_it():
    told, clock = seen()
    told.board("10.0.0.1", "exercise", "a.wire", "A", [HOT])
    told.board("10.0.0.2", "board", "a.wire", "A", [HOT])
    clock.now = STAYS
    told.handed_in("Ana", "a.wire", "A", "70 of 100 points", "10.0.0.1")
    told.handed_in("Bo", "a.wire", "A", "80 of 100 points", "10.0.0.2")
    assert [one.who for one in told.now()] == ["10.0.0.2", "Ana", "Bo"]
    _, ana, bo = told.now()
    assert (ana.found, ana.since, bo.found) == ({HOT: 0.0}, 0.0, {})
