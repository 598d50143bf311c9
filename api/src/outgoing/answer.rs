//! What is answered, read within bounds.

use std::io::{self, Write};

use actix_web::web::Bytes;
use flate2::write::MultiGzDecoder;
use reqwest::header::{CONTENT_ENCODING, HeaderMap, HeaderValue};
use reqwest::{Response, StatusCode, Url};

use super::error::OutgoingError;

/// How much longer than its content a compressed body may be.
const SLACK: usize = 65_536;

/// The answer to an [`OutgoingRequest`](super::OutgoingRequest).
#[derive(Debug, Clone)]
pub struct OutgoingAnswer {
    /// The status, whatever it is.
    pub status: StatusCode,
    /// The headers.
    pub headers: HeaderMap,
    /// The body, decompressed.
    pub body: Bytes,
    /// Where it came from, after redirects.
    pub url: Url,
}

/// Reads the beginning of a body, as it is sent.
pub(super) async fn beginning(
    response: &mut Response,
    most_bytes: usize,
) -> Result<Bytes, OutgoingError> {
    let mut read = Vec::new();
    while read.len() < most_bytes
        && let Some(part) = response.chunk().await.map_err(|error| OutgoingError::of(&error))?
    {
        read.extend(part.iter().take(most_bytes.saturating_sub(read.len())));
    }
    Ok(read.into())
}

/// Reads a whole body and decompresses it, both bounded at each step.
pub(super) async fn whole(
    response: &mut Response,
    most_bytes: usize,
) -> Result<Bytes, OutgoingError> {
    let mut reader = Reader::of(response.headers(), most_bytes)?;
    let most_sent = most_bytes.saturating_add(SLACK);
    if response
        .content_length()
        .is_some_and(|said| usize::try_from(said).is_ok_and(|it| it > most_sent))
    {
        return Err(OutgoingError::TooLong { most_bytes });
    }
    let mut sent: usize = 0;
    while let Some(part) = response.chunk().await.map_err(|error| OutgoingError::of(&error))? {
        sent = sent.saturating_add(part.len());
        if sent > most_sent {
            return Err(OutgoingError::TooLong { most_bytes });
        }
        reader.take(&part)?;
    }
    reader.finish()
}

/// A body that is being read.
enum Reader {
    Plain(Bounded),
    Gzip(Box<MultiGzDecoder<Bounded>>),
}

impl Reader {
    fn of(headers: &HeaderMap, most_bytes: usize) -> Result<Self, OutgoingError> {
        let bounded = Bounded { read: Vec::new(), most_bytes, is_over: false };
        let codings: Vec<&[u8]> =
            headers.get_all(CONTENT_ENCODING).iter().map(HeaderValue::as_bytes).collect();
        match *codings.as_slice() {
            [] => Ok(Self::Plain(bounded)),
            [coding] if coding.eq_ignore_ascii_case(b"identity") => Ok(Self::Plain(bounded)),
            [coding]
                if coding.eq_ignore_ascii_case(b"gzip")
                    || coding.eq_ignore_ascii_case(b"x-gzip") =>
            {
                Ok(Self::Gzip(Box::new(MultiGzDecoder::new(bounded))))
            }
            _ => Err(OutgoingError::Compressed),
        }
    }

    fn take(&mut self, part: &[u8]) -> Result<(), OutgoingError> {
        let (taken, bounded) = match self {
            Self::Plain(bounded) => (bounded.write_all(part), &*bounded),
            Self::Gzip(decoder) => (decoder.write_all(part), decoder.get_ref()),
        };
        taken.map_err(|_io| bounded.why())
    }

    fn finish(self) -> Result<Bytes, OutgoingError> {
        match self {
            Self::Plain(bounded) => Ok(bounded.read.into()),
            Self::Gzip(mut decoder) => match decoder.try_finish() {
                Ok(()) => Ok(std::mem::take(&mut decoder.get_mut().read).into()),
                Err(_io) => Err(decoder.get_ref().why()),
            },
        }
    }
}

/// Bytes in memory, up to a bound.
struct Bounded {
    read: Vec<u8>,
    most_bytes: usize,
    is_over: bool,
}

impl Bounded {
    fn why(&self) -> OutgoingError {
        if self.is_over {
            OutgoingError::TooLong { most_bytes: self.most_bytes }
        } else {
            OutgoingError::Compressed
        }
    }
}

impl Write for Bounded {
    fn write(&mut self, part: &[u8]) -> io::Result<usize> {
        if self.read.len().saturating_add(part.len()) > self.most_bytes {
            self.is_over = true;
            return Err(io::Error::other("too long"));
        }
        self.read.extend_from_slice(part);
        Ok(part.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}
