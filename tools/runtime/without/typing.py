"""In place of typing: what annotations and a few plain classes need.

The whole of it takes a tenth of the time in which Python starts, for names that are read by a
type checker only.
"""

from _typing import Generic, ParamSpec, TypeVar

__all__ = ["TYPE_CHECKING", "Any", "Generic", "NamedTuple", "ParamSpec", "TypeVar", "cast"]

TYPE_CHECKING = False


class Any:
    """Whatever; a class, so that ``Any | None`` holds."""


class _Form:
    """A name that means something to a type checker alone; as a base class it is none."""

    def __getitem__(self, parameters):
        return self

    def __mro_entries__(self, bases):
        return ()


ClassVar = _Form()
IO = _Form()
Literal = _Form()
Protocol = _Form()
Self = _Form()


def cast(typ, val):
    """Return the value as it is."""
    return val


def overload(func):
    """Return what a type checker alone reads."""
    return func


def _generic_class_getitem(cls, *args, **kwargs):
    """Called for ``Class[parameters]``: the class, whatever its parameters."""
    return cls


def _generic_init_subclass(cls, *args, **kwargs):
    """Called for each class made from a generic one."""


def _type_check(arg, msg):
    """Called for the bound of a type variable: right already, or a type checker tells."""
    return arg


def get_origin(tp):
    """Asked by dataclasses of an annotation that is no text."""
    return getattr(tp, "__origin__", None)


class _NamedTupleMeta(type):
    """Makes a named tuple of a class with annotated fields."""

    def __new__(mcs, name, bases, body):
        from collections import namedtuple

        fields = list(body.get("__annotations__", {}))
        defaults = [body[field] for field in fields if field in body]
        made = namedtuple(name, fields, defaults=defaults, module=body["__module__"])  # noqa: PYI024
        own = {"__module__", "__qualname__", "__annotations__", "__orig_bases__", *fields}
        for key in body.keys() - own:
            setattr(made, key, body[key])
        return made


class _NamedTuple:
    def __mro_entries__(self, bases):
        return (_Fields,)


_Fields = type.__new__(_NamedTupleMeta, "_Fields", (), {})
NamedTuple = _NamedTuple()
