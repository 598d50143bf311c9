//! Writes `TASKDATA.XML` and `LINKLIST.XML`.

use std::collections::HashMap;

use domain::conditions::Crop;
use quick_xml::Writer;
use quick_xml::events::{BytesDecl, BytesEnd, BytesStart, Event};
use uuid::Uuid;

use super::ddi::{Ddi, LIQUID_RATE, SEED_RATE};
use super::names::Names;
use super::query::TaskDataVersion;
use crate::entities::{farms, fields, growers};
use crate::exchange::forms::rings::{Ring, corner, pieces};
use crate::exchange::forms::settings::Liquid;
use crate::http::ApiError;
use crate::v1::fields::store::area_of;

/// Attributes of an element.
type Attributes<'a> = &'a [(&'a str, &'a str)];

/// A task file that is being written.
pub(super) struct TaskFile {
    version: TaskDataVersion,
    xml: Writer<Vec<u8>>,
    names: Names,
    /// Ids of the file, and ours.
    links: Vec<(String, Uuid)>,
    /// How many elements of each kind there are.
    counts: HashMap<&'static str, u32>,
    /// Crops and products that are there, by name.
    named: HashMap<String, String>,
}

/// What a task is about, by ids of the file.
pub(super) struct About<'a> {
    pub(super) customer: &'a str,
    pub(super) farm: &'a str,
    pub(super) field: &'a str,
}

/// A setpoint, and the product whose rate it is.
pub(super) struct Setpoint {
    ddi: Ddi,
    raw: i32,
    product: Option<String>,
}

/// Both files.
pub(super) struct Written {
    pub(super) tasks: Vec<u8>,
    /// None in version 3.
    pub(super) links: Option<Vec<u8>>,
    pub(super) names: Names,
}

/// What every file of ours says of itself.
const SOFTWARE: [(&str, &str); 3] = [
    ("ManagementSoftwareManufacturer", "Dibble"),
    ("ManagementSoftwareVersion", env!("CARGO_PKG_VERSION")),
    ("DataTransferOrigin", "1"),
];

