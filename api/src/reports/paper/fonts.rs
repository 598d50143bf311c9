//! The letters of printed pages: two faces that come with the binary, so that a page looks the
//! same everywhere and its text can be selected.

use krilla::text::{Font, GlyphId, KrillaGlyph};
use ttf_parser::Face;

use super::error::PaperError;

const REGULAR: &[u8] = include_bytes!("fonts/LiberationSans-Regular.ttf");
const BOLD: &[u8] = include_bytes!("fonts/LiberationSans-Bold.ttf");

/// Written for a letter that the faces lack.
const UNKNOWN: char = '?';

/// Both faces.
pub(super) struct Faces {
    regular: Letters,
    bold: Letters,
}

/// One face, to measure and to write with.
pub(super) struct Letters {
    face: Face<'static>,
    font: Font,
    unit: f32,
}

impl Faces {
    pub(super) fn load() -> Result<Self, PaperError> {
        Ok(Self { regular: Letters::load(REGULAR)?, bold: Letters::load(BOLD)? })
    }

    pub(super) fn of(&self, bold: bool) -> &Letters {
        if bold { &self.bold } else { &self.regular }
    }
}

impl Letters {
    fn load(bytes: &'static [u8]) -> Result<Self, PaperError> {
        let face = Face::parse(bytes, 0).map_err(|broken| PaperError::Face(broken.to_string()))?;
        let font = Font::new(bytes.into(), 0)
            .ok_or_else(|| PaperError::Face("the face can't be embedded".to_owned()))?;
        let unit = f32::from(face.units_per_em());
        Ok(Self { face, font, unit })
    }

    pub(super) fn font(&self) -> Font {
        self.font.clone()
    }

    /// How far a letter reaches, as a share of its size.
    fn advance(&self, letter: char) -> (u16, f32) {
        let glyph = self.face.glyph_index(letter).unwrap_or_default();
        let wide = self.face.glyph_hor_advance(glyph).unwrap_or_default();
        (glyph.0, f32::from(wide) / self.unit)
    }

    /// How wide a text of this size is.
    pub(super) fn width(&self, text: &str, size: f32) -> f32 {
        text.chars().map(|letter| self.advance(letter).1).sum::<f32>() * size
    }

    /// The text as it is drawn.
    pub(super) fn glyphs(&self, text: &str) -> Vec<KrillaGlyph> {
        text.char_indices()
            .map(|(at, letter)| {
                let (glyph, wide) = self.advance(letter);
                let range = at..at + letter.len_utf8();
                let id = GlyphId::new(u32::from(glyph));
                KrillaGlyph::new(id, wide, 0.0, 0.0, 0.0, range, None)
            })
            .collect()
    }

    /// The text with only letters that this face has.
    pub(super) fn legible(&self, text: &str) -> String {
        let known = |letter: char| self.face.glyph_index(letter).is_some();
        text.chars().map(|letter| if known(letter) { letter } else { UNKNOWN }).collect()
    }
}
