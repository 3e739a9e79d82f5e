"""What the checker says of a board, held to what a machine typed in a test makes of it."""

from __future__ import annotations

from wirecheck import check


def held(text: str, same: bool, only: str = "", passed: bool = False) -> None:
    """A board that does something else than the right one is complained of, and one that does so is not.

    Parameters
    ----------
    same : whether it does the same
    only : the one rule that complains of it all the same
    passed : whether it passes, though it does something else
    """
    worse = [each for each in check(text).findings if each.severity != "advice"]
    if only:
        assert same and {each.rule for each in worse} == {only}
    elif passed:
        assert not same and not worse
    else:
        assert bool(worse) != same, [each.message for each in worse]
