//! Paper: a page's own markup as PDF, in this process.
//!
//! One source for screen and paper: what the HTML page says is what the PDF says. It knows the
//! elements, classes and drawings that our pages use (`look.rs`), no more. The document is tagged,
//! has an outline and embedded letters, and is held against PDF/UA-1 while it is written.

mod boxes;
mod drawing;
mod error;
mod fonts;
mod list;
mod look;
mod marks;
mod pages;
mod press;
mod table;
mod tags;
#[cfg(test)]
mod tests;
mod text;
mod write;

pub use self::error::PaperError;
pub use self::look::Style;

use self::fonts::Faces;
use self::look::Look;
use self::pages::Page;
use self::press::{Place, Press};
use self::tags::Parts;

/// A sheet of paper, in points.
#[derive(Debug, Clone, Copy)]
pub struct Sheet {
    width: f32,
    height: f32,
    margin: f32,
    /// Kept free for the foot of each page.
    foot: f32,
}

impl Sheet {
    /// ISO A4.
    pub const A4: Self = Self { width: 595.276, height: 841.89, margin: 42.0, foot: 18.0 };
    /// US Letter.
    pub const LETTER: Self = Self { width: 612.0, height: 792.0, margin: 42.0, foot: 18.0 };

    /// Without a foot and with narrow margins, for what must fit on one page.
    #[must_use]
    pub fn bare(self) -> Self {
        Self { margin: 26.0, foot: 0.0, ..self }
    }
}

/// What the document says of itself.
#[derive(Debug, Clone)]
pub struct About {
    /// Its title.
    pub title: String,
    /// The practice that gives it out.
    pub author: String,
    /// What stands at the foot of each page.
    pub foot: String,
    /// Year, month and day on which it was made.
    pub made_on: Option<(u16, u8, u8)>,
}

/// A document and how many pages it has.
#[derive(Debug)]
pub struct Printed {
    /// The PDF.
    pub pdf: Vec<u8>,
    /// Pages.
    pub pages: usize,
}

/// How many pages a `body` element would take.
///
/// # Errors
/// When the markup is not well formed.
pub fn pages_of(body: &str, style: Style, sheet: Sheet) -> Result<usize, PaperError> {
    let faces = Faces::load()?;
    Ok(laid_out(body, style, &sheet, &faces)?.0.len())
}

/// Prints a `body` element.
///
/// # Errors
/// When the markup is not well formed, or the document breaks the standard.
pub fn print(body: &str, style: Style, sheet: Sheet, about: &About) -> Result<Printed, PaperError> {
    let faces = Faces::load()?;
    let (pages, parts) = laid_out(body, style, &sheet, &faces)?;
    let pdf = write::document(&pages, parts, &faces, &sheet, about)?;
    Ok(Printed { pdf, pages: pages.len() })
}

fn laid_out(
    body: &str,
    style: Style,
    sheet: &Sheet,
    faces: &Faces,
) -> Result<(Vec<Page>, Parts), PaperError> {
    let clean: String = body.chars().filter(|it| !it.is_control() || it.is_whitespace()).collect();
    let tree = roxmltree::Document::parse(&clean)?;
    let mut press = Press { faces, style, parts: Parts::default() };
    let place = Place {
        width: sheet.width - 2.0 * sheet.margin,
        look: Look::text(style.size),
        inside: None,
    };
    let pieces = press.inside(tree.root_element(), place)?;
    Ok((pages::pages(pieces, sheet), press.parts))
}
