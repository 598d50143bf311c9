"""Fails if the domain crate depends on anything that talks: web, database, runtime, clock or randomness."""
import subprocess
import sys

FORBIDDEN = {
    "actix-web", "actix-rt", "sea-orm", "sqlx", "sqlx-core", "tokio", "reqwest", "hyper", "utoipa",
    "rand", "getrandom", "async-std",
}
tree = subprocess.run(
    ["cargo", "tree", "--package", "domain", "--edges", "normal", "--prefix", "none", "--locked"],
    capture_output=True, text=True, check=True,
).stdout
found = sorted({line.split()[0] for line in tree.splitlines() if line.strip()})
bad = [name for name in found if name in FORBIDDEN]
if bad:
    sys.exit("domain must not depend on: " + ", ".join(bad))
features = subprocess.run(
    ["cargo", "tree", "--package", "domain", "--edges", "normal,features", "--prefix", "none", "--locked"],
    capture_output=True, text=True, check=True,
).stdout
if 'chrono feature "clock"' in features or 'chrono feature "now"' in features:
    sys.exit("domain must not be able to read the clock: chrono is built with it")
print(f"{len(found)} crates below domain, none of them forbidden: {', '.join(found)}")
