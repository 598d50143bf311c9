//! Our objects in the form that a receiver reads. Everything is made from what is stored and nothing is
//! stored: ADAPT data sets, ISO 11783-10 task data, GeoJSON. What each form can carry of a settings sheet
//! stands in one table, `carried`.

pub mod adapt;
pub mod answer;
pub mod carried;
pub mod external;
pub mod facts;
pub mod geojson;
pub mod rings;
pub mod settings;
pub mod task_data;
