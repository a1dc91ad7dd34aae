"""Starts real servers quickly, to be killed: one process loads everything, each server is a fork of it.

Reads "start" lines; answers each with the process id and port of a fresh server. A server opens its own
connections; nothing is shared with the next one but the code.
"""

import os
import sys
from importlib import import_module

os.environ["DJANGO_SETTINGS_MODULE"] = "gudgeon.config.settings"


def main() -> None:
    """Load once, then fork on demand."""
    application = import_module("gudgeon.config.wsgi").application
    import_module("gudgeon.web.urls")
    from gudgeon.catalog import catalog

    _ = catalog().characteristics, catalog().parts
    for _line in sys.stdin:
        child = os.fork()
        if child == 0:
            serve(application)
        os.waitpid(child, 0)


def serve(application: object) -> None:
    """One server, until it is killed."""
    from waitress.server import create_server

    server = create_server(application, host="127.0.0.1", port=0, threads=4)
    sys.stdout.write(f"{os.getpid()} {server.effective_port}\n")
    sys.stdout.flush()
    server.run()


if __name__ == "__main__":
    main()
