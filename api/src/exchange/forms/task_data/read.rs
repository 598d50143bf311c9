//! Reads task data: growers, farms and fields with their boundaries out of `TASKDATA.XML`, and the ids that
//! last out of `LINKLIST.XML`.
//!
//! A document type definition is refused, and with it every entity of its own: nothing grows while it is
//! read, and nothing outside of the file is opened.

use std::collections::HashMap;
use std::sync::Arc;

use super::land::Land;
use super::xml::{Element, Part, Xml};
use crate::exchange::files::Records;
use crate::exchange::intake::{Columns, Incoming, Kind, Member, Parent, Place};
use crate::http::{ApiError, BadMember};

/// The files of one set of task data, as text.
#[derive(Debug)]
pub struct TaskFiles {
    /// `TASKDATA.XML`.
    pub tasks: String,
    /// `LINKLIST.XML`, where there is one.
    pub links: Option<String>,
}

/// The root of a task file.
const ROOT: &str = "ISO11783_TaskData";

/// Growers, farms and fields of a task file.
///
/// # Errors
/// When it is no well-formed XML, has a document type definition, is no task file, or has more than
/// `most` records. A record that can't be read has reasons in `unread`.
pub fn records(files: &TaskFiles, most: usize) -> Result<Records, ApiError> {
    let links = files.links.as_deref().map(links).transpose()?.unwrap_or_default();
    let mut reading = Reading::new(links);
    let mut xml = Xml::new(&files.tasks);
    let mut begun = false;
    while let Some(part) = xml.next_part()? {
        match part {
            Part::Begin(element) if !begun => {
                begun = true;
                is_task_file(&element)?;
            }
            Part::Begin(element) => reading.begin(&element),
            Part::End(name) => reading.end(&name),
        }
        if reading.incoming.len() > most {
            let bad = BadMember::new("", "The file is too large: send it in parts.");
            let given = format!("more than {most} records");
            return Err(bad.given(given).allowed(format!("at most {most}")).into());
        }
    }
    if !begun {
        return Err(BadMember::new("#line=1", "The file is empty.").allowed(ROOT).into());
    }
    Ok(reading.finish())
}

fn is_task_file(root: &Element) -> Result<(), BadMember> {
    if root.name != ROOT {
        return Err(BadMember::new(root.at(), "This is no task file.")
            .given(root.name.escape_debug())
            .allowed(ROOT));
    }
    let version = root.get("VersionMajor").unwrap_or_default();
    if !matches!(version, "3" | "4") {
        return Err(BadMember::new(root.at(), "Task files of this version can't be read.")
            .given(version.escape_debug())
            .allowed("VersionMajor 3 or 4"));
    }
    Ok(())
}

/// Ids that last, by ids of the file.
fn links(text: &str) -> Result<HashMap<String, String>, ApiError> {
    let mut found = HashMap::new();
    let mut xml = Xml::named(text, "LINKLIST.XML");
    let mut lasting = false;
    while let Some(part) = xml.next_part()? {
        let Part::Begin(element) = part else { continue };
        match element.name.as_str() {
            // UUIDs, or addresses that are unique.
            "LGP" => lasting = matches!(element.get("B"), Some("1" | "3")),
            "LNK" if lasting => {
                if let (Some(id), Some(value)) = (element.get("A"), element.get("B")) {
                    found.insert(id.to_owned(), value.to_owned());
                }
            }
            _ => {}
        }
    }
    Ok(found)
}

/// A file that is being read.
struct Reading {
    links: HashMap<String, String>,
    /// Ids of records, by ids of the file.
    ids: HashMap<String, String>,
    places: Arc<Columns>,
    incoming: Vec<Incoming>,
    /// Parents by ids of the file: they may stand further down.
    parents: Vec<Option<String>>,
    field: Option<Field>,
}

/// A field that is being read.
struct Field {
    at: usize,
    land: Land,
}

impl Reading {
    fn new(links: HashMap<String, String>) -> Self {
        let places = [
            (Member::Id, "@A"),
            (Member::Name, "@C"),
            (Member::Parent, "@F"),
            (Member::Area, "@D"),
            (Member::Boundary, "/PLN"),
        ];
        let places = places.map(|(member, behind)| (member, behind.to_owned()));
        Self {
            links,
            ids: HashMap::new(),
            places: Arc::new(Columns::from(places)),
            incoming: Vec::new(),
            parents: Vec::new(),
            field: None,
        }
    }

