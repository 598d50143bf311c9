#!/usr/bin/env bash
# Fetches every form of a season from the demo service and lets other people's programs read it: frictionless,
# openpyxl, pypdf, icalendar (PyPI), html-validate and ical.js (npm).
#   run.sh TOOLS_DIR
set -euo pipefail
tools=$1
here=tests/season
source tests/gate/tools.sh

# A library that cannot be installed fails the run: a check that did not happen is no pass.
if ! cmp --silent "$here/requirements.txt" "$tools/season-python/installed.txt"; then
    rm -rf "$tools/season-python"
    python3 -m venv "$tools/season-python"
    "$tools/season-python/bin/pip" install --quiet --disable-pip-version-check --no-deps --require-hashes \
        --requirement "$here/requirements.txt"
    cp "$here/requirements.txt" "$tools/season-python/installed.txt"
fi
if ! command -v npm >/dev/null 2>&1; then
    python_tools "$tools"
fi
node_tools "$tools" "$here"

dibble=${DIBBLE_BINARY:-${CARGO_TARGET_DIR:-target}/debug/dibble}
dir=$(mktemp -d)
"$dibble" demo --dir "$dir/demo" --address 127.0.0.1:0 >"$dir/said" 2>"$dir/log" &
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
"$tools/season-python/bin/python" "$here/check.py" "$dir/said" "$dir/forms"
cp "$here/calendar.mjs" "$here/htmlvalidate.json" "$tools/season/"
node "$tools/season/calendar.mjs" "$dir"/forms/*.ics
"$tools/season/node_modules/.bin/html-validate" --config "$tools/season/htmlvalidate.json" "$dir"/forms/*.html
echo "html-validate: $(ls "$dir"/forms/*.html | wc -l) pages, no error and no warning"
