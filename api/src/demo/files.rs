//! The demo's own database files, and nothing else.

use std::path::{Path, PathBuf};

use super::error::{DemoError, Result};
use crate::config::{DatabaseUrl, Settings};

/// What SQLite keeps beside a database.
const BESIDE: [&str; 3] = ["", "-wal", "-shm"];

/// Settings on a fresh database of this name in a folder. An older one of the same name is
/// replaced; nothing else in the folder is touched.
pub(super) fn fresh(dir: &Path, name: &str) -> Result<Settings> {
    std::fs::create_dir_all(dir)
        .map_err(|source| DemoError::Files { path: dir.to_owned(), source })?;
    for ending in BESIDE {
        remove(dir.join(format!("{name}{ending}")))?;
    }
    let path = dir.join(name);
    let url: DatabaseUrl = format!("sqlite://{}", path.display()).parse().map_err(|_unknown| {
        DemoError::Files { path, source: std::io::ErrorKind::InvalidInput.into() }
    })?;
    Ok(Settings::on(url))
}

fn remove(path: PathBuf) -> Result<()> {
    match std::fs::remove_file(&path) {
        Ok(()) => Ok(()),
        Err(source) if source.kind() == std::io::ErrorKind::NotFound => Ok(()),
        Err(source) => Err(DemoError::Files { path, source }),
    }
}

#[cfg(test)]
mod tests {
    use super::fresh;

    #[test]
    fn only_the_files_of_the_demo_are_replaced() {
        let dir = std::env::temp_dir().join(format!("dibble-files-{}", std::process::id()));
        std::fs::create_dir_all(&dir).expect("folder");
        for name in ["demo.sqlite", "demo.sqlite-wal", "other.sqlite", "demo.sqlite.bak"] {
            std::fs::write(dir.join(name), "x").expect("file");
        }
        let settings = fresh(&dir, "demo.sqlite").expect("fresh");
        assert!(settings.database_url.sqlite_path().is_some_and(|p| p.ends_with("demo.sqlite")));
        assert!(!dir.join("demo.sqlite").exists() && !dir.join("demo.sqlite-wal").exists());
        assert!(dir.join("other.sqlite").exists() && dir.join("demo.sqlite.bak").exists());
        std::fs::remove_dir_all(&dir).expect("clean");
    }
}
