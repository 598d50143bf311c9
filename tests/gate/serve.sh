#!/usr/bin/env bash
# Starts the service on a free port of 127.0.0.1 with a new SQLite database and an account of each kind that
# the command line can make, runs the given command, stops the service.
# The command finds DIBBLE_URL, DIBBLE_PASSWORD, and signs in as ROLE@example.org.
#   serve.sh COMMAND...
set -euo pipefail
dibble=${DIBBLE_BINARY:-${CARGO_TARGET_DIR:-target}/debug/dibble}
dir=$(mktemp -d)
export DATABASE_URL="sqlite://$dir/dibble.sqlite" DIBBLE_PASSWORD="three plain words and 7"
for role in lead advisor records_system read_only; do
    "$dibble" account add --practice "Prairie Advisors" --email "$role@example.org" --role "$role" >/dev/null
done
"$dibble" serve --address 127.0.0.1:0 --log "info" --log-format json >"$dir/log" 2>&1 &
server=$!
stop() {
    failed=$?
    kill "$server" 2>/dev/null && wait "$server" || true
    # What the service itself found wrong, when what was tried with it failed.
    [ "$failed" = 0 ] || grep -E '"level":"(WARN|ERROR)"' "$dir/log" | tail -n 20 >&2 || true
    rm -rf "$dir"
}
trap stop EXIT
for _ in $(seq 100); do
    DIBBLE_URL=$(grep -o '"address":"[^"]*"' "$dir/log" | cut -d '"' -f 4 | head -n 1 || true)
    [ -n "$DIBBLE_URL" ] && break
    sleep 0.1
done
if [ -z "$DIBBLE_URL" ]; then
    cat "$dir/log" >&2
    exit 1
fi
export DIBBLE_URL="http://$DIBBLE_URL"
"$@"
