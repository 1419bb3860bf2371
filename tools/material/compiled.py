"""The theme's templates, compiled once in a process: a builder that goes on reads them no second time."""

from __future__ import annotations

from types import CodeType

from jinja2 import BytecodeCache, Environment
from jinja2.bccache import Bucket

_COMPILED: dict[tuple[str, str], CodeType] = {}


class Compiled(BytecodeCache):
    """Code by the name of its template and the hash of its text."""

    def load_bytecode(self, bucket: Bucket) -> None:
        """Hand over what was compiled, if it was."""
        bucket.code = _COMPILED.get((bucket.key, bucket.checksum))

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Remember it."""
        if bucket.code:
            _COMPILED[bucket.key, bucket.checksum] = bucket.code


def remember(templates: Environment) -> Environment:
    """Have a theme's templates taken from what this process compiled before."""
    templates.bytecode_cache = Compiled()
    return templates