    fn begin(&mut self, element: &Element) {
        if let Some(field) = &mut self.field {
            field.land.begin(element);
            return;
        }
        if element.depth != 2 {
            return;
        }
        match element.name.as_str() {
            "CTR" => {
                let parts = [element.get("C"), element.get("B")];
                let name: Vec<&str> =
                    parts.into_iter().flatten().filter(|it| !it.is_empty()).collect();
                self.record(Kind::Grower, element, Some(name.join(" ")), None);
            }
            "FRM" => {
                let name = element.get("B").map(ToOwned::to_owned);
                self.record(Kind::Farm, element, name, element.get("I"));
            }
            "PFD" => {
                let name = element.get("C").map(ToOwned::to_owned);
                let at = self.record(Kind::Field, element, name, element.get("F"));
                let area = self.area(at, element);
                self.field = Some(Field { at, land: Land::of(area) });
            }
            _ => {}
        }
    }

    /// The area of a field in square metres; what is there and no number is named.
    fn area(&mut self, at: usize, element: &Element) -> Option<f64> {
        let given = element.get("D")?;
        let area = given.trim().parse::<f64>().ok().filter(|area| area.is_finite() && *area >= 0.0);
        if let (None, Some(record)) = (area, self.incoming.get_mut(at)) {
            let bad = BadMember::new(record.place.of(Member::Area), "The area is no number.")
                .given(given.escape_debug())
                .allowed("square metres; 0 where it is not known");
            record.unread.push(bad);
        }
        area
    }

    /// A new record; gives its place in the list.
    fn record(
        &mut self,
        kind: Kind,
        element: &Element,
        name: Option<String>,
        parent: Option<&str>,
    ) -> usize {
        let place = Place::new(format!("line {}, {}", element.line, element.name), &self.places);
        let mut record = Incoming::new(kind, place);
        let name = name.filter(|name| !name.trim().is_empty());
        if let Some(id) = element.get("A").filter(|id| !id.is_empty()) {
            // An id of the file says nothing in the next one; with the name it does, mostly.
            let named =
                || [Some(id), name.as_deref()].into_iter().flatten().collect::<Vec<_>>().join(" ");
            let theirs = self.links.get(id).cloned().unwrap_or_else(named);
            self.ids.insert(id.to_owned(), theirs.clone());
            record.their_id = Some(theirs);
        }
        record.said.name = name;
        self.incoming.push(record);
        self.parents.push(parent.map(ToOwned::to_owned));
        self.incoming.len() - 1
    }

    fn end(&mut self, name: &str) {
        let Some(mut field) = self.field.take() else { return };
        if name != "PFD" {
            field.land.end(name);
            self.field = Some(field);
            return;
        }
        if let Some(record) = self.incoming.get_mut(field.at) {
            field.land.into_record(record);
        }
    }

    /// Names parents as the records do.
    fn finish(mut self) -> Records {
        for (record, parent) in self.incoming.iter_mut().zip(self.parents) {
            record.said.parent =
                parent.map(|id| Parent::Theirs(self.ids.get(&id).cloned().unwrap_or(id)));
        }
        Records { incoming: self.incoming, ignored: Vec::new() }
    }
}

#[cfg(test)]
mod tests {
    use super::{TaskFiles, records};
    use crate::exchange::intake::{Kind, Parent};
    use crate::http::ApiError;
    use crate::v1::fields::Boundary;

    fn read(tasks: &str) -> Result<Vec<crate::exchange::intake::Incoming>, ApiError> {
        let files = TaskFiles { tasks: tasks.to_owned(), links: None };
        records(&files, 100).map(|it| it.incoming)
    }

    #[track_caller]
    fn refused(tasks: &str, line: usize, words: &str) {
        let error = read(tasks).expect_err(tasks);
        let member = error.members().first().expect("a member");
        assert_eq!(member.pointer, format!("#line={line}"), "{}", member.detail);
        assert!(member.detail.contains(words), "{}", member.detail);
    }

