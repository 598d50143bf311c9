#!/usr/bin/env bash
# Tries the service as each role, and as nobody, with requests that schemathesis makes from the API document.
#   run.sh TOOLS_DIR short|long [DOCUMENT]
# Short comes from one seed and takes nine minutes; long takes hours. Logs go to target/fuzz.
set -euo pipefail
tools=$1
length=$2
document=${3:-openapi/openapi.json}
source tests/gate/tools.sh
python_tools "$tools"
# Limits on how often a caller may ask are tested elsewhere; here they would hide everything.
export DIBBLE_READS_PER_MINUTE=0 DIBBLE_WRITES_PER_MINUTE=0 DIBBLE_SIGN_INS_PER_MINUTE=0 DIBBLE_NETWORK_TRIES=65535
export DIBBLE_TOKEN_LIFETIME=86400
# Webhooks get made-up addresses: nothing is sent to them.
export DIBBLE_JOB_SECONDS=0
bash tests/gate/serve.sh "$tools/contract/bin/python" tests/fuzz/run.py "$length" "$document" target/fuzz
