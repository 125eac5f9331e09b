"""The server: one process on one address."""

from __future__ import annotations

from evencast.store.library.library import Library
from evencast.web.app import create_app
from evencast.web.desk import Desk


def serve(*, host: str, port: int) -> None:
    """Serve the person's library until it is interrupted."""
    import uvicorn

    with Library.open() as library:
        library.backup_if_due()
        names = [f"{host}:{port}", f"localhost:{port}"]
        uvicorn.run(
            create_app(Desk(library), hosts=names),
            host=host,
            port=port,
            log_level="warning",
            server_header=False,
        )
