//! What the walk says: numbered steps, plain sentences, and after each whether it held.

use std::io::Write;

use crate::demo::error::Result;

/// Longest line on the terminal.
const WIDTH: usize = 98;

/// Writes the walk down and counts what failed.
pub(super) struct Report<'w> {
    out: &'w mut (dyn Write + Send),
    steps: u32,
    checks: u32,
    failed: u32,
}

/// How the walk went.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Outcome {
    /// Steps that were told.
    pub steps: u32,
    /// Things that had to hold.
    pub checks: u32,
    /// Those that did not.
    pub failed: u32,
}

impl std::fmt::Display for Outcome {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { steps, checks, failed } = self;
        if *failed == 0 {
            write!(f, "{steps} steps, {checks} checks: every one held")
        } else {
            write!(f, "{steps} steps, {checks} checks: {failed} did not hold")
        }
    }
}

impl<'w> Report<'w> {
    pub(super) fn new(out: &'w mut (dyn Write + Send)) -> Self {
        Self { out, steps: 0, checks: 0, failed: 0 }
    }

    /// Begins a step.
    pub(super) fn step(&mut self, title: &str) -> Result<()> {
        self.steps += 1;
        writeln!(self.out, "\n{:2}. {title}", self.steps)?;
        Ok(())
    }

    /// Says something.
    pub(super) fn say(&mut self, words: &str) -> Result<()> {
        self.lines("    ", "    ", words)
    }

    /// Says a setting or a reading by its name.
    pub(super) fn item(&mut self, name: &str, words: &str) -> Result<()> {
        self.lines(&format!("    {name:<12} "), &" ".repeat(17), words)
    }

    /// Says when something happened, in one line.
    pub(super) fn entry(&mut self, when: &str, words: &str) -> Result<()> {
        let mut line: String = format!("    {when:>12}  {words}");
        if line.chars().count() > WIDTH {
            line = line.chars().take(WIDTH - 1).chain(['…']).collect();
        }
        writeln!(self.out, "{line}")?;
        Ok(())
    }

    /// Says whether something held, and what was expected where it did not.
    pub(super) fn holds(&mut self, held: bool, what: &str, found: &str) -> Result<()> {
        self.checks += 1;
        if held {
            return self.lines("    ok      ", &" ".repeat(12), what);
        }
        self.failed += 1;
        self.lines("    FAILED  ", &" ".repeat(12), &format!("expected: {what}; found: {found}"))
    }

    /// Counts something that must hold, and says it only where it does not.
    pub(super) fn quietly(&mut self, held: bool, what: &str, found: &str) -> Result<()> {
        if held {
            self.checks += 1;
            return Ok(());
        }
        self.holds(held, what, found)
    }

    /// Ends the walk.
    pub(super) fn end(self) -> Result<Outcome> {
        let Self { out, steps, checks, failed } = self;
        let outcome = Outcome { steps, checks, failed };
        writeln!(out, "\n{outcome}.")?;
        out.flush()?;
        Ok(outcome)
    }

    fn lines(&mut self, first: &str, rest: &str, words: &str) -> Result<()> {
        let mut line = first.to_owned();
        let mut empty = true;
        for word in words.split_whitespace() {
            if !empty && line.chars().count() + 1 + word.chars().count() > WIDTH {
                writeln!(self.out, "{line}")?;
                rest.clone_into(&mut line);
                empty = true;
            }
            if !empty {
                line.push(' ');
            }
            line.push_str(word);
            empty = false;
        }
        writeln!(self.out, "{line}")?;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::Report;

    #[test]
    fn what_does_not_hold_is_counted_and_said() {
        let mut said = Vec::new();
        let mut report = Report::new(&mut said);
        report.step("First").expect("said");
        report.holds(true, "water is wet", "").expect("said");
        report.holds(false, "status 200", "404").expect("said");
        report.say(&"word ".repeat(40)).expect("said");
        let outcome = report.end().expect("said");
        assert_eq!((outcome.steps, outcome.checks, outcome.failed), (1, 2, 1));
        let said = String::from_utf8(said).expect("text");
        assert!(said.contains(" 1. First\n    ok      water is wet\n"), "{said}");
        assert!(said.contains("FAILED  expected: status 200; found: 404"), "{said}");
        assert!(said.lines().all(|line| line.len() <= 98), "{said}");
    }
}
