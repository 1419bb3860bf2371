"""A folder on a server of its own, as a reader of the hosted handbook meets it."""

import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path


class Server:
    """Serves a folder until it is stopped, and notes what is fetched."""

    def __init__(self, folder: Path) -> None:
        self.fetched: list[str] = []
        self.over = threading.Event()
        handler = partial(Handler, directory=str(folder), fetched=self.fetched, over=self.over)
        self.http = ThreadingHTTPServer(("127.0.0.1", 0), handler)
        self.address = f"http://127.0.0.1:{self.http.server_port}/"
        threading.Thread(target=self.http.serve_forever, daemon=True).start()

    def stop(self) -> None:
        """Stop answering, as a phone without a signal sees it."""
        self.over.set()
        self.http.shutdown()
        self.http.server_close()


class Handler(SimpleHTTPRequestHandler):
    """Serves quietly and keeps a list."""

    def __init__(self, *args: object, fetched: list[str], over: threading.Event, **kwargs: object) -> None:
        self.fetched, self.over = fetched, over
        super().__init__(*args, **kwargs)

    def do_GET(self) -> None:
        """Note the path and serve it; nothing where a browser had a connection in store when the server stopped."""
        if self.over.is_set():
            return
        self.fetched.append(self.path.split("?")[0].lstrip("/"))
        # Its dates are of whole seconds: a file changed twice within one would be said not to have changed.
        del self.headers["If-Modified-Since"]
        super().do_GET()

    def log_message(self, *args: object) -> None:
        """Say nothing."""
