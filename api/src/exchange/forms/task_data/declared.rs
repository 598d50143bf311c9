//! The encoding that XML says of itself (XML 1.0, section 4.3.3).

/// As far as a declaration is looked for.
const HEAD: usize = 200;

/// The name of the encoding in the declaration of a file without a byte order mark. A declaration that
/// can be read byte by byte is in no encoding of two bytes, whatever it says.
pub fn declared(bytes: &[u8]) -> Option<String> {
    let head = bytes.get(..HEAD.min(bytes.len()))?;
    let declaration = head.strip_prefix(b"<?xml")?;
    let end = declaration.windows(2).position(|two| two == b"?>")?;
    let declaration = std::str::from_utf8(declaration.get(..end)?).ok()?;
    let (_, behind) = declaration.split_once("encoding")?;
    let quoted = behind.trim_start().strip_prefix('=')?.trim_start();
    let quote = quoted.chars().next().filter(|quote| matches!(quote, '"' | '\''))?;
    let (name, _) = quoted.get(1..)?.split_once(quote)?;
    let two_bytes = name.get(..6).is_some_and(|begin| begin.eq_ignore_ascii_case("utf-16"));
    (!two_bytes).then(|| name.to_owned())
}

#[cfg(test)]
mod tests {
    use super::declared;

    #[test]
    fn a_declaration_names_the_encoding() {
        let of = |text: &str| declared(text.as_bytes());
        let latin = Some("ISO-8859-1".to_owned());
        assert_eq!(of("<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?><a/>"), latin);
        assert_eq!(of("<?xml version='1.0' encoding = 'ISO-8859-1' standalone='yes'?><a/>"), latin);
        for none in [
            "",
            "<a encoding=\"ISO-8859-1\"/>",
            "<?xml version=\"1.0\"?><a encoding=\"ISO-8859-1\"/>",
            "<?xml version=\"1.0\" encoding=\"UTF-16\"?><a/>",
            "<?xml version=\"1.0\" encoding=\"ISO-8859-1",
            "<?xml version=\"1.0\" encoding=\"ISO-8859-1'?>",
        ] {
            assert_eq!(of(none), None, "{none}");
        }
        assert_eq!(
            declared(b"\xef\xbb\xbf<?xml encoding=\"ISO-8859-1\"?>"),
            None,
            "the mark counts"
        );
    }
}
