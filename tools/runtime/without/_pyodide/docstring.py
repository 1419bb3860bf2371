"""In place of the texts that help() shows of Pyodide's own methods: nobody calls it here.

The original works out the signature of each method, a sixth of the time in which Python starts.
"""


def get_cmeth_docstring(func: object) -> str:
    """Called for each method while Python starts."""
    return ""
