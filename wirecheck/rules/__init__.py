"""Every rule, one a file, named after the rule."""

from __future__ import annotations

import functools
import importlib
import pkgutil

from wirecheck.judge.rule import Manual, Rule


@functools.cache
def rules() -> tuple[Rule, ...]:
    """Each rule, in order of name."""
    modules = (importlib.import_module(f"{__name__}.{info.name}") for info in pkgutil.iter_modules(__path__))
    return tuple(sorted((module.RULE for module in modules), key=lambda rule: rule.name))


def manuals() -> dict[str, Manual]:
    """Every rule's manual by the rule's name."""
    return {rule.name: rule.manual for rule in rules()}
