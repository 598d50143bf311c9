//! The files of a zip of task data, as far as they are read.

use std::io::{Cursor, Read};

use zip::ZipArchive;

use super::declared::declared;
use super::read::TaskFiles;
use crate::exchange::files::decode::decode;
use crate::http::BadMember;

/// Most files of a zip.
const MOST_FILES: usize = 2_000;

/// Task data of a zip: `TASKDATA.XML` in any folder, in capitals or not, and `LINKLIST.XML` beside it.
///
/// # Errors
/// When it is no zip, has no task file, or a file in it has more than `most` bytes.
pub fn unpack(bytes: &[u8], most: usize) -> Result<TaskFiles, BadMember> {
    let mut archive =
        ZipArchive::new(Cursor::new(bytes)).map_err(|error| no_zip(&error.to_string()))?;
    if archive.len() > MOST_FILES {
        return Err(BadMember::new("", "The zip holds too many files.")
            .given(archive.len())
            .allowed(format!("at most {MOST_FILES}")));
    }
    let tasks = text(&mut archive, "TASKDATA.XML", most)?;
    let links = text(&mut archive, "LINKLIST.XML", most)?;
    let tasks = tasks.ok_or_else(|| {
        BadMember::new("", "The zip holds no task data.").allowed("a file TASKDATA.XML")
    })?;
    Ok(TaskFiles { tasks, links })
}

fn no_zip(why: &str) -> BadMember {
    BadMember::new("", "The file is no zip that can be read.").why(why)
}

/// A file of a zip. It is read no further than allowed, whatever the zip says of its size.
fn text(
    archive: &mut ZipArchive<Cursor<&[u8]>>,
    wanted: &str,
    most: usize,
) -> Result<Option<String>, BadMember> {
    let mut place = None;
    for at in 0..archive.len() {
        let file = archive.by_index(at).map_err(|error| no_zip(&error.to_string()))?;
        let name = file.name().map_err(|error| no_zip(&error.to_string()))?;
        let last = name.rsplit(['/', '\\']).next().unwrap_or_default().to_owned();
        if last.eq_ignore_ascii_case(wanted) {
            place = Some(at);
            break;
        }
    }
    let Some(at) = place else { return Ok(None) };
    let file = archive.by_index(at).map_err(|error| no_zip(&error.to_string()))?;
    let mut bytes = Vec::new();
    let limit = u64::try_from(most).unwrap_or(u64::MAX).saturating_add(1);
    file.take(limit).read_to_end(&mut bytes).map_err(|error| no_zip(&error.to_string()))?;
    if bytes.len() > most {
        return Err(BadMember::new("", format!("{wanted} is too large."))
            .allowed(format!("at most {most} bytes, unpacked")));
    }
    decode(&bytes, declared(&bytes).as_deref()).map(|it| Some(it.text))
}