impl TaskFile {
    /// Begins one.
    pub(super) fn new(version: TaskDataVersion) -> Result<Self, ApiError> {
        let xml = Writer::new_with_indent(Vec::new(), b' ', 2);
        let names = Names::default();
        let mut made = Self {
            version,
            xml,
            names,
            links: Vec::new(),
            counts: HashMap::new(),
            named: HashMap::new(),
        };
        made.write(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), None)))?;
        let number = match version {
            TaskDataVersion::Four => "4",
            TaskDataVersion::Three => "3",
        };
        let mut root = vec![("VersionMajor", number), ("VersionMinor", "3")];
        root.extend(SOFTWARE);
        if version == TaskDataVersion::Four {
            root.push(("lang", "en"));
        }
        made.open("ISO11783_TaskData", &root)?;
        if version == TaskDataVersion::Four {
            made.empty("AFE", &[("A", "LINKLIST.XML"), ("B", "2"), ("C", ""), ("D", "1")])?;
        }
        Ok(made)
    }

    /// A customer.
    pub(super) fn customer(&mut self, row: &growers::Model) -> Result<String, ApiError> {
        let id = self.next("CTR");
        let name = self.names.take("CTR", &row.name);
        self.empty("CTR", &[("A", &id), ("B", &name)])?;
        self.links.push((id.clone(), row.id));
        Ok(id)
    }

    /// A farm of a customer.
    pub(super) fn farm(&mut self, row: &farms::Model, customer: &str) -> Result<String, ApiError> {
        let id = self.next("FRM");
        let name = self.names.take(customer, &row.name);
        self.empty("FRM", &[("A", &id), ("B", &name), ("I", customer)])?;
        self.links.push((id.clone(), row.id));
        Ok(id)
    }

    /// A crop, written once.
    pub(super) fn crop(&mut self, crop: Crop) -> Result<String, ApiError> {
        let name = crop_name(crop);
        if let Some(id) = self.named.get(name) {
            return Ok(id.clone());
        }
        let id = self.next("CTP");
        self.empty("CTP", &[("A", &id), ("B", name)])?;
        self.named.insert(name.to_owned(), id.clone());
        Ok(id)
    }

    /// A field of a farm, with its boundary.
    pub(super) fn field(
        &mut self,
        row: &fields::Model,
        (customer, farm): (&str, &str),
        crop: Option<Crop>,
    ) -> Result<String, ApiError> {
        let crop = crop.map(|crop| self.crop(crop)).transpose()?;
        let id = self.next("PFD");
        let name = self.names.take(farm, &row.name);
        let area = square_metres(match row.area_m2 {
            Some(inside) => Some(inside),
            None => area_of(row)?.map(domain::quantity::Measured::si),
        });
        let mut attributes =
            vec![("A", id.as_str()), ("C", &name), ("D", &area), ("E", customer), ("F", farm)];
        attributes.extend(crop.as_deref().map(|crop| ("G", crop)));
        self.open("PFD", &attributes)?;
        if let Some(boundary) = row.boundary.clone() {
            let boundary = serde_json::from_value(boundary).map_err(ApiError::internal)?;
            self.boundary(pieces(boundary), row.area_m2)?;
        }
        self.close("PFD")?;
        self.links.push((id.clone(), row.id));
        Ok(id)
    }

    /// Version 4 has a polygon for each piece, version 3 one for all.
    fn boundary(&mut self, pieces: Vec<Vec<Ring>>, area: Option<f64>) -> Result<(), ApiError> {
        let polygons: Vec<Vec<Vec<Ring>>> = match self.version {
            TaskDataVersion::Four => pieces.into_iter().map(|piece| vec![piece]).collect(),
            TaskDataVersion::Three => vec![pieces],
        };
        let whole = (polygons.len() == 1).then(|| square_metres(area));
        for polygon in polygons {
            let mut attributes = vec![("A", "1")];
            attributes.extend(whole.as_deref().map(|area| ("C", area)));
            self.open("PLN", &attributes)?;
            for (place, ring) in polygon.iter().flat_map(|piece| piece.iter().enumerate()) {
                self.open("LSG", &[("A", if place == 0 { "1" } else { "2" })])?;
                for (longitude, latitude) in ring.iter().filter_map(corner) {
                    let (north, east) = (format!("{latitude:.9}"), format!("{longitude:.9}"));
                    self.empty("PNT", &[("A", "2"), ("C", &north), ("D", &east)])?;
                }
                self.close("LSG")?;
            }
            self.close("PLN")?;
        }
        Ok(())
    }

    /// The seed of a crop and its rate, where the sheet has one.
    pub(super) fn seed(
        &mut self,
        crop: Crop,
        rate: Option<f64>,
    ) -> Result<Option<Setpoint>, ApiError> {
        let Some(raw) = rate.and_then(|rate| SEED_RATE.raw(rate)) else { return Ok(None) };
        // What the bin holds is counted.
        let product = self.product(&format!("{} seed", crop_name(crop)), "004E")?;
        Ok(Some(Setpoint { ddi: SEED_RATE, raw, product: Some(product) }))
    }

    /// A liquid and its rate.
    pub(super) fn liquid(&mut self, liquid: Option<Liquid>) -> Result<Option<Setpoint>, ApiError> {
        let Some(Liquid { rate, kind }) = liquid else { return Ok(None) };
        let Some(raw) = LIQUID_RATE.raw(rate) else { return Ok(None) };
        // What the tank holds is a volume.
        let product = self.product(kind.name(), "0048")?;
        Ok(Some(Setpoint { ddi: LIQUID_RATE, raw, product: Some(product) }))
    }

    /// A product, written once.
    fn product(&mut self, name: &str, quantity: &str) -> Result<String, ApiError> {
        if let Some(id) = self.named.get(name) {
            return Ok(id.clone());
        }
        let id = self.next("PDT");
        self.named.insert(name.to_owned(), id.clone());
        let name = self.names.take("PDT", name);
        self.empty("PDT", &[("A", &id), ("B", &name), ("E", quantity)])?;
        Ok(id)
    }

    /// A planned task. Zone 1 holds in the field and where the position is lost; outside rates are 0.
    pub(super) fn task(
        &mut self,
        (id_of_ours, name): (Uuid, &str),
        about: &About<'_>,
        setpoints: &[Setpoint],
    ) -> Result<(), ApiError> {
        let id = self.next("TSK");
        let name = self.names.take("TSK", name);
        let mut attributes = vec![
            ("A", id.as_str()),
            ("B", name.as_str()),
            ("C", about.customer),
            ("D", about.farm),
            ("E", about.field),
            ("G", "1"),
        ];
        if !setpoints.is_empty() {
            attributes.extend([("H", "1"), ("I", "1"), ("J", "0")]);
        }
        self.open("TSK", &attributes)?;
        if !setpoints.is_empty() {
            self.zone(("1", "Field"), setpoints.iter().map(|it| (it, it.raw)))?;
            let rates = setpoints.iter().filter(|it| it.product.is_some());
            self.zone(("0", "Outside"), rates.map(|it| (it, 0)))?;
        }
        self.close("TSK")?;
        self.links.push((id, id_of_ours));
        Ok(())
    }

    fn zone<'a>(
        &mut self,
        (code, name): (&str, &str),
        values: impl Iterator<Item = (&'a Setpoint, i32)>,
    ) -> Result<(), ApiError> {
        self.open("TZN", &[("A", code), ("B", name)])?;
        for (setpoint, raw) in values {
            let value = raw.to_string();
            let mut attributes = vec![("A", setpoint.ddi.hex), ("B", value.as_str())];
            attributes.extend(setpoint.product.as_deref().map(|product| ("C", product)));
            self.empty("PDV", &attributes)?;
        }
        self.close("TZN")
    }

    /// Ends it.
    pub(super) fn finish(mut self) -> Result<Written, ApiError> {
        self.close("ISO11783_TaskData")?;
        let links = match self.version {
            TaskDataVersion::Four => Some(link_list(&self.links)?),
            TaskDataVersion::Three => None,
        };
        Ok(Written { tasks: self.xml.into_inner(), links, names: self.names })
    }

    /// The next id of a kind; positive numbers, which every reader takes.
    fn next(&mut self, kind: &'static str) -> String {
        let count = self.counts.entry(kind).or_default();
        *count = count.saturating_add(1);
        format!("{kind}{count}")
    }

    fn open(&mut self, name: &str, attributes: Attributes<'_>) -> Result<(), ApiError> {
        self.write(Event::Start(element(name, attributes)))
    }

    fn empty(&mut self, name: &str, attributes: Attributes<'_>) -> Result<(), ApiError> {
        self.write(Event::Empty(element(name, attributes)))
    }

    fn close(&mut self, name: &str) -> Result<(), ApiError> {
        self.write(Event::End(BytesEnd::new(name)))
    }

    fn write(&mut self, event: Event<'_>) -> Result<(), ApiError> {
        self.xml.write_event(event).map_err(ApiError::internal)
    }
}

