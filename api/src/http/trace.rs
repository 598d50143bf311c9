//! W3C trace context: which trace a request belongs to, over all services that work on it.
//!
//! `traceparent` comes in (level 1 of the standard, and what its level 2 adds), the trace stands in
//! every line of the log, `traceresponse` goes out (as the standard's draft on answers has it), and
//! [`TraceContext::outgoing`] hands the trace on to whoever we call.

use actix_web::http::header::{HeaderMap, HeaderName, HeaderValue};

/// The header that carries the trace from service to service.
pub const PARENT: HeaderName = HeaderName::from_static("traceparent");
/// The header with what tracing programs note for themselves.
pub const STATE: HeaderName = HeaderName::from_static("tracestate");
/// The header of the answer.
pub const RESPONSE: HeaderName = HeaderName::from_static("traceresponse");

/// Most room for `tracestate`; the standard asks for at least 512.
const LONGEST_STATE: usize = 512;
/// Of the flags: someone keeps this trace.
const SAMPLED: u8 = 0x01;
/// Of the flags: the last seven bytes of the id are random.
const RANDOM: u8 = 0x02;

/// The trace that a request belongs to, and our part of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TraceContext {
    trace_id: u128,
    /// Ours: what we call is its child.
    span_id: u64,
    flags: u8,
    state: Option<HeaderValue>,
}

impl TraceContext {
    /// Goes on with the caller's trace; a new one where there is none that is whole.
    pub fn of(headers: &HeaderMap) -> Self {
        let mut given = headers.get_all(PARENT);
        let parent = given.next().filter(|_| given.next().is_none());
        match parent.and_then(|value| Parent::parse(value.to_str().ok()?)) {
            Some(Parent { trace_id, flags }) => {
                Self { trace_id, span_id: new_span(), flags, state: state(headers) }
            }
            None => Self {
                trace_id: rand::random::<u128>().max(1),
                span_id: new_span(),
                flags: RANDOM,
                state: None,
            },
        }
    }

    /// The id of the trace, as it is written.
    pub fn trace_id(&self) -> String {
        format!("{:032x}", self.trace_id)
    }

    /// The value of `traceresponse`, and of `traceparent` for whoever we call.
    pub fn header(&self) -> String {
        format!("00-{:032x}-{:016x}-{:02x}", self.trace_id, self.span_id, self.flags)
    }

    /// The headers that hand the trace on to a service that we call.
    pub fn outgoing(&self) -> Vec<(HeaderName, HeaderValue)> {
        let parent = HeaderValue::from_str(&self.header()).ok().map(|value| (PARENT, value));
        let state = self.state.clone().map(|value| (STATE, value));
        parent.into_iter().chain(state).collect()
    }
}

/// What we take from `traceparent`. Its own span is the caller's affair.
struct Parent {
    trace_id: u128,
    flags: u8,
}

impl Parent {
    /// Reads `version-trace-span-flags`. A later version may go on after a dash; of it the four
    /// fields that we know count. Capital letters, zero ids and the version ff are not allowed.
    fn parse(text: &str) -> Option<Self> {
        let (known, more) = text.split_at_checked(55)?;
        let fields: Vec<&str> = known.split('-').collect();
        let [version, trace_id, span_id, flags] = *fields.as_slice() else { return None };
        let right = [(version, 2), (trace_id, 32), (span_id, 16), (flags, 2)]
            .iter()
            .all(|(field, length)| is_hex(field, *length));
        let ends_well = match version {
            "00" => more.is_empty(),
            "ff" => false,
            _ => more.is_empty() || more.starts_with('-'),
        };
        let trace_id = u128::from_str_radix(trace_id, 16).ok()?;
        let flags = u8::from_str_radix(flags, 16).ok()?;
        let is_named = trace_id != 0 && u64::from_str_radix(span_id, 16).ok()? != 0;
        (right && ends_well && is_named)
            .then_some(Self { trace_id, flags: flags & (SAMPLED | RANDOM) })
    }
}

fn state(headers: &HeaderMap) -> Option<HeaderValue> {
    let lines: Vec<&str> = headers.get_all(STATE).filter_map(|line| line.to_str().ok()).collect();
    let whole = lines.join(",");
    let wanted = !whole.trim().is_empty() && whole.len() <= LONGEST_STATE;
    wanted.then(|| HeaderValue::from_str(&whole).ok()).flatten()
}

/// An id of our own; zero, which no id may be, is left out.
fn new_span() -> u64 {
    rand::random::<u64>().max(1)
}

/// Digits and small letters only, as the standard has it.
fn is_hex(text: &str, length: usize) -> bool {
    text.len() == length && text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'))
}

#[cfg(test)]
mod tests {
    use super::{PARENT, Parent, STATE, TraceContext};
    use actix_web::http::header::{HeaderMap, HeaderValue};

