//! Pages for people. They use the API as any other program does; `api/src/reports` has the papers.

pub(crate) mod go;
