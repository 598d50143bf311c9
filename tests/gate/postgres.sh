#!/usr/bin/env bash
# Starts a throw-away PostgreSQL on a free port of 127.0.0.1, runs the given command against it, stops it.
# Uses the cluster at DIBBLE_TEST_POSTGRES_URL (postgres://user@host:port) instead if it is set.
#   postgres.sh TOOLS_DIR COMMAND...
set -euo pipefail
tools=$1
shift
export DIBBLE_TEST_ENGINE=postgres
if [ -n "${DIBBLE_TEST_POSTGRES_URL:-}" ]; then
    exec "$@"
fi

find_bin() {
    if command -v initdb >/dev/null 2>&1; then
        dirname "$(command -v initdb)"
        return
    fi
    find /usr/lib/postgresql -maxdepth 3 -name initdb -printf '%h\n' 2>/dev/null | sort -V | tail -n 1
}
bin=$(find_bin)
if [ -z "$bin" ]; then
    if [ "$(id -u)" != 0 ]; then
        echo "PostgreSQL is not installed and this is not root: install Debian's package 'postgresql', or set DIBBLE_TEST_POSTGRES_URL" >&2
        exit 1
    fi
    apt-get update -qq
    DEBIAN_FRONTEND=noninteractive apt-get install -y -qq postgresql >"$tools/apt.log" 2>&1
    bin=$(find_bin)
fi

dir=$(mktemp -d)
as_user=()
if [ "$(id -u)" = 0 ]; then
    # PostgreSQL refuses to run as root.
    chown nobody "$dir"
    as_user=(setpriv --reuid=nobody --regid=nogroup --clear-groups env "HOME=$dir" LC_ALL=C.UTF-8)
fi
port=$(python3 -c 'import socket; s = socket.socket(); s.bind(("127.0.0.1", 0)); print(s.getsockname()[1])')
here=$PWD
stop() {
    cd "$dir" && "${as_user[@]}" "$bin/pg_ctl" -D "$dir/data" -m immediate -s stop || true
    cd "$here" && rm -rf "$dir"
}
trap stop EXIT
cd "$dir"
"${as_user[@]}" "$bin/initdb" -D "$dir/data" -U dibble -A trust --no-sync --no-instructions -E UTF8 >"$dir/initdb.log"
"${as_user[@]}" "$bin/pg_ctl" -D "$dir/data" -w -s -l "$dir/log" \
    -o "-p $port -c listen_addresses=127.0.0.1 -c unix_socket_directories=$dir -c fsync=off -c max_connections=400 -c synchronous_commit=off -c full_page_writes=off" start
cd "$here"
DIBBLE_TEST_POSTGRES_URL="postgres://dibble@127.0.0.1:$port" "$@"
