#!/usr/bin/env bash
# Makes clients from the OpenAPI document with three generators, checks their types, and does the main job
# through each of them against a service that is started for it.
#   run.sh TOOLS_DIR [DOCUMENT]
# Needs a Java runtime beside what the linters need. What is generated goes to target/clients.
set -euo pipefail
tools=$1
here=tests/clients
document=${2:-openapi/openapi.json}
made=target/clients
source tests/gate/tools.sh
python_tools "$tools"
node_tools "$tools" $here/typescript
bin=$(realpath "$tools")/contract/bin
mkdir -p $made
if ! command -v java >/dev/null 2>&1; then
    if [ "$(id -u)" != 0 ]; then
        echo "Java is not installed and this is not root: install Debian's package 'default-jre-headless'" >&2
        exit 1
    fi
    apt-get update -qq
    DEBIAN_FRONTEND=noninteractive apt-get install -y -qq default-jre-headless >"$tools/apt.log" 2>&1
fi

echo "TypeScript: openapi-typescript, openapi-fetch, tsc"
ts=$tools/typescript
"$ts/node_modules/.bin/openapi-typescript" "$document" --default-non-nullable=false --output "$ts/api.ts" >/dev/null
cp $here/typescript/{job.ts,tsconfig.json} "$ts/"
# Inside the program's own types, the data is checked too.
sed '/^\/\* DATA \*\/$/{
    r '$here/job.json'
    d
}' $here/typescript/data.ts >"$ts/data.ts"
(cd "$ts" && node_modules/.bin/tsc)

echo "Python: openapi-python-client, mypy"
# The generator knows no type of a file but bytes.
cat >$made/python.yaml <<'CONFIG'
post_hooks: []
project_name_override: dibble-client
package_name_override: dibble_client
content_type_overrides:
  application/pdf: application/octet-stream
  application/zip: application/octet-stream
  application/geo+json: application/json
  application/vnd.openxmlformats-officedocument.spreadsheetml.sheet: application/octet-stream
  text/csv: application/octet-stream
  application/xml: application/octet-stream
CONFIG
"$bin/openapi-python-client" generate --path "$document" --output-path $made/python --overwrite \
    --fail-on-warning --config $made/python.yaml
MYPYPATH=$made/python "$bin/mypy" --strict --follow-untyped-imports --cache-dir $made/mypy $here/python/job.py

echo "Rust: openapi-generator, cargo"
rm -rf $made/rust
"$bin/openapi-generator-cli" generate --generator-name rust --input-spec "$document" --output $made/rust \
    --additional-properties packageName=dibble-client,supportAsync=false \
    --global-property models,apis,supportingFiles,modelDocs=false,apiDocs=false,modelTests=false,apiTests=false \
    >$made/rust.log 2>&1 || { tail -n 40 $made/rust.log >&2; exit 1; }
# Three remarks are let pass: that 3.1 is new to it, that `additionalProperties: false` is no schema with a name,
# and how it spells names that its language has taken.
if grep -E 'WARN|ERROR|Exception' $made/rust.log |
    grep -vE 'OpenAPI 3.1 support is still in beta|Failed to get the schema name: null|cannot be used as a (model|field/variable) name. Renamed to'; then
    echo "openapi-generator warns of the document" >&2
    exit 1
fi
cargo build --manifest-path $here/rust/Cargo.toml --target-dir $made/cargo --locked --quiet

export TS_JOB="$ts/out/job.js" PYTHON="$bin/python" PYTHONPATH=$made/python RUST_JOB=$made/cargo/debug/dibble-client-rust
export DIBBLE_EMAIL=advisor@example.org
bash tests/gate/serve.sh bash -euc 'node "$TS_JOB"; "$PYTHON" tests/clients/python/job.py; "$RUST_JOB"'
