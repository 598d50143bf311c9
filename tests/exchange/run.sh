#!/usr/bin/env bash
# What is exchanged with records systems, held against other people's programs: readers and validators of the forms,
# the reference libraries of signed notices (PyPI, npm), and records systems that are processes of their own.
#   run.sh TOOLS_DIR [PART...]
# A part is a folder here with a `check.py` or a `check.sh`, or the script `connect.sh`; without names all are run.
# Each part has a new service of its own that may call addresses of this computer, and finds in its environment
#   DIBBLE_URL, DIBBLE_PASSWORD     that service; lead, advisor, records_system, read_only @example.org sign in
#   DIBBLE_DEMO_URL, DIBBLE_SAID    a second service with the demo's season, and a file with what the demo said: who
#                                   may sign in there, and what to look at
#   DIBBLE_BINARY                   the program, for a part that starts it once more
#   EXCHANGE_PYTHON                 a Python with the packages of requirements.txt
#   EXCHANGE_NODE                   a folder with the node_modules of package-lock.json
#   EXCHANGE_DIR                    an empty folder for its files
set -euo pipefail
tools=$1
shift
here=tests/exchange
source tests/gate/tools.sh

# A library that cannot be installed fails the run: a check that did not happen is no pass.
if ! cmp --silent "$here/requirements.txt" "$tools/exchange-python/installed.txt"; then
    rm -rf "$tools/exchange-python"
    python3 -m venv "$tools/exchange-python"
    "$tools/exchange-python/bin/pip" install --quiet --disable-pip-version-check --no-deps --require-hashes \
        --requirement "$here/requirements.txt"
    cp "$here/requirements.txt" "$tools/exchange-python/installed.txt"
fi
if ! command -v npm >/dev/null 2>&1; then
    python_tools "$tools"
fi
node_tools "$tools" "$here"

parts=("$@")
if [ $# = 0 ]; then
    for check in "$here"/*/check.* "$here/connect.sh"; do
        [ "$check" = "$here/connect.sh" ] && parts+=(connect) || parts+=("$(basename "$(dirname "$check")")")
    done
fi

DIBBLE_BINARY=$(realpath "${DIBBLE_BINARY:-${CARGO_TARGET_DIR:-target}/debug/dibble}")
EXCHANGE_PYTHON=$(realpath "$tools/exchange-python")/bin/python
EXCHANGE_NODE=$(realpath "$tools/exchange")
export DIBBLE_BINARY EXCHANGE_PYTHON EXCHANGE_NODE DIBBLE_OUTGOING_ALLOW=127.0.0.0/8

dir=$(mktemp -d)
"$DIBBLE_BINARY" demo --dir "$dir/demo" --address 127.0.0.1:0 >"$dir/said" 2>"$dir/log" &
server=$!
stop() {
    kill "$server" 2>/dev/null && wait "$server" || true
    rm -rf "$dir"
}
trap stop EXIT
for _ in $(seq 1200); do
    grep -q "ready at" "$dir/said" && break
    if ! kill -0 "$server" 2>/dev/null; then
        cat "$dir/said" "$dir/log" >&2
        exit 1
    fi
    sleep 0.1
done
DIBBLE_SAID=$dir/said
DIBBLE_DEMO_URL=$(grep -o 'ready at http://[^ ]*' "$dir/said" | cut -d ' ' -f 3)
export DIBBLE_SAID DIBBLE_DEMO_URL

for part in "${parts[@]}"; do
    printf -- '-- %s\n' "$part"
    export EXCHANGE_DIR="$dir/$part"
    mkdir "$EXCHANGE_DIR"
    if [ "$part" = connect ]; then
        bash "$here/connect.sh"
    elif [ -f "$here/$part/check.sh" ]; then
        bash tests/gate/serve.sh bash "$here/$part/check.sh"
    else
        bash tests/gate/serve.sh "$EXCHANGE_PYTHON" "$here/$part/check.py"
    fi
done
