//! Names of at most 32 characters, each unlike the others beside it.

use std::collections::HashSet;

use unicode_segmentation::UnicodeSegmentation;

/// Most characters of a name in a task file.
pub const MOST_LETTERS: usize = 32;

/// The names of a file.
#[derive(Debug, Default)]
pub struct Names {
    taken: HashSet<(String, String)>,
    shortened: Vec<(String, String)>,
}

impl Names {
    /// A name that fits, unlike those already taken under the same parent.
    pub fn take(&mut self, parent: &str, name: &str) -> String {
        let clean: String = name.chars().map(|it| if allowed(it) { it } else { ' ' }).collect();
        let mut made = cut(&clean, MOST_LETTERS);
        let mut number = 2_u32;
        while !self.taken.insert((parent.to_owned(), made.clone())) {
            let end = format!(" ({number})");
            made = cut(&clean, MOST_LETTERS.saturating_sub(end.len())) + &end;
            number = number.saturating_add(1);
        }
        if made != name {
            self.shortened.push((name.to_owned(), made.clone()));
        }
        made
    }

    /// Names that had to be changed, and what they became.
    pub fn shortened(&self) -> &[(String, String)] {
        &self.shortened
    }
}

/// What XML 1.0 may hold; an attribute keeps no line breaks.
fn allowed(letter: char) -> bool {
    !letter.is_control() && !matches!(letter, '\u{fffe}' | '\u{ffff}')
}

/// So many characters at most, and none cut in two as people see them.
fn cut(text: &str, most: usize) -> String {
    let mut made = String::new();
    let mut letters = 0;
    for whole in text.graphemes(true) {
        letters += whole.chars().count();
        if letters > most {
            break;
        }
        made.push_str(whole);
    }
    if made.is_empty() {
        // One sign of more characters than fit: a part of it names more than nothing does.
        made = text.chars().take(most).collect();
    }
    made.trim_end().to_owned()
}

#[cfg(test)]
mod tests {
    use super::Names;

    #[test]
    fn names_are_cut_and_stay_apart() {
        let mut names = Names::default();
        let long = "The long field behind the old school house, ";
        assert_eq!(names.take("FRM1", &format!("{long}north")), "The long field behind the old sc");
        assert_eq!(names.take("FRM1", &format!("{long}south")), "The long field behind the ol (2)");
        assert_eq!(names.take("FRM2", &format!("{long}north")), "The long field behind the old sc");
        assert_eq!(names.take("FRM1", "Home"), "Home");
        assert_eq!(names.shortened().len(), 3);
        for number in 3..20 {
            let made = names.take("FRM1", &format!("{long}{number}"));
            assert!(made.ends_with(&format!("({number})")) && made.chars().count() <= 32, "{made}");
        }
    }

    #[test]
    fn no_letter_is_cut_in_two() {
        let mut names = Names::default();
        // A family is one sign of seven characters: 28 and 7 are more than 32.
        let family = "👨\u{200d}👩\u{200d}👧\u{200d}👦";
        let name = format!("{}{family}", "a".repeat(28));
        assert_eq!(names.take("", &name), "a".repeat(28));
        let accents = "e\u{301}".repeat(20);
        assert_eq!(names.take("", &accents), "e\u{301}".repeat(16));
        assert_eq!(names.take("", "tab\u{fffe}and\u{7}bell"), "tab and bell");
    }

    #[test]
    fn a_sign_that_is_too_long_is_cut_since_no_name_is_empty() {
        let mut names = Names::default();
        let sign = "👩\u{200d}".repeat(20);
        assert_eq!(names.take("", &sign), "👩\u{200d}".repeat(16));
        assert_eq!(names.take("", &sign), "👩\u{200d}".repeat(14) + " (2)");
    }
}