    /// A whole file; the farm stands after its field.
    const WHOLE: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<ISO11783_TaskData VersionMajor="4" VersionMinor="3" DataTransferOrigin="1">
  <CTR A="CTR1" B="M&#252;ller &amp; Sons" C="Ann"/>
  <PFD A="PFD1" C="North 40" D="159875" F="FRM1">
    <PLN A="1"><LSG A="1">
      <PNT A="2" C="42.0" D="-93.6"/><PNT A="2" C="42.0" D="-93.59517"/>
      <PNT A="2" C="42.003597" D="-93.59517"/><PNT A="2" C="42.003597" D="-93.6"/>
    </LSG></PLN>
    <PLN A="2"><LSG A="1"><PNT A="2" C="1" D="1"/></LSG></PLN>
  </PFD>
  <FRM A="FRM1" B="Home farm" I="CTR1"/>
  <TSK A="TSK1" G="1"><TZN A="1"><PLN A="1"><LSG A="1"><PNT A="2" C="x" D="y"/></LSG></PLN></TZN></TSK>
</ISO11783_TaskData>"#;

    #[test]
    fn growers_farms_and_fields_are_read() {
        let incoming = read(WHOLE).expect("a task file");
        let kinds: Vec<Kind> = incoming.iter().map(|it| it.kind).collect();
        assert_eq!(kinds, [Kind::Grower, Kind::Field, Kind::Farm]);
        assert_eq!(incoming[0].said.name.as_deref(), Some("Ann Müller & Sons"));
        let field = &incoming[1];
        assert_eq!(field.their_id.as_deref(), Some("PFD1 North 40"));
        assert_eq!(field.said.parent, Some(Parent::Theirs("FRM1 Home farm".to_owned())));
        assert_eq!(field.place.record(), "line 4, PFD");
        assert!(field.unread.is_empty(), "{:?}", field.unread);
        let boundary = field.said.boundary.as_ref().expect("a boundary");
        let Boundary::Polygon { coordinates } = boundary else { panic!("one piece") };
        assert_eq!((coordinates.len(), coordinates[0].len()), (1, 5), "the ring is closed");
        assert_eq!(coordinates[0][0].0, [-93.6, 42.0], "longitude first");
        assert_eq!(field.said.area, None, "what the boundary says need not be entered");
    }

    #[test]
    fn ids_that_last_come_from_the_links() {
        let links = r#"<ISO11783LinkList VersionMajor="4">
            <LGP A="LGP1" B="4"><LNK A="PFD1" B="no id"/></LGP>
            <LGP A="LGP2" B="1"><LNK A="PFD1" B="0f0e"/><LNK A="FRM1" B="1f1e"/></LGP>
        </ISO11783LinkList>"#;
        let files = TaskFiles { tasks: WHOLE.to_owned(), links: Some(links.to_owned()) };
        let incoming = records(&files, 100).expect("a task file").incoming;
        assert_eq!(incoming[1].their_id.as_deref(), Some("0f0e"));
        assert_eq!(incoming[1].said.parent, Some(Parent::Theirs("1f1e".to_owned())));
    }

