"""Every rule, one a file, named after the rule."""

from __future__ import annotations

import functools
import importlib
import pkgutil

from wirecheck.judge.not_checked import MANUAL
from wirecheck.judge.rule import Manual, Rule


@functools.cache
def rules() -> tuple[Rule, ...]:
    """Each rule, in order of name."""
    modules = (importlib.import_module(f"{__name__}.{info.name}") for info in pkgutil.iter_modules(__path__))
    return tuple(sorted((module.RULE for module in modules), key=lambda rule: rule.name))


def manuals() -> dict[str, Manual]:
    """The manual of all that a finding can be of: every rule, and a file that was not checked; by name."""
    return {MANUAL.name: MANUAL, **{rule.name: rule.manual for rule in rules()}}
