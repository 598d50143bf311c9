//! The zip: folder `TASKDATA` with the files, and the notes beside it.

use std::collections::HashMap;
use std::io::{Cursor, Write};

use domain::conditions::Crop;
use uuid::Uuid;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

use super::ddi::{DEPTH, DOWN_FORCE, SPEED};
use super::file::{About, Setpoint, TaskFile};
use super::notes;
use super::query::TaskDataQuery;
use crate::entities::{farms, fields, growers};
use crate::exchange::forms::settings::Settings;
use crate::http::ApiError;

/// What a file is about.
#[derive(Debug)]
pub struct Content {
    /// The grower.
    pub grower: growers::Model,
    /// His farms and their fields.
    pub farms: Vec<(farms::Model, Vec<fields::Model>)>,
    /// Settings sheets of these fields, each a task.
    pub sheets: Vec<Sheet>,
}

/// A settings sheet that becomes a task.
#[derive(Debug)]
pub struct Sheet {
    /// Its id.
    pub id: Uuid,
    /// Its revision.
    pub revision: i32,
    /// Its field.
    pub field_id: Uuid,
    /// Name of the planter.
    pub planter: String,
    /// Its figures.
    pub settings: Settings,
    /// What it says in words.
    pub said: Vec<String>,
}

/// Ids in the file of a field that was written.
struct Place {
    farm: String,
    field: String,
    name: String,
}

/// The task data.
///
/// # Errors
/// When what is stored can't be read.
pub fn pack(content: &Content, asked: TaskDataQuery) -> Result<Vec<u8>, ApiError> {
    let mut file = TaskFile::new(asked.version.unwrap_or_default())?;
    let customer = file.customer(&content.grower)?;
    let crops = crops(&content.sheets);
    let mut places: HashMap<Uuid, Place> = HashMap::new();
    for (farm, fields) in &content.farms {
        let farm = file.farm(farm, &customer)?;
        for row in fields {
            let crop = crops.get(&row.id).copied().flatten();
            let field = file.field(row, (&customer, &farm), crop)?;
            let place = Place { farm: farm.clone(), field, name: row.name.clone() };
            places.insert(row.id, place);
        }
    }
    let mut text = notes::head(&content.grower.name);
    for sheet in &content.sheets {
        let Some(place) = places.get(&sheet.field_id) else { continue };
        let setpoints = setpoints(&mut file, &sheet.settings, asked)?;
        let about = About { customer: &customer, farm: &place.farm, field: &place.field };
        file.task((sheet.id, &format!("Plant {}", place.name)), &about, &setpoints)?;
        text.push_str(&notes::of_sheet(sheet, &place.name, &setpoints));
    }
    let written = file.finish()?;
    text.push_str(&notes::of_names(&written.names));
    let mut files = vec![("TASKDATA/TASKDATA.XML", written.tasks)];
    files.extend(written.links.map(|links| ("TASKDATA/LINKLIST.XML", links)));
    files.push(("NOTES.txt", text.into_bytes()));
    zipped(&files)
}

/// The crop of each field; none where two sheets do not agree, since a field has one here.
fn crops(sheets: &[Sheet]) -> HashMap<Uuid, Option<Crop>> {
    let mut crops: HashMap<Uuid, Option<Crop>> = HashMap::new();
    for Sheet { field_id, settings, .. } in sheets {
        let known = crops.entry(*field_id).or_insert(Some(settings.crop));
        *known = known.filter(|crop| *crop == settings.crop);
    }
    crops
}

fn setpoints(
    file: &mut TaskFile,
    settings: &Settings,
    asked: TaskDataQuery,
) -> Result<Vec<Setpoint>, ApiError> {
    let mut setpoints = Vec::new();
    setpoints.extend(file.seed(settings.crop, settings.seeds)?);
    setpoints.extend(file.liquid(settings.liquid)?);
    setpoints.extend(Setpoint::asked(DEPTH, asked.depth_setpoint, settings.depth));
    setpoints.extend(Setpoint::asked(DOWN_FORCE, asked.down_force_setpoint, settings.down_force));
    setpoints.extend(Setpoint::asked(SPEED, asked.speed_setpoint, settings.speed));
    Ok(setpoints)
}

/// The same files make the same bytes: no time of the day goes in.
fn zipped(files: &[(&str, Vec<u8>)]) -> Result<Vec<u8>, ApiError> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default().compression_method(CompressionMethod::Deflated);
    for (name, content) in files {
        zip.start_file(*name, options).map_err(ApiError::internal)?;
        zip.write_all(content).map_err(ApiError::internal)?;
    }
    Ok(zip.finish().map_err(ApiError::internal)?.into_inner())
}
