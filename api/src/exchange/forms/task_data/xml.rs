//! XML that comes in: elements with their attributes and lines, and nothing that could grow.

use std::collections::HashMap;

use quick_xml::events::{BytesStart, Event};
use quick_xml::{Reader, XmlVersion};

use crate::http::BadMember;

/// Deepest nesting: a task file has six.
const DEEPEST: usize = 32;
/// Most attributes of an element: each is held against all before it.
const MOST_ATTRIBUTES: usize = 100;

/// An element as it begins.
#[derive(Debug)]
pub(super) struct Element {
    pub(super) name: String,
    pub(super) line: usize,
    /// 1 for the root.
    pub(super) depth: usize,
    attributes: HashMap<String, String>,
}

impl Element {
    /// An attribute.
    pub(super) fn get(&self, name: &str) -> Option<&str> {
        self.attributes.get(name).map(String::as_str)
    }

    /// Where it stands, as in problems.
    pub(super) fn at(&self) -> String {
        format!("#line={}", self.line)
    }
}

/// What comes next.
#[derive(Debug)]
pub(super) enum Part {
    Begin(Element),
    End(String),
}

/// A file of XML.
pub(super) struct Xml<'a> {
    text: &'a str,
    /// Named in refusals where there are several files.
    file: &'static str,
    reader: Reader<&'a [u8]>,
    open: usize,
    /// The end of an element without content, still to be told.
    ended: Option<String>,
    /// As far as lines were counted, and how many.
    counted: (usize, usize),
}

impl<'a> Xml<'a> {
    /// Of the task file.
    pub(super) fn new(text: &'a str) -> Self {
        Self::named(text, "TASKDATA.XML")
    }

    /// Of another file.
    pub(super) fn named(text: &'a str, file: &'static str) -> Self {
        let reader = Reader::from_str(text);
        Self { text, file, reader, open: 0, ended: None, counted: (0, 1) }
    }

    /// The next begin or end; none after the root.
    ///
    /// # Errors
    /// What is no well-formed XML, with its line; any document type definition.
    pub(super) fn next_part(&mut self) -> Result<Option<Part>, BadMember> {
        if let Some(name) = self.ended.take() {
            return Ok(Some(Part::End(name)));
        }
        loop {
            let event = match self.reader.read_event() {
                Ok(event) => event,
                Err(error) => return Err(self.broken(&error)),
            };
            let line = self.line();
            match event {
                Event::Start(start) => {
                    self.open += 1;
                    return self.element(&start, line).map(Part::Begin).map(Some);
                }
                Event::Empty(start) => {
                    self.open += 1;
                    let element = self.element(&start, line)?;
                    self.open -= 1;
                    self.ended = Some(element.name.clone());
                    return Ok(Some(Part::Begin(element)));
                }
                Event::End(end) => {
                    self.open = self.open.saturating_sub(1);
                    return Ok(Some(Part::End(end.name().as_ref().to_owned())));
                }
                Event::DocType(_) => {
                    let detail = "The file has a document type definition, which is not taken.";
                    return Err(BadMember::new(format!("#line={line}"), detail)
                        .why("entities can grow without end, and lead to other files"));
                }
                Event::Text(text) if self.open == 0 && !text.trim().is_empty() => {
                    return Err(self.no_xml(line, "text outside of the root"));
                }
                Event::Eof if self.open > 0 => {
                    let detail = format!("{} ends before its last element does.", self.file);
                    return Err(BadMember::new(format!("#line={line}"), detail));
                }
                Event::Eof => return Ok(None),
                Event::Text(_)
                | Event::CData(_)
                | Event::Comment(_)
                | Event::Decl(_)
                | Event::PI(_)
                | Event::GeneralRef(_) => {}
            }
        }
    }

    fn element(&self, start: &BytesStart<'_>, line: usize) -> Result<Element, BadMember> {
        if self.open > DEEPEST {
            let detail = format!("{} is nested too deep.", self.file);
            return Err(BadMember::new(format!("#line={line}"), detail)
                .allowed(format!("at most {DEEPEST} elements in each other")));
        }
        let mut attributes = HashMap::new();
        for (before, attribute) in start.attributes().enumerate() {
            if before == MOST_ATTRIBUTES {
                let detail = format!("An element of {} has too many attributes.", self.file);
                return Err(BadMember::new(format!("#line={line}"), detail)
                    .allowed(format!("at most {MOST_ATTRIBUTES}")));
            }
            let attribute = attribute.map_err(|error| self.no_xml(line, &error.to_string()))?;
            let value = attribute
                .normalized_value(XmlVersion::Implicit1_0)
                .map_err(|error| self.no_xml(line, &error.to_string()))?;
            attributes.insert(attribute.key.as_ref().to_owned(), value.into_owned());
        }
        let name = start.name().as_ref().to_owned();
        Ok(Element { name, line, depth: self.open, attributes })
    }

    fn broken(&mut self, error: &quick_xml::Error) -> BadMember {
        let line = self.line();
        self.no_xml(line, &error.to_string())
    }

    fn no_xml(&self, line: usize, why: &str) -> BadMember {
        let detail = format!("{} is no XML as it stands.", self.file);
        BadMember::new(format!("#line={line}"), detail).why(why)
    }

    /// The line of what was read last; counted on from where it was counted before.
    fn line(&mut self) -> usize {
        let at = usize::try_from(self.reader.buffer_position()).unwrap_or(usize::MAX);
        let (from, line) = self.counted;
        let passed = self.text.get(from..at.min(self.text.len())).unwrap_or_default();
        let more = passed.matches('\n').count();
        self.counted = (at.max(from).min(self.text.len()), line + more);
        self.counted.1
    }
}
