#!/usr/bin/env bash
# Fills a small practice past the service, lets the service count it, and compares the figures of its report with
# the same sums in DuckDB. A check of the figures; README.md beside it says how to measure.
#   run.sh TOOLS_DIR
set -euo pipefail
tools=$1
here=tests/load
if ! cmp --silent "$here/requirements.txt" "$tools/load-python/installed.txt"; then
    rm -rf "$tools/load-python"
    python3 -m venv "$tools/load-python"
    "$tools/load-python/bin/pip" install --quiet --disable-pip-version-check --no-deps --require-hashes \
        --requirement "$here/requirements.txt"
    cp "$here/requirements.txt" "$tools/load-python/installed.txt"
fi
dibble=${DIBBLE_BINARY:-${CARGO_TARGET_DIR:-target}/debug/dibble}
dir=$(mktemp -d)
export DATABASE_URL="sqlite://$dir/load.sqlite" DIBBLE_PASSWORD="three plain words and 7"
"$dibble" account add --practice "Load" --email lead@load.example --role lead >/dev/null
python3 "$here/fill.py" "$dir/load.sqlite" --growers 20 --fields 5 --digs 5
"$dibble" serve --address 127.0.0.1:0 --log-format json >"$dir/log" 2>&1 &
server=$!
stop() {
    kill "$server" 2>/dev/null && wait "$server" || true
    rm -rf "$dir"
}
trap stop EXIT
for _ in $(seq 200); do
    address=$(grep -o '"address":"[^"]*"' "$dir/log" | cut -d '"' -f 4 | head -n 1 || true)
    [ -n "$address" ] && break
    sleep 0.1
done
if [ -z "$address" ]; then
    cat "$dir/log" >&2
    exit 1
fi
"$tools/load-python/bin/python" "$here/measure.py" "$dir/load.sqlite" "http://$address" lead@load.example --short
