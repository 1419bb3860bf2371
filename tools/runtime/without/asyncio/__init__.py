"""In place of asyncio: calculators answer at once and never wait.

The original brings sockets, TLS, subprocesses and logging. Pyodide's core asks for
the module and for this one function as it starts, and calls it only to await.
"""


def get_event_loop() -> None:
    """Refuse, so that a calculator that tries to wait says why it cannot."""
    raise RuntimeError("there is no event loop in a handbook: calculators cannot wait")
