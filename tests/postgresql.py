"""A PostgreSQL server for the tests alone: made, started and stopped by them, in a folder of
its own, reached by a socket there and by nothing else."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Mapping
from itertools import count
from pathlib import Path
from typing import Any

import psycopg
import pytest
from psycopg import sql

VARIABLE = "EVENCAST_POSTGRESQL"
USER = "evencast"

REMEDY = (
    "PostgreSQL is missing: the library's tests run on it as well as on SQLite. `./check` finds "
    f"or installs it; or name the folder of initdb and postgres in {VARIABLE}."
)


def programs() -> Path:
    """The folder of PostgreSQL's programs; the test fails with the remedy where there is none."""
    named = os.environ.get(VARIABLE, "")
    found = Path(named or Path(shutil.which("initdb") or "").resolve().parent)
    if not (found / "initdb").is_file() or not (found / "postgres").is_file():
        pytest.fail(REMEDY, pytrace=False)
    return found


def _unprivileged() -> Mapping[str, Any]:
    """PostgreSQL does not run as root."""
    if os.name == "posix" and os.geteuid() == 0:
        return {"user": "nobody", "group": "nogroup", "extra_groups": []}
    return {}


def _quick_disk() -> str:
    """Memory where there is such a disk; a socket's path must be short, so never pytest's own."""
    memory = "/dev/shm"
    return memory if os.access(memory, os.W_OK) else "/tmp"


class Server:
    """A running server."""

    def __init__(self) -> None:
        self._programs = programs()
        self._folder = Path(tempfile.mkdtemp(prefix="evc-pg-", dir=_quick_disk()))
        self._number = count(1)
        if _unprivileged():
            shutil.chown(self._folder, "nobody", "nogroup")
        self._run("initdb", "--no-sync", "-A", "trust", "-U", USER, "-E", "UTF8", "--locale=C")
        settings = (
            f"listen_addresses='' unix_socket_directories='{self._folder}' "
            "fsync=off max_connections=50 log_min_messages=fatal"
        )
        options = " ".join(f"-c {each}" for each in settings.split())
        self._run("pg_ctl", "-w", "-o", options, "-l", str(self._folder / "log"), "start")

    def _run(self, program: str, *arguments: str) -> None:
        done = subprocess.run(
            [str(self._programs / program), "-D", str(self._folder / "data"), *arguments],
            **_unprivileged(),
            cwd=self._folder,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,  # the server keeps what it is started with
            stderr=subprocess.PIPE if program == "initdb" else subprocess.DEVNULL,
            check=False,
        )
        assert done.returncode == 0, (program, done.stderr)

    def new_database(self) -> str:
        """The URL of an empty database."""
        name = f"library_{next(self._number)}"
        with psycopg.connect(
            host=str(self._folder), user=USER, dbname="postgres", autocommit=True
        ) as connection:
            connection.execute(sql.SQL("CREATE DATABASE {}").format(sql.Identifier(name)))
        return f"postgresql+psycopg://{USER}@/{name}?host={self._folder}"

    def stop(self) -> None:
        """End it and delete all of it."""
        self._run("pg_ctl", "-m", "immediate", "-w", "stop")
        shutil.rmtree(self._folder, ignore_errors=True)
