//! The header `Link` (RFC 8288): the address of the next page.

/// The target of the first link whose relation is `next`.
pub fn next<'a>(values: impl IntoIterator<Item = &'a str>) -> Option<String> {
    values.into_iter().find_map(next_of)
}

fn next_of(value: &str) -> Option<String> {
    let mut rest = value;
    loop {
        rest = rest.trim_start_matches([' ', '\t', ',']);
        let (target, parameters) = rest.strip_prefix('<')?.split_once('>')?;
        let (is_next, after) = relation(parameters);
        if is_next {
            return Some(target.trim().to_owned());
        }
        rest = after?;
    }
}

/// Whether the parameters of a link say `rel=next`, and what stands behind them. Only the first `rel` counts.
fn relation(parameters: &str) -> (bool, Option<&str>) {
    let mut rest = parameters;
    let mut rel: Option<bool> = None;
    loop {
        rest = rest.trim_start();
        if let Some(after) = rest.strip_prefix(',') {
            return (rel == Some(true), Some(after));
        }
        let Some(after) = rest.strip_prefix(';') else {
            return (rel == Some(true), None);
        };
        let end = after.find(['=', ';', ',']).unwrap_or(after.len());
        let (name, behind) = after.split_at(end);
        let (value, behind) = match behind.strip_prefix('=') {
            Some(behind) => word(behind),
            None => (String::new(), behind),
        };
        if name.trim().eq_ignore_ascii_case("rel") && rel.is_none() {
            let mut words = value.split_ascii_whitespace();
            rel = Some(words.any(|word| word.eq_ignore_ascii_case("next")));
        }
        rest = behind;
    }
}

/// A value, quoted or not, and what stands behind it.
fn word(text: &str) -> (String, &str) {
    let text = text.trim_start();
    let Some(quoted) = text.strip_prefix('"') else {
        let end = text.find([';', ',']).unwrap_or(text.len());
        let (value, rest) = text.split_at(end);
        return (value.trim().to_owned(), rest);
    };
    let mut value = String::new();
    let mut letters = quoted.char_indices();
    while let Some((at, letter)) = letters.next() {
        match letter {
            '"' => return (value, quoted.split_at(at).1.strip_prefix('"').unwrap_or("")),
            '\\' => value.extend(letters.next().map(|(_, letter)| letter)),
            _ => value.push(letter),
        }
    }
    (value, "")
}

#[cfg(test)]
mod tests {
    use super::next;
    use proptest::prelude::*;

    #[test]
    fn the_next_page_is_found_among_others() {
        for (value, expected) in [
            ("</b>; rel=\"next\"", Some("/b")),
            ("</b>;rel=next", Some("/b")),
            ("</b> ; REL = \"Next\" ; title=\"x\"", Some("/b")),
            ("</a>; rel=\"prev\", </b>; rel=\"next\"", Some("/b")),
            ("</a>; rel=\"first\"; title=\"a, b; rel=next \\\" c\", </b>; rel=next", Some("/b")),
            ("<https://e.org/b?x=1,2;3>; rel=\"last next\"", Some("https://e.org/b?x=1,2;3")),
            ("</a>; title; rel=next", Some("/a")),
            ("</a>; rel=self; rel=next", None),
            ("</a>; rel=nexter", None),
            ("</a>; title=\"rel=next\"", None),
            ("</a>", None),
            ("", None),
            ("rel=next", None),
            ("</a; rel=next", None),
            ("</a>; rel=\"next", Some("/a")),
        ] {
            assert_eq!(next([value]).as_deref(), expected, "{value}");
        }
        assert_eq!(next(["</a>; rel=up", "</b>; rel=next"]).as_deref(), Some("/b"));
    }

    /// RFC 8288, section 3.5.
    #[test]
    fn the_examples_of_the_standard_are_read() {
        let first =
            r#"<http://example.com/TheBook/chapter2>; rel="previous"; title="previous chapter""#;
        assert_eq!(next([first]), None);
        let two = r#"</TheBook/chapter2>; rel="previous"; title*=UTF-8'de'letztes%20Kapitel, </TheBook/chapter4>; rel="next"; title*=UTF-8'de'n%c3%a4chstes%20Kapitel"#;
        assert_eq!(next([two]).as_deref(), Some("/TheBook/chapter4"));
        let many = r#"<http://example.org/>; rel="start http://example.net/relation/other""#;
        assert_eq!(next([many]), None);
    }

    proptest! {
        #[test]
        fn no_text_makes_it_hang(value in "[<>;,=\" a-z\\\\]{0,60}") {
            next([value.as_str()]);
        }
    }
}
