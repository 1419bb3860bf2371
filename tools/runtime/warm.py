"""What runs inside Pyodide, under Node, before its memory is kept."""

import functools
import gc
import json

import calculators

PACKAGE = "calculators"
KEEPS = type(functools.cache(len))


def main(job_json):
    """Answer requests ([name, request as JSON] each) as a page would, then forget what only they say."""
    for name, request in json.loads(job_json):
        answer = calculators.run_json(name, request)
        if answer.startswith('{"errors"'):
            raise ValueError(f"{name} does not answer what it is to be kept with: {answer[:200]}")
    gc.collect()
    for kept in gc.get_objects():
        if isinstance(kept, KEEPS) and is_of_a_request(kept.__module__):
            kept.cache_clear()
    gc.collect()


def is_of_a_request(module):
    """Whether what a function of this module keeps is one request's sums. The core keeps rules, words and formulas."""
    return module.startswith(f"{PACKAGE}.") and not module.startswith(f"{PACKAGE}.core")
