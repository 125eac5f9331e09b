#!/bin/sh
# Writes requirements/run.txt and requirements/check.txt from pyproject.toml: every package with
# its version and the hashes of all its published files, for CPython 3.11 and newer on Linux,
# macOS and Windows. Needs uv. Versions already written down stay; `--upgrade` moves them.
set -eu
cd "$(dirname "$0")/.."

# Only the public index may supply the hashes, whatever this machine is set up to use.
unset UV_INDEX UV_DEFAULT_INDEX UV_INDEX_URL UV_EXTRA_INDEX_URL UV_FIND_LINKS

compile() {
    uv pip compile --quiet --no-config --universal --python-version 3.11 --generate-hashes \
        --no-header "$@"
}

compile "$@" --output-file requirements/run.txt pyproject.toml
compile "$@" --group dev --constraints requirements/run.txt \
    --output-file requirements/check.txt pyproject.toml
