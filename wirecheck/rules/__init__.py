"""Every rule, one a file, named after the rule."""

from __future__ import annotations

import functools
import importlib
import pkgutil
from collections.abc import Iterator
from types import FunctionType

from wirecheck.judge.rule import Manual, Rule
from wirecheck.rules.old import Check
from wirecheck.rules.old import manual as old_manual
from wirecheck.rules.old import name as old_name


@functools.cache
def rules() -> tuple[Rule, ...]:
    """Each rule, in order of name."""
    modules = (importlib.import_module(f"{__name__}.{info.name}") for info in pkgutil.iter_modules(__path__))
    return tuple(sorted((one.RULE for one in modules if hasattr(one, "RULE")), key=lambda rule: rule.name))


def manuals() -> dict[str, Manual]:
    """Every rule's manual by the rule's name."""
    told = {rule.name: rule.manual for rule in rules()}
    for check in checks():
        old = old_manual(check)
        told[old_name(check)] = Manual(old.name, old.summary, old.why, old.source, old.stages)
    return told


def checks() -> Iterator[Check]:
    """Each rule that is still a marked function."""
    for module in sorted(info.name for info in pkgutil.iter_modules(__path__)):
        for value in vars(importlib.import_module(f"{__name__}.{module}")).values():
            if (
                isinstance(value, FunctionType)
                and hasattr(value, "stages")
                and value.__module__.endswith(f".{module}")
            ):
                yield value
