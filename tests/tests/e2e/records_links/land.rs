//! Records of an invented system: farms with their owners inside, and fields, in pages.

use std::collections::hash_map::DefaultHasher;
use std::hash::{Hash, Hasher};
use std::sync::{Arc, Mutex};

use actix_web::HttpResponse;
use serde_json::{Value, json};

use super::stand_in::{Asked, StandIn};

/// What the system holds.
#[derive(Debug, Clone)]
pub struct Land {
    pub farms: Vec<Value>,
    pub fields: Vec<Value>,
    pub page_size: usize,
    /// Whether pages have versions.
    pub versions: bool,
}

/// A rectangle of about 39.5 acres, each somewhere else.
pub fn ring(number: usize) -> Value {
    let west = -93.6 + 0.006 * f64::from(u32::try_from(number % 100).expect("small"));
    let south = 42.0 + 0.005 * f64::from(u32::try_from(number / 100).expect("small"));
    let (east, north) = (west + 0.00483, south + 0.003_597);
    json!([[west, south], [east, south], [east, north], [west, north], [west, south]])
}

pub fn field(number: usize) -> Value {
    json!({
        "uid": format!("field-{number}"), "label": format!("Field {number}"),
        "home": {"uid": format!("farm-{}", number % 2)}, "size": 39.5,
        "shape": {"type": "Polygon", "coordinates": [ring(number)]}
    })
}

impl Land {
    /// Two farms of one owner, with so many fields.
    pub fn with(fields: usize) -> Self {
        let farm = |number: usize| {
            json!({
                "uid": format!("farm-{number}"), "label": format!("Farm {number}"),
                "owner": {"id": 17, "name": "Orla Venn"}
            })
        };
        Self {
            farms: vec![farm(0), farm(1)],
            fields: (0..fields).map(field).collect(),
            page_size: 4,
            versions: false,
        }
    }

    /// A page, as the address of the next in it has it.
    pub fn answer(&self, asked: &Asked) -> HttpResponse {
        let rows = match asked.path.as_str() {
            "/api/farms" => &self.farms,
            "/api/fields" => &self.fields,
            _ => return HttpResponse::NotFound().json(json!({"error": "nothing here"})),
        };
        let page: usize = asked.query.get("page").map_or(1, |page| page.parse().expect("a page"));
        let begin = (page - 1) * self.page_size;
        let some: Vec<&Value> = rows.iter().skip(begin).take(self.page_size).collect();
        let is_last = begin + some.len() >= rows.len();
        let next = (!is_last).then(|| format!("{}?page={}", asked.path, page + 1));
        let body = json!({"data": some, "links": {"next": next}});
        if !self.versions {
            return HttpResponse::Ok().json(body);
        }
        let mut hasher = DefaultHasher::new();
        body.to_string().hash(&mut hasher);
        let tag = format!("\"{:x}\"", hasher.finish());
        if asked.header("if-none-match") == tag {
            return HttpResponse::NotModified().insert_header(("etag", tag)).finish();
        }
        HttpResponse::Ok().insert_header(("etag", tag)).json(body)
    }
}

/// A system that holds this land, which can be changed under it.
pub async fn system_of(land: Land) -> (StandIn, Arc<Mutex<Land>>) {
    let land = Arc::new(Mutex::new(land));
    let shared = land.clone();
    let system = StandIn::start(move |asked| shared.lock().expect("a lock").answer(asked)).await;
    (system, land)
}

/// A link that reads it.
pub fn link_to(system: &StandIn) -> Value {
    json!({
        "name": "Land", "system": "land", "base_url": format!("{}/api", system.base),
        "auth": {"kind": "none"}, "paging": {"kind": "next_url", "pointer": "/links/next"},
        "resources": {
            "growers": {"path": "/farms", "items": "$.data[*].owner", "id": "/id", "name": "/name"},
            "farms": {
                "path": "/farms", "items": "$.data[*]", "id": "/uid", "name": "/label",
                "parent": "/owner/id"
            },
            "fields": {
                "path": "/fields", "items": "$.data[*]", "id": "/uid", "name": "/label",
                "parent": "/home/uid", "area": {"pointer": "/size", "unit": "[acr_us]"},
                "boundary": {"pointer": "/shape", "encoding": "geojson"}
            }
        }
    })
}
