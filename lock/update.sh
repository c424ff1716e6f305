#!/usr/bin/env bash
# Writes lock/run.txt and lock/test.txt afresh: one version of each package for every system and Python, with hashes,
# and no host or address in the file. Needs uv on the path. Newer versions: bash lock/update.sh --upgrade
set -euo pipefail
cd "$(dirname "$0")/.."

lock() {
    uv pip compile --quiet --universal --fork-strategy fewest --python-version 3.11 --generate-hashes \
        --no-emit-index-url --no-emit-find-links --no-annotate --custom-compile-command "bash lock/update.sh" "$@"
}

lock pyproject.toml --output-file lock/run.txt "$@"
lock pyproject.toml --extra test --constraint lock/run.txt --output-file lock/test.txt "$@"
