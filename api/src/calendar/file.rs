//! The file: an iCalendar object.

use chrono::TimeDelta;
use icalendar::{Calendar, Component, Event, EventLike, EventStatus, Property};

use super::kept::Listed;
use crate::entities::practices;
use crate::http::ApiError;

/// Octets of a line, without its end (RFC 5545, section 3.1).
const LINE: usize = 75;

/// Writes the calendar of a practice.
///
/// # Errors
/// Never, but for a fault of ours.
pub(super) fn write(practice: &practices::Model, listed: &[Listed]) -> Result<String, ApiError> {
    let mut calendar = Calendar::empty();
    calendar
        .append_property(Property::new("VERSION", "2.0"))
        .append_property(Property::new("PRODID", "-//Dibble//Attention list//EN"))
        .append_property(Property::new("CALSCALE", "GREGORIAN"))
        .append_property(Property::new("METHOD", "PUBLISH"))
        .append_property(Property::new("X-WR-TIMEZONE", &practice.time_zone))
        .append_property(
            Property::new("REFRESH-INTERVAL", "PT1H").add_parameter("VALUE", "DURATION").done(),
        )
        // The library escapes no comma in NAME, which would say the same.
        .append_property(Property::new("X-WR-CALNAME", format!("What is due: {}", practice.name)));
    for event in listed {
        calendar.push(of(practice, event));
    }
    let mut text = String::new();
    std::fmt::Write::write_fmt(&mut text, format_args!("{calendar}"))
        .map_err(ApiError::internal)?;
    Ok(folded(&text))
}

/// An event of a whole day: it blocks no time.
fn of(practice: &practices::Model, listed: &Listed) -> Event {
    let Listed { key, on, sequence, changed_at, due } = listed;
    let stamp = changed_at.format("%Y%m%dT%H%M%SZ").to_string();
    let next = on.checked_add_signed(TimeDelta::days(1)).unwrap_or(*on);
    let mut event = Event::with_uid(&format!("{key}@{}", practice.id));
    event
        .add_property("DTSTAMP", &stamp)
        .add_property("LAST-MODIFIED", &stamp)
        .add_property("SEQUENCE", sequence.to_string())
        .add_property("TRANSP", "TRANSPARENT")
        .starts(*on)
        .ends(next);
    match due {
        Some(due) => event
            .summary(&due.summary)
            .description(&due.description)
            .url(&due.url)
            .status(EventStatus::Confirmed),
        None => event.summary("No longer needed").status(EventStatus::Cancelled),
    };
    event.done()
}

/// Folds lines anew: the library lets the last part of a long line be an octet too long.
fn folded(text: &str) -> String {
    let whole = text.replace("\r\n ", "");
    let mut out = String::with_capacity(text.len());
    for line in whole.split_terminator("\r\n") {
        let mut room = LINE;
        let mut used = 0;
        for letter in line.chars() {
            if used + letter.len_utf8() > room {
                out.push_str("\r\n ");
                // The blank counts too.
                (room, used) = (LINE - 1, 0);
            }
            out.push(letter);
            used += letter.len_utf8();
        }
        out.push_str("\r\n");
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{LINE, folded, write};
    use crate::calendar::events::Due;
    use crate::calendar::kept::Listed;
    use crate::entities::practices::{AdvisorsSee, Model};
    use chrono::DateTime;
    use uuid::Uuid;

    fn practice() -> Model {
        Model {
            id: Uuid::from_u128(9),
            name: "Advisors, North; West".to_owned(),
            created_at: DateTime::UNIX_EPOCH,
            advisors_see: AdvisorsSee::All,
            version: 1,
            updated_at: DateTime::UNIX_EPOCH,
            time_zone: "America/Chicago".to_owned(),
            season_starts: "01-01".to_owned(),
            erasure_salt: None,
        }
    }

    fn listed(summary: &str) -> Listed {
        let on = "2027-05-04".parse().expect("a day");
        let key = "dig_overdue.1".to_owned();
        let due = Due {
            key: key.clone(),
            on,
            summary: summary.to_owned(),
            description: "First; second, \\ third".to_owned(),
            url: "https://dibble.example.org/v1/recommendations/1".to_owned(),
        };
        let changed_at = "2027-05-03T12:00:00Z".parse().expect("a time");
        Listed { key, on, sequence: 3, changed_at, due: Some(due) }
    }

    #[test]
    fn lines_are_short_end_as_they_must_and_say_the_same() {
        for length in 1..400 {
            for letter in ["a", "é", "虎", "🌽"] {
                let line = letter.repeat(length);
                let text = folded(&format!("{line}\r\n"));
                assert!(text.split("\r\n").all(|part| part.len() <= LINE), "{length} {letter}");
                assert_eq!(text.replace("\r\n ", ""), format!("{line}\r\n"));
            }
        }
    }

    #[test]
    fn text_is_escaped_and_a_day_is_a_day() {
        let text =
            write(&practice(), &[listed("Dig: Lee; Sons, \\ \u{1f33d}")]).expect("a calendar");
        for line in [
            "BEGIN:VCALENDAR",
            "SUMMARY:Dig: Lee\\; Sons\\, \\\\ \u{1f33d}",
            "DTSTART;VALUE=DATE:20270504",
            "DTEND;VALUE=DATE:20270505",
            "DTSTAMP:20270503T120000Z",
            "SEQUENCE:3",
            "STATUS:CONFIRMED",
            "UID:dig_overdue.1@00000000-0000-0000-0000-000000000009",
            "END:VCALENDAR",
        ] {
            assert!(text.contains(&format!("{line}\r\n")), "{line} in {text}");
        }
        assert!(!text.replace("\r\n", "").contains(['\r', '\n']));
    }

    #[test]
    fn what_was_called_off_names_nobody() {
        let gone = Listed { due: None, ..listed("Miller") };
        let text = write(&practice(), &[gone]).expect("a calendar");
        assert!(text.contains("STATUS:CANCELLED") && !text.contains("Miller"));
    }
}
