"""Reads the formula of a trace step as a person would, and works it out again.

Formulas are written as in a notebook: `R_o = K_o (d / 50 mm)^n s_m`. Juxtaposition multiplies, `x`
too, `^` raises, `min`, `max`, `exp`, `sqrt`, `tan` and `z` (the normal quantile of an upper tail) are
functions, a unit may follow a number, and words after a comma may hold the result within limits.
"""
import math
import re

from scipy import stats

FUNCTIONS = {
    "min": min,
    "max": max,
    "exp": math.exp,
    "sqrt": lambda x: x**0.5,
    "tan": math.tan,
    "z": lambda p: stats.norm.isf(p),
}
NUMBER = re.compile(r"\d+(\.\d+)?")
WORD = re.compile(r"[A-Za-z][A-Za-z_0-9]*")
UNITS = {"mm": "mm", "acre": "[acr_us]"}


class NotAFormula(Exception):
    """The text is no formula: a table, or a figure that was measured."""


def parts(text):
    """The formula, and what is said after commas that stand outside brackets."""
    depth, cuts = 0, []
    for at, sign in enumerate(text):
        depth += (sign == "(") - (sign == ")")
        if sign == "," and depth == 0:
            cuts.append(at)
    ends = [*cuts, len(text)]
    return [text[a:b].strip(" ,") for a, b in zip([0, *ends], ends)]


class Reader:
    """One pass over a formula; `symbols` are what the step shows as its inputs."""

    def __init__(self, text, symbols, quantity):
        self.text, self.at, self.quantity = text, 0, quantity
        self.symbols = dict(sorted(symbols.items(), key=lambda s: -len(s[0])))

    def value(self):
        """The value of the whole text."""
        found = self.sum()
        self.skip()
        if self.at < len(self.text):
            raise NotAFormula(self.text)
        return found

    def skip(self):
        while self.text[self.at :].startswith(" "):
            self.at += 1

    def take(self, sign):
        self.skip()
        if self.text.startswith(sign, self.at):
            self.at += len(sign)
            return True
        return False

    def sum(self):
        found = self.product()
        while True:
            if self.take("+"):
                found = found + self.product()
            elif self.take("-"):
                found = found - self.product()
            else:
                return found

    def product(self):
        negative = self.take("-")
        found = self.power()
        while True:
            self.skip()
            rest = self.text[self.at :]
            if rest.startswith("x ") and "x" not in self.symbols:
                self.at += 2
                found = found * self.power()
            elif self.take("/"):
                found = found / self.power()
            elif rest and rest[0] not in "+-),":
                found = found * self.power()
            else:
                return -found if negative else found

    def power(self):
        base = self.atom()
        return base ** self.atom() if self.take("^") else base

    def atom(self):
        self.skip()
        rest = self.text[self.at :]
        for name, value in self.symbols.items():
            if rest.startswith(name) and not re.match(r"\w", rest[len(name) :]):
                self.at += len(name)
                return value
        if self.take("("):
            found = self.sum()
            self.close()
            return found
        if number := NUMBER.match(rest):
            self.at += number.end()
            return self.with_unit(float(number.group()))
        if word := WORD.match(rest):
            self.at += word.end()
            return self.named(word.group())
        raise NotAFormula(self.text)

    def with_unit(self, number):
        unit = re.match(r" (\w+)", self.text[self.at :])
        if unit and unit.group(1) in UNITS and unit.group(1) not in self.symbols:
            self.at += unit.end()
            return self.quantity(number, UNITS[unit.group(1)])
        return number

    def named(self, word):
        if word in FUNCTIONS and self.take("("):
            arguments = [self.sum()]
            while self.take(","):
                arguments.append(self.sum())
            self.close()
            return FUNCTIONS[word](*arguments)
        # A general symbol whose input says which: `m` for `m_corn`.
        which = [value for name, value in self.symbols.items() if name.startswith(word + "_")]
        if len(which) != 1:
            raise NotAFormula(f"{word!r} in {self.text!r}")
        return which[0]

    def close(self):
        if not self.take(")"):
            raise NotAFormula(self.text)


def work_out(step, quantity):
    """The value of a step by its own formula; `quantity(number, unit)` makes what is calculated with."""
    text, *said = parts(step["formula"])
    _, _, right = text.rpartition(" = ")
    symbols = {i["symbol"]: quantity(i["value"], i["unit"]) for i in step["inputs"]}
    found = Reader(right, symbols, quantity).value()
    for words in said:
        if limits := re.fullmatch(r"within (\w+) and (\w+)", words):
            least, most = (symbols[name] for name in limits.groups())
            found = min(max(found, least), most)
        elif limit := re.fullmatch(r"at most ([\d.]+)", words):
            found = min(found, float(limit.group(1)))
        elif words == "inside the safe range":
            found = min(max(found, quantity(step["low"], step["unit"])), quantity(step["high"], step["unit"]))
        elif words != "PR the middle of the class":
            raise NotAFormula(step["formula"])
    return found


def result_symbol(step):
    """The symbol that the formula gives a value to, if it names one."""
    left, sign, _ = parts(step["formula"])[0].rpartition(" = ")
    return left if sign else None
