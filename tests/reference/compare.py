"""Compares numbers with a stated tolerance and keeps the worst difference."""
import zlib

import numpy as np

SEED = 20_260_425
CHECKS = []


def check(against):
    """Marks a function as a check against a library (or, where there is none, a plain formula)."""

    def mark(function):
        CHECKS.append((function, against))
        return function

    return mark


def random(name):
    """A generator that gives the same numbers in every run."""
    return np.random.default_rng([SEED, zlib.crc32(name.encode())])


class Report:
    """What one check found: one line a comparison."""

    def __init__(self):
        self.lines = []

    def close(self, what, ours, theirs, cases, relative=0.0, absolute=0.0):
        """Every pair agrees within `absolute + relative x |theirs|`."""
        ours, theirs = np.asarray(ours, dtype=float), np.asarray(theirs, dtype=float)
        if ours.shape != theirs.shape or ours.shape[0] != len(cases) or ours.size == 0:
            raise AssertionError(f"{what}: shapes {ours.shape}, {theirs.shape}, {len(cases)} cases")
        off = np.abs(ours - theirs)
        allowed = absolute + relative * np.abs(theirs)
        wrong = ~(off <= allowed)
        if wrong.any():
            at = int(np.argmax(wrong.reshape(len(cases), -1).any(axis=1)))
            raise AssertionError(
                f"{what}: {int(wrong.sum())} of {ours.size} differ; first {cases[at]}: "
                f"{ours[at]!r}, reference {theirs[at]!r}"
            )
        size = np.abs(theirs)
        share = np.max(np.divide(off, size, out=np.zeros_like(off), where=size > 0))
        asked = " + ".join(f"{v:g}{w}" for v, w in [(relative, " of it"), (absolute, "")] if v) or "none"
        self.lines.append((what, ours.size, f"worst {off.max():.1e}, {share:.1e} of it; allowed {asked}"))

    def same(self, what, ours, theirs, cases):
        """Every pair is the same."""
        if not len(ours) == len(theirs) == len(cases) > 0:
            raise AssertionError(f"{what}: {len(ours)} answers, {len(theirs)} references, {len(cases)} cases")
        for case, a, b in zip(cases, ours, theirs):
            if a != b:
                raise AssertionError(f"{what}: {case}: {a!r}, reference {b!r}")
        self.lines.append((what, len(ours), "the same"))

    def note(self, what, count, text):
        """Something that was counted and checked by the caller."""
        self.lines.append((what, count, text))