    #[test]
    fn holes_and_pieces_are_kept_and_bad_corners_named() {
        let ring = |kind: &str, west: f64, size: f64| {
            let corner = |x: f64, y: f64| format!(r#"<PNT A="2" C="{y}" D="{x}"/>"#);
            let (south, east) = (42.0 + (0.01 - size) / 2.0, west + size);
            let north = south + size;
            let corners = [(west, south), (east, south), (east, north), (west, north)];
            let corners: String = corners.map(|(x, y)| corner(x, y)).concat();
            format!(r#"<LSG A="{kind}">{corners}</LSG>"#)
        };
        // Version 3 keeps several outer rings in one polygon.
        let file = |inside: &str| {
            format!(
                "<ISO11783_TaskData VersionMajor=\"3\">\n<PFD A=\"PFD1\" C=\"N\" D=\"0\">{inside}</PFD>\
                 </ISO11783_TaskData>"
            )
        };
        let pieces = format!(
            "<PLN A=\"1\">{}{}{}</PLN>",
            ring("1", -93.6, 0.01),
            ring("1", -93.5, 0.01),
            ring("2", -93.497, 0.004)
        );
        let incoming = read(&file(&pieces)).expect("a task file");
        let boundary = incoming[0].said.boundary.as_ref().expect("a boundary");
        let Boundary::MultiPolygon { coordinates } = boundary else { panic!("two pieces") };
        assert_eq!(
            (coordinates[0].len(), coordinates[1].len()),
            (1, 2),
            "the hole is in the second"
        );
        let bad = "<PLN A=\"1\"><LSG A=\"1\">\n<PNT A=\"2\" C=\"north\" D=\"-93.6\"/></LSG></PLN>";
        let incoming = read(&file(bad)).expect("a task file");
        assert_eq!(incoming[0].unread[0].pointer, "line 3, PNT");
        let hole = format!("<PLN A=\"1\">{}</PLN>", ring("2", -93.6, 0.01));
        assert!(
            !read(&file(&hole)).expect("a task file")[0].unread.is_empty(),
            "a hole in nothing"
        );
    }

    #[test]
    fn areas_and_boundaries_that_cant_be_meant_are_named() {
        let file = |area: &str, inside: &str| {
            format!(
                "<ISO11783_TaskData VersionMajor=\"4\"><PFD A=\"PFD1\" C=\"N\" D=\"{area}\">{inside}\
                 </PFD></ISO11783_TaskData>"
            )
        };
        for area in ["forty", "-1", "inf", "NaN", ""] {
            let incoming = read(&file(area, "")).expect("a task file");
            assert_eq!(incoming[0].unread[0].pointer, "line 1, PFD@D", "{area}");
        }
        assert!(read(&file("0", "")).expect("a task file")[0].unread.is_empty());
        let rings = "<LSG A=\"1\"/>".repeat(501);
        let corners = format!("<LSG A=\"1\">{}</LSG>", "<PNT C=\"1\" D=\"1\"/>".repeat(5001));
        for many in [rings, corners] {
            let inside = format!("<PLN A=\"1\">{many}</PLN>");
            let incoming = read(&file("0", &inside)).expect("a task file");
            assert!(incoming[0].unread[0].detail.contains("too many"), "{:?}", incoming[0].unread);
            assert!(incoming[0].said.boundary.is_none());
        }
    }

    #[test]
    fn what_is_no_xml_or_no_task_file_is_named_with_its_line() {
        refused("", 1, "empty");
        refused("PFD1;North 40", 1, "no XML");
        refused("<ISO11783_TaskData VersionMajor=\"4\">\n<PFD A=\"PFD1\">\n</FRM>", 3, "no XML");
        refused("<ISO11783_TaskData VersionMajor=\"4\">\n<PFD A=\"PFD1\"", 2, "no XML");
        refused("<ISO11783_TaskData VersionMajor=\"4\">\n<PFD A=\"PFD1\">\n", 3, "ends before");
        refused(
            "<ISO11783_TaskData VersionMajor=\"4\">\n<PFD A=\"1\" A=\"2\"/></ISO11783_TaskData>",
            2,
            "no XML",
        );
        refused("<html></html>", 1, "no task file");
        refused("<ISO11783_TaskData VersionMajor=\"5\"/>", 1, "version");
        let wide: Vec<String> = (0..101).map(|number| format!(" a{number}=\"\"")).collect();
        let wide = wide.concat();
        refused(&format!("<ISO11783_TaskData VersionMajor=\"4\">\n<a{wide}/>"), 2, "attributes");
        let deep = "<a>".repeat(100);
        refused(&format!("<ISO11783_TaskData VersionMajor=\"4\">{deep}"), 1, "deep");
    }

    #[test]
    fn entities_and_outside_files_are_refused() {
        let bomb = "<?xml version=\"1.0\"?>\n<!DOCTYPE lolz [<!ENTITY a \"lol\"><!ENTITY b \"&a;&a;&a;&a;\">]>\n\
            <ISO11783_TaskData VersionMajor=\"4\"><CTR A=\"CTR1\" B=\"&b;\"/></ISO11783_TaskData>";
        refused(bomb, 2, "document type definition");
        let outside = "<!DOCTYPE x [<!ENTITY e SYSTEM \"file:///etc/passwd\">]>\
            <ISO11783_TaskData VersionMajor=\"4\"><CTR A=\"CTR1\" B=\"&e;\"/></ISO11783_TaskData>";
        refused(outside, 1, "document type definition");
        let unknown = "<ISO11783_TaskData VersionMajor=\"4\">\n<CTR A=\"CTR1\" B=\"&b;\"/></ISO11783_TaskData>";
        refused(unknown, 2, "no XML");
    }
}
