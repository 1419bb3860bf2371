"""In place of Pyodide's event loop: there is no asyncio here for it to serve."""


def _initialize_event_loop() -> None:
    """Called by pyodide/__init__.py."""
