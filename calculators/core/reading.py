"""Reads a whole record from what a form, a file or a shell sends: every bad value at once."""

from __future__ import annotations

from typing import Any

from . import units
from .errors import InputError, InputErrors
from .fields import Field, Record, Rows, is_unknown


def read_record(record: type[Record], raw: Any, system: str, *, path: str = "") -> Record:
    """Read a whole record; raises :class:`InputErrors` with every bad value at once.

    ``raw`` maps field keys to values; numbers and bare texts are in ``system``'s units.
    """
    errors: list[InputError] = []
    values = _read_into(record, raw, system, path, errors)
    if errors:
        raise InputErrors(tuple(errors))
    return record(**values)


def _read_into(
    record: type[Record], raw: Any, system: str, path: str, errors: list[InputError]
) -> dict[str, Any]:
    if not isinstance(raw, dict):
        errors.append(InputError(path, "Inputs", raw, "A set of named values is wanted.", ""))
        return {}
    known = {field.key: field for field in record.fields()}
    for key in raw:
        if key not in known:
            names = ", ".join(known)
            errors.append(
                InputError(
                    f"{path}{key}", str(key), raw[key],
                    "There is no such input.", f"Inputs here: {names}.",
                )
            )  # fmt: skip
    values: dict[str, Any] = {}
    for key, field in known.items():
        value = raw.get(key)
        if isinstance(field, Rows):
            values[key] = _read_rows(field, value, system, path, errors)
        elif not is_unknown(value):
            values[key] = _read_one(field, value, system, path, errors)
    return values


def _read_one(field: Field, raw: Any, system: str, path: str, errors: list[InputError]) -> Any:
    try:
        return field.read(raw, system)
    except (ValueError, OverflowError) as error:
        show = units.Units(system)
        mend = f"For example: {field.sample(show)}." if field.example is not None else ""
        errors.append(InputError(path + field.key, field.label, raw, str(error), mend))
        return None


def _read_rows(
    field: Rows, raw: Any, system: str, path: str, errors: list[InputError]
) -> list[Record]:
    rows = [] if raw is None else raw
    if not isinstance(rows, list):
        errors.append(InputError(path + field.key, field.label, raw, "A list is wanted.", ""))
        return []
    if not (field.least or 0) <= len(rows) <= (field.most or 0) and rows:
        errors.append(
            InputError(
                path + field.key, field.label, len(rows), field.limit_text(units.Units(system)), ""
            )
        )  # fmt: skip
    read = []
    for number, row in enumerate(rows):
        values = _read_into(field.record, row, system, f"{path}{field.key}.{number}.", errors)
        read.append(field.record(**values))
    return read
