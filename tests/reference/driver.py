"""Asks the domain crate: one question a line to a small program, one answer a line back."""
import json
import subprocess

import numpy as np


def plain(value):
    """What JSON can carry, with all digits."""
    if isinstance(value, np.ndarray):
        return value.tolist()
    if isinstance(value, np.generic):
        return value.item()
    if isinstance(value, (list, tuple)):
        return [plain(v) for v in value]
    return value


class Domain:
    """The domain crate, behind `domain/examples/reference_points`."""

    def __init__(self, folder):
        self.folder = folder

    def ask(self, name, cases):
        """The answer of function `name` to each tuple of arguments; `None` where it has none."""
        lines = "\n".join(json.dumps([name, plain(list(case))]) for case in cases) + "\n"
        answers = self.run("reference_points", lines).splitlines()
        if len(answers) != len(cases):
            raise AssertionError(f"{name}: {len(cases)} questions, {len(answers)} answers")
        return [json.loads(line) for line in answers]

    def numbers(self, name, cases):
        """As `ask`, as an array with one row a case. Every case must have an answer."""
        answers = self.ask(name, cases)
        for case, answer in zip(cases, answers):
            if answer is None or any(v is None for v in answer):
                raise AssertionError(f"{name}{plain(list(case))} has no answer: {answer}")
        return np.array(answers, dtype=float)

    def run(self, example, text="", *arguments):
        """What an example of the crate prints."""
        command = [f"{self.folder}/{example}", *arguments]
        done = subprocess.run(command, input=text, capture_output=True, text=True, check=False)
        if done.returncode != 0:
            raise AssertionError(f"{example} stopped: {done.stderr.strip()}")
        return done.stdout
