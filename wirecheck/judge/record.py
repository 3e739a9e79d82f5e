"""Records that do not change, and that cost nothing to declare.

A frozen dataclass writes its methods out and compiles them, which takes some half a millisecond.
There are more than a hundred kinds of problem, and every check would wait for all of them.
"""

from __future__ import annotations

from typing import Any, ClassVar, NoReturn, Self, dataclass_transform


@dataclass_transform(frozen_default=True, kw_only_default=True)
class Record:
    """The base of records: the annotations of a class, after those of its base, are its fields.

    A field with a value in the class may be left out; the others may not.

    Examples
    --------
    >>> class Wire(Record):
    ...     name: str
    ...     color: str = "black"
    >>> Wire(name="W1"), Wire(name="W1") == Wire(name="W1", color="black")
    (Wire(name='W1', color='black'), True)
    >>> Wire(color="red")
    Traceback (most recent call last):
    TypeError: a Wire needs name
    >>> Wire(name="W1", size="14")
    Traceback (most recent call last):
    TypeError: a Wire has no size
    >>> Wire(name="W1").color = "red"
    Traceback (most recent call last):
    AttributeError: a Wire does not change
    """

    fields: ClassVar[tuple[str, ...]] = ()

    def __init_subclass__(cls) -> None:
        cls.fields = tuple(dict.fromkeys((*cls.fields, *cls.__annotations__)))

    def __init__(self, **values: Any) -> None:
        for what, names in (
            ("has no", [name for name in values if name not in self.fields]),
            ("needs", [name for name in self.fields if name not in values and not hasattr(self, name)]),
        ):
            if names:
                raise TypeError(f"a {type(self).__name__} {what} {', '.join(names)}")
        self.__dict__.update(values)

    def but(self, **changes: Any) -> Self:
        """The same record with other values in some fields.

        >>> class Wire(Record):
        ...     name: str
        ...     color: str = "black"
        >>> Wire(name="W1").but(color="red")
        Wire(name='W1', color='red')
        """
        return type(self)(**dict(zip(self.fields, self._values(), strict=True)) | changes)

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError(f"a {type(self).__name__} does not change")

    def __delattr__(self, name: str) -> NoReturn:
        raise AttributeError(f"a {type(self).__name__} does not change")

    def _values(self) -> tuple[object, ...]:
        return tuple(getattr(self, name) for name in self.fields)

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and other._values() == self._values()

    def __hash__(self) -> int:
        return hash(self._values())

    def __repr__(self) -> str:
        values = (f"{name}={value!r}" for name, value in zip(self.fields, self._values(), strict=True))
        return f"{type(self).__name__}({', '.join(values)})"
