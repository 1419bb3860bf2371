"""What a calculator's form can be filled from: in the page where it is little, in one shared script where it is much."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import calculators

from .context import Context, Data

IN_PAGE = 8_000  # characters; more than that no page carries


@dataclass(frozen=True)
class Presets:
    """``listed`` has key and name of each; ``carried`` is what the page holds, ``script`` what it loads instead."""

    listed: list[tuple[str, str]]
    carried: list[dict[str, Any]]
    script: str = ""


def of(context: Context, name: str) -> Presets:
    """The presets of a calculator, gathered once for all pages."""
    found: Presets | None = context.presets.get(name)
    if found is None:
        found = context.presets[name] = made(context.data, name)
    return found


def made(data: Data, name: str) -> Presets:
    """The same, without remembering it."""
    found = data.presets(name)
    listed = [(each["key"], each["name"]) for each in found]
    carried = [{key: value for key, value in each.items() if key != "machine"} for each in found]
    if len(_written(carried)) <= IN_PAGE:
        return Presets(listed, carried)
    return Presets(listed, [], _script(data, name, found))


def path(name: str) -> str:
    """Where the shared script lies in the site."""
    return f"assets/presets/{name}.js"


def scripts(context: Context) -> Iterator[tuple[str, str]]:
    """The shared scripts that pages of this data load, each with its path."""
    for name in calculators.NAMES:
        if script := of(context, name).script:
            yield path(name), script


def _script(data: Data, name: str, presets: list[dict[str, Any]]) -> str:
    """What a cabinet gives to all its sites and products stands there once, under the cabinet's key."""
    cabinets = {key: data.prefill(name, {"machine": key}) for each in presets if (key := each.get("machine"))}
    told = [_differing(each, cabinets.get(each.get("machine", ""), {})) for each in presets]
    return f'(self.HandbookAssets ??= {{}})["presets-{name}"] = {_written({"cabinets": cabinets, "presets": told})};\n'


def _differing(preset: dict[str, Any], cabinet: dict[str, Any]) -> dict[str, Any]:
    inputs = preset["inputs"]
    if not cabinet.keys() <= inputs.keys():  # what a site leaves out could not be told from what it shares
        return {key: value for key, value in preset.items() if key != "machine"}
    return {**preset, "inputs": {key: value for key, value in inputs.items() if cabinet.get(key) != value}}


def _written(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).replace("</", "<\\/")
