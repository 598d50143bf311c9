#!/usr/bin/env bash
# Compares the domain crate with libraries from PyPI on thousands of random inputs.
#   reference.sh TOOLS_DIR
set -euo pipefail
tools=$1
here=tests/reference

# A library that cannot be installed fails the run: a comparison that did not happen is no pass.
if ! cmp --silent "$here/requirements.txt" "$tools/reference/installed.txt"; then
    rm -rf "$tools/reference"
    python3 -m venv "$tools/reference"
    "$tools/reference/bin/pip" install --quiet --disable-pip-version-check --no-deps --require-hashes \
        --requirement "$here/requirements.txt"
    cp "$here/requirements.txt" "$tools/reference/installed.txt"
fi
cargo build --workspace --examples --locked
"$tools/reference/bin/python" "$here/run.py" "${CARGO_TARGET_DIR:-target}/debug/examples"
