#!/usr/bin/env bash
# Validates and lints the committed OpenAPI document with tools from PyPI and npm. A warning is a failure.
#   openapi.sh TOOLS_DIR [DOCUMENT]
set -euo pipefail
tools=$1
document=${2:-openapi/openapi.json}
source tests/gate/tools.sh
python_tools "$tools"
node_tools "$tools" tests/gate

# When something is wrong it repeats the whole document.
"$tools/contract/bin/openapi-spec-validator" "$document" 2>&1 | cut --characters 1-2000
export REDOCLY_TELEMETRY=off REDOCLY_SUPPRESS_UPDATE_NOTICE=true
"$tools/gate/node_modules/.bin/redocly" lint --config openapi/redocly.yaml "$document"
# Rules are named relative to the file that extends them.
cp openapi/spectral.yaml "$tools/gate/"
"$tools/gate/node_modules/.bin/spectral" lint --ruleset "$tools/gate/spectral.yaml" --fail-severity hint "$document"
