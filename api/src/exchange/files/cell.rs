//! What stands in a cell.

use chrono::{DateTime, NaiveDate, Utc};

use super::columns::Decimal;
use crate::exchange::crops;
use crate::http::BadMember;
use crate::v1::conditions::Crop;

/// A number. Thousands marks are refused: they can't be told from decimals.
pub(super) fn number(at: &str, text: &str, decimal: Decimal) -> Result<f64, BadMember> {
    let bad = |detail: &str| BadMember::new(at, detail.to_owned()).given(text.escape_debug());
    let plain = match (decimal, text.contains(','), text.contains('.')) {
        (Decimal::Point, true, _) => {
            return Err(bad("This is no number: a comma may mark decimals or thousands.").allowed(
                "a decimal point and no thousands marks, or the parameter `decimal=comma`",
            ));
        }
        (Decimal::Comma, _, true) => {
            return Err(bad("This is no number: with decimal commas a point may mark thousands.")
                .allowed("a decimal comma and no thousands marks"));
        }
        (Decimal::Point, false, _) | (Decimal::Comma, false, false) => text.to_owned(),
        (Decimal::Comma, true, false) => text.replace(',', "."),
    };
    let usual = plain.bytes().all(|byte| byte.is_ascii_digit() || b"+-.eE".contains(&byte));
    match plain.parse::<f64>() {
        Ok(number) if usual && number.is_finite() => Ok(number),
        _ => Err(bad("This is no number.")
            .allowed("digits, such as 38.5; the unit stands in the name of the column")),
    }
}

/// A whole number.
pub(super) fn whole(at: &str, text: &str) -> Result<u16, BadMember> {
    text.parse().map_err(|_no_number| {
        BadMember::new(at, "This is no whole number.")
            .given(text.escape_debug())
            .allowed("0 to 65535")
    })
}

/// A crop.
pub(super) fn crop(at: &str, text: &str) -> Result<Crop, BadMember> {
    crops::crop(text).ok_or_else(|| {
        BadMember::new(at, "This crop is not known here.")
            .given(text.escape_debug())
            .allowed(crops::ALLOWED)
    })
}

/// A day.
pub(super) fn day(at: &str, text: &str) -> Result<NaiveDate, BadMember> {
    let day = NaiveDate::parse_from_str(text, "%Y-%m-%d");
    day.ok().filter(|_| text.len() == 10).ok_or_else(|| {
        BadMember::new(at, "This is no day.")
            .given(text.escape_debug())
            .allowed("year, month, day as 2026-10-12")
            .why("03/04 is March in one country and April in the next")
    })
}

/// A time.
pub(super) fn time(at: &str, text: &str) -> Result<DateTime<Utc>, BadMember> {
    DateTime::parse_from_rfc3339(text).map(|time| time.to_utc()).map_err(|_no_time| {
        BadMember::new(at, "This is no time.")
            .given(text.escape_debug())
            .allowed("RFC 3339 with a zone, as 2026-10-12T14:30:00Z")
    })
}

#[cfg(test)]
mod tests {
    use super::{day, number, whole};
    use crate::exchange::files::Decimal;

    #[test]
    fn numbers_are_taken_as_they_are_said_to_be_written() {
        let point = |text: &str| number("", text, Decimal::Point).ok();
        let comma = |text: &str| number("", text, Decimal::Comma).ok();
        assert_eq!((point("38.5"), point("-3"), point("1e3")), (Some(38.5), Some(-3.0), Some(1e3)));
        assert_eq!((comma("38,5"), comma("38")), (Some(38.5), Some(38.0)));
        for text in ["38,5", "1,200", "1,200.5", "inf", "NaN", "40 ac", "", "0x10", "1 200"] {
            assert_eq!(point(text), None, "{text}");
        }
        for text in ["1.200,5", "38.5", "1,2,3", "1.200"] {
            assert_eq!(comma(text), None, "{text}");
        }
        let bad = number("", "38,5", Decimal::Point).expect_err("refused");
        assert!(bad.allowed.expect("a hint").contains("decimal=comma"));
    }

    #[test]
    fn days_and_whole_numbers_are_written_one_way() {
        assert!(day("", "2026-10-12").is_ok());
        for text in ["10/12/2026", "2026-13-01", "2026-2-3", "12.10.2026", "2026-10-12T00:00"] {
            assert!(day("", text).is_err(), "{text}");
        }
        assert_eq!(whole("", "16").ok(), Some(16));
        for text in ["16.0", "-1", "70000", "sixteen"] {
            assert!(whole("", text).is_err(), "{text}");
        }
    }
}