    const TRACE: &str = "4bf92f3577b34da6a3ce929d0e0e4736";
    const SPAN: &str = "00f067aa0ba902b7";

    fn headers(parents: &[&str], states: &[&str]) -> HeaderMap {
        let mut headers = HeaderMap::new();
        for parent in parents {
            headers.append(PARENT, HeaderValue::from_str(parent).expect("text"));
        }
        for state in states {
            headers.append(STATE, HeaderValue::from_str(state).expect("text"));
        }
        headers
    }

    #[test]
    fn a_whole_header_is_gone_on_with() {
        let context = TraceContext::of(&headers(&[&format!("00-{TRACE}-{SPAN}-01")], &["a=1"]));
        assert_eq!(context.trace_id(), TRACE);
        let header = context.header();
        assert!(header.starts_with(&format!("00-{TRACE}-")) && header.ends_with("-01"), "{header}");
        assert!(!header.contains(SPAN), "our part has an id of its own");
        let outgoing = context.outgoing();
        assert_eq!(outgoing[0], (PARENT, HeaderValue::from_str(&header).expect("text")));
        assert_eq!(outgoing[1], (STATE, HeaderValue::from_static("a=1")));
    }

    #[test]
    fn what_is_not_whole_begins_a_new_trace() {
        let zero = |length: usize| "0".repeat(length);
        for text in [
            String::new(),
            format!("ff-{TRACE}-{SPAN}-01"),
            format!("00-{}-{SPAN}-01", zero(32)),
            format!("00-{TRACE}-{}-01", zero(16)),
            format!("00-{}-{SPAN}-01", TRACE.to_uppercase()),
            format!("00-{TRACE}-{}-01", SPAN.to_uppercase()),
            format!("0A-{TRACE}-{SPAN}-01"),
            format!("00-{TRACE}-{SPAN}-0A"),
            format!("00-{TRACE}-{SPAN}-1"),
            format!("00-{TRACE}-{SPAN}-01-"),
            format!("00-{TRACE}-{SPAN}-01-x"),
            format!("00-{TRACE}-{SPAN}-011"),
            format!("01-{TRACE}-{SPAN}-01x"),
            format!("00-{TRACE}-{SPAN}"),
            format!("00_{TRACE}_{SPAN}_01"),
            format!("00-{TRACE}{SPAN}--01-"),
            format!("0-0{TRACE}-{SPAN}-01"),
            format!(" 00-{TRACE}-{SPAN}-01"),
            format!("00-{TRACE}-{}-01", SPAN.replacen('0', "g", 1)),
            "é".repeat(28),
        ] {
            assert!(Parent::parse(&text).is_none(), "{text}");
            if let Ok(value) = HeaderValue::from_str(&text) {
                let mut headers = headers(&[], &["a=1"]);
                headers.append(PARENT, value);
                let context = TraceContext::of(&headers);
                assert_ne!(context.trace_id(), TRACE, "{text}");
                assert_eq!(context.outgoing().len(), 1, "the state goes with its trace: {text}");
            }
        }
    }

    #[test]
    fn of_a_later_version_the_fields_that_are_known_count() {
        for text in [
            format!("01-{TRACE}-{SPAN}-01"),
            format!("cc-{TRACE}-{SPAN}-01-what-ever"),
            format!("fe-{TRACE}-{SPAN}-01-"),
        ] {
            let context = TraceContext::of(&headers(&[&text], &[]));
            assert_eq!(context.trace_id(), TRACE, "{text}");
            assert!(context.header().starts_with("00-"), "we write the version that we know");
        }
    }

    #[test]
    fn two_headers_are_none_and_a_new_trace_is_random() {
        let parent = format!("00-{TRACE}-{SPAN}-01");
        let twice = TraceContext::of(&headers(&[&parent, &parent], &[]));
        assert_ne!(twice.trace_id(), TRACE);
        let (one, two) = (TraceContext::of(&HeaderMap::new()), TraceContext::of(&HeaderMap::new()));
        assert_ne!(one.trace_id(), two.trace_id());
        assert!(one.header().ends_with("-02"), "random, and not kept by anyone");
        assert!(Parent::parse(&one.header()).is_some());
    }

    #[test]
    fn only_flags_that_are_known_are_handed_on() {
        let context = TraceContext::of(&headers(&[&format!("00-{TRACE}-{SPAN}-ff")], &[]));
        assert!(context.header().ends_with("-03"));
    }

    #[test]
    fn the_state_is_joined_and_bounded() {
        let parent = format!("00-{TRACE}-{SPAN}-01");
        let outgoing = |states: &[&str]| TraceContext::of(&headers(&[&parent], states)).outgoing();
        assert_eq!(outgoing(&["a=1,b=2", "c=3"])[1].1, "a=1,b=2,c=3");
        assert_eq!(outgoing(&[" "]).len(), 1);
        assert_eq!(outgoing(&[&"x".repeat(513)]).len(), 1);
    }
}
