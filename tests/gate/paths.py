"""Fails if a document names a file or folder of this repository that is not there."""
import os
import re
import sys

TOP = {"api", "domain", "migrations", "openapi", "tests", "deploy"}
missing, seen = [], 0
for document in sys.argv[1:]:
    with open(document, encoding="utf-8") as file:
        text = file.read()
    for name in re.findall(r"`([\w./-]+)`", text):
        if name.split("/")[0] not in TOP or "/" not in name:
            continue
        seen += 1
        if not os.path.exists(name):
            missing.append(f"{document}: {name}")
if missing:
    sys.exit("named but not there:\n  " + "\n  ".join(missing))
print(f"{seen} paths checked in {len(sys.argv) - 1} documents")
