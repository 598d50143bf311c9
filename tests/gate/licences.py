"""Fails if a dependency of the binary carries a licence that is not on the list."""
import re
import subprocess
import sys

ALLOWED = {
    "MIT", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "ISC", "Unicode-3.0", "Zlib", "Unlicense", "CC0-1.0",
    "BSL-1.0", "MIT-0", "0BSD", "CDLA-Permissive-2.0", "Apache-2.0 WITH LLVM-exception", "blessing", "bzip2-1.0.6",
}


def permitted(expression):
    """A small reading of SPDX: OR needs one side, AND needs both."""
    expression = expression.replace("/", " OR ").strip()
    if expression.startswith("(") and expression.endswith(")") and expression.count("(") == 1:
        expression = expression[1:-1]
    groups = re.split(r"\s+AND\s+(?![^(]*\))", expression)
    if len(groups) > 1:
        return all(permitted(group) for group in groups)
    return any(part.strip("() ") in ALLOWED for part in re.split(r"\s+OR\s+", expression))


tree = subprocess.run(
    ["cargo", "tree", "--package", "api", "--edges", "normal,build", "--prefix", "none", "--locked", "--format",
     "{p}|{l}"],
    capture_output=True, text=True, check=True,
).stdout
rows = {tuple(line.replace(" (*)", "").split("|")) for line in tree.splitlines() if "|" in line}
own = ("domain ", "api ", "migrations ", "openapi ")
bad = sorted(f"{name}: {licence or 'none given'}" for name, licence in rows
             if not name.startswith(own) and not permitted(licence))
if bad:
    sys.exit("licences to look at:\n  " + "\n  ".join(bad))
print(f"{len(rows)} packages, all under a permitted licence")
