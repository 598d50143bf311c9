//! The key in a file beside an SQLite database, where the operator gave none.

use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::os::unix::fs::OpenOptionsExt;
use std::path::{Path, PathBuf};

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;

use crate::config::SealingKey;

/// Why the key file is of no use.
#[derive(Debug, thiserror::Error)]
pub enum KeyFileError {
    /// It can't be read or made.
    #[error("the key file {path:?} can't be read or made")]
    File {
        /// The file.
        path: PathBuf,
        /// What the operating system said.
        source: io::Error,
    },
    /// It holds no key.
    #[error("the key file {path:?} holds no key of 32 bytes in base64")]
    NoKey {
        /// The file.
        path: PathBuf,
    },
}

/// The key beside the database at this path, if it is there.
///
/// # Errors
/// When it is there and can't be read.
pub(super) fn read(database: &str) -> Result<Option<SealingKey>, KeyFileError> {
    let path = path_of(database);
    match fs::read_to_string(&path) {
        Ok(text) => text.parse().map(Some).map_err(|_bad| KeyFileError::NoKey { path }),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(source) => Err(KeyFileError::File { path, source }),
    }
}

/// The key beside the database at this path; it is made when it is not there.
///
/// # Errors
/// When it can't be read or made.
pub(super) fn read_or_make(database: &str) -> Result<SealingKey, KeyFileError> {
    if let Some(key) = read(database)? {
        return Ok(key);
    }
    let path = path_of(database);
    let failed = |source| KeyFileError::File { path: path.clone(), source };
    match make(&path) {
        Ok(()) => tracing::info!(file = %path.display(), "a key for secrets was made"),
        // Another process was faster: its key counts.
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
        Err(error) => return Err(failed(error)),
    }
    read(database)?.ok_or_else(|| failed(io::ErrorKind::NotFound.into()))
}

fn path_of(database: &str) -> PathBuf {
    PathBuf::from(format!("{database}.sealing-key"))
}

/// Writes it under another name first, so that nobody reads half of it.
fn make(path: &Path) -> io::Result<()> {
    let bytes: [u8; 32] = rand::random();
    let unfinished = path.with_extension(format!("part-{}", rand::random::<u64>()));
    let mut file = OpenOptions::new().write(true).create_new(true).mode(0o600).open(&unfinished)?;
    file.write_all(format!("{}\n", STANDARD.encode(bytes)).as_bytes())?;
    file.sync_all()?;
    let linked = fs::hard_link(&unfinished, path);
    fs::remove_file(&unfinished)?;
    linked
}

#[cfg(test)]
mod tests {
    use super::{path_of, read, read_or_make};
    use std::os::unix::fs::PermissionsExt;

    #[test]
    fn it_is_made_once_for_its_owner_only() {
        let folder = std::env::temp_dir().join(format!("dibble-key-{}", rand::random::<u64>()));
        std::fs::create_dir_all(&folder).expect("a folder");
        let database = folder.join("d.sqlite").display().to_string();
        assert_eq!(read(&database).expect("read"), None);
        let made = read_or_make(&database).expect("made");
        assert_eq!(read_or_make(&database).expect("read"), made);
        let file = path_of(&database);
        let rights = std::fs::metadata(&file).expect("a file").permissions().mode();
        assert_eq!(rights & 0o777, 0o600);
        assert_eq!(
            std::fs::read_dir(&folder).expect("a folder").count(),
            1,
            "nothing else is left"
        );
        std::fs::write(&file, "no key").expect("written");
        assert!(read_or_make(&database).is_err(), "a broken key is not replaced");
        std::fs::remove_dir_all(folder).expect("removed");
    }
}