impl Setpoint {
    /// A setpoint that is no rate, where it was asked for.
    pub(super) fn asked(ddi: Ddi, asked: Option<bool>, figure: f64) -> Option<Self> {
        let raw = asked.unwrap_or(false).then(|| ddi.raw(figure)).flatten()?;
        Some(Self { ddi, raw, product: None })
    }

    /// What it is.
    pub(super) fn ddi(&self) -> Ddi {
        self.ddi
    }
}

fn crop_name(crop: Crop) -> &'static str {
    match crop {
        Crop::Corn => "Corn",
        Crop::Soybean => "Soybean",
    }
}

/// Whole square metres; 0 where nobody knows.
fn square_metres(area: Option<f64>) -> String {
    format!("{:.0}", area.unwrap_or(0.0).max(0.0))
}

fn element<'a>(name: &'a str, attributes: Attributes<'a>) -> BytesStart<'a> {
    BytesStart::new(name).with_attributes(attributes.iter().copied())
}

/// Which object of ours each id of the file is: UUIDs, that outlast the file.
fn link_list(links: &[(String, Uuid)]) -> Result<Vec<u8>, ApiError> {
    let mut xml = Writer::new_with_indent(Vec::new(), b' ', 2);
    let mut root = vec![("VersionMajor", "4"), ("VersionMinor", "3")];
    root.extend(SOFTWARE);
    let mut write = |event: Event<'_>| xml.write_event(event).map_err(ApiError::internal);
    write(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), None)))?;
    write(Event::Start(element("ISO11783LinkList", &root)))?;
    write(Event::Start(element("LGP", &[("A", "LGP1"), ("B", "1")])))?;
    for (id, ours) in links {
        let ours = ours.to_string();
        write(Event::Empty(element("LNK", &[("A", id), ("B", &ours)])))?;
    }
    write(Event::End(BytesEnd::new("LGP")))?;
    write(Event::End(BytesEnd::new("ISO11783LinkList")))?;
    Ok(xml.into_inner())
}
