#!/usr/bin/env bash
# Compares the committed OpenAPI document with the last released one: a change that breaks a client fails.
# First tries the check itself, with breaks made on purpose.
#   compatible.sh TOOLS_DIR [DOCUMENT]
set -euo pipefail
tools=$1
document=${2:-openapi/openapi.json}
source tests/gate/tools.sh
python_tools "$tools"
released=$(find openapi/released -name '*.json' | sort --version-sort | tail -n 1)
check() { "$tools/contract/bin/python" tests/gate/compatible/check.py "$@"; }
check --self-test "$document"
check "$released" "$document"
