#!/usr/bin/env bash
# The hour of openapi/CONNECT.md, from nothing: for each of three records systems a new database and new accounts.
# What is run are the blocks of that document themselves, in their order; only what stands for the reader's own
# values is put in here.
#   connect.sh [SHAPE...]        nested, flat, features; all when none is named
# Needs DIBBLE_BINARY, EXCHANGE_PYTHON and EXCHANGE_DIR, as run.sh sets them.
set -euo pipefail
shapes=("$@")
[ $# = 0 ] && shapes=(nested flat features)
export DIBBLE_OUTGOING_ALLOW=127.0.0.0/8
for shape in "${shapes[@]}"; do
    mkdir "$EXCHANGE_DIR/$shape"
    SHAPE=$shape bash tests/gate/serve.sh "$EXCHANGE_PYTHON" tests/exchange/connect.py openapi/CONNECT.md \
        "$EXCHANGE_DIR/$shape"
done
