"""Compares the domain crate with libraries from PyPI. `tests/gate/reference.sh` installs and runs it.

  run.py FOLDER    the folder with the compiled examples of the domain crate
"""
import sys
import time
import traceback
from importlib.metadata import version

from checks import (
    calibration, degree_days, geometry, probability, rows, samples, spacings, spreads, strength, texture, traces, trials, units,
)
from compare import CHECKS, Report
from driver import Domain

# Importing a module registers its checks.
MODULES = [
    units, probability, samples, rows, spacings, spreads, calibration, geometry, degree_days, texture, strength, traces,
    trials,
]


def names(against):
    """The libraries with the versions that are installed; a missing one stops the run."""
    return "".join(f"{name} {version(name)}; " for name in against)


def main():
    domain = Domain(sys.argv[1])
    passed, failed, pairs = 0, 0, 0
    for function, against in CHECKS:
        report, start = Report(), time.monotonic()
        try:
            function(domain, report)
            if not report.lines:
                raise AssertionError("nothing was compared")
        except Exception:  # the other checks still run
            failed += 1
            print(f"\nFAILED {function.__name__}: {function.__doc__}\n{traceback.format_exc(limit=-2)}")
            continue
        passed += 1
        print(f"\n{function.__doc__.strip()} [{names(against)}{time.monotonic() - start:.1f} s]", flush=True)
        for what, count, found in report.lines:
            pairs += count
            print(f"  {what}: {count} compared, {found}")
    print(f"\n{pairs} numbers compared by {len(MODULES)} modules")
    print(f"{passed} passed, {failed} failed")
    sys.exit(1 if failed or not passed else 0)


if __name__ == "__main__":
    main()
