"""In place of the types for calls from Python to JavaScript: a handbook's Python makes none.

The rest of it works out one signature, this one, with all of inspect and typing.
"""

from _pyodide_core import JsFuncSignature, js2py_default_call_result, py2js_default

no_default = object()


def _anything(*args, **kwargs):
    """Stands for a JavaScript function of which nothing is known."""


default_signature = JsFuncSignature(
    _anything, False, 0, (), (), py2js_default, (), (), (), py2js_default, js2py_default_call_result
)
