//! Pages into a document: tagged, with an outline, checked against PDF/UA-1 while it is written.

use krilla::color::rgb;
use krilla::configure::{Accessibility, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::geom::{PathBuilder, Point};
use krilla::metadata::{DateTime, Metadata};
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, Stroke as Pen, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, SpanTag};
use krilla::{Document, SerializeSettings};

use super::error::PaperError;
use super::fonts::Faces;
use super::look::{GREY, Ink};
use super::marks::{Mark, Shape, Step, What};
use super::pages::Page;
use super::tags::{Part, Parts};
use super::{About, Sheet};

/// Size of what stands at the foot of each page, in points.
const SMALL: f32 = 7.6;

pub(super) fn document(
    pages: &[Page],
    parts: Parts,
    faces: &Faces,
    sheet: &Sheet,
    about: &About,
) -> Result<Vec<u8>, PaperError> {
    let mut writer = Writer { faces, parts, outline: Outline::new(), sheet, about };
    let configuration = ConfigurationBuilder::new()
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(|error| PaperError::Document(format!("{error:?}")))?;
    let settings = SerializeSettings { configuration, ..SerializeSettings::default() };
    let mut document = Document::new_with(settings);
    for (number, page) in pages.iter().enumerate() {
        writer.page(&mut document, page, number, pages.len())?;
    }
    document.set_outline(writer.outline);
    document.set_tag_tree(writer.parts.into_tree());
    document.set_metadata(metadata(about));
    document.finish().map_err(|error| PaperError::Document(format!("{error:?}")))
}

fn metadata(about: &About) -> Metadata {
    let made = Metadata::new()
        .title(about.title.clone())
        .authors(vec![about.author.clone()])
        .creator("Dibble".to_owned())
        .language("en".to_owned());
    match about.made_on {
        Some((year, month, day)) => made.creation_date(DateTime::new(year).month(month).day(day)),
        None => made,
    }
}

struct Writer<'w> {
    faces: &'w Faces,
    parts: Parts,
    outline: Outline,
    sheet: &'w Sheet,
    about: &'w About,
}

impl Writer<'_> {
    fn page(
        &mut self,
        document: &mut Document,
        page: &Page,
        number: usize,
        of: usize,
    ) -> Result<(), PaperError> {
        let Sheet { width, height, margin, .. } = *self.sheet;
        let settings = PageSettings::from_wh(width, height)
            .ok_or_else(|| PaperError::Document("a page without a size".to_owned()))?;
        let mut paper = document.start_page_with(settings);
        let mut surface = paper.surface();
        for placed in page {
            let top = margin + placed.top;
            if let Some(words) = &placed.piece.heading {
                let place = XyzDestination::new(number, Point::from_xy(margin, top));
                self.outline.push_child(OutlineNode::new(words.clone(), place));
            }
            self.marks(&mut surface, &placed.piece.marks, top);
        }
        self.foot(&mut surface, number + 1, of);
        surface.finish();
        paper.finish();
        Ok(())
    }

    /// Marks of the same part are one stretch.
    fn marks(&mut self, surface: &mut Surface<'_>, marks: &[Mark], top: f32) {
        for stretch in marks.chunk_by(|a, b| a.part == b.part) {
            let part = stretch.first().and_then(|mark| mark.part);
            let tag = self.tag(part);
            let id = surface.start_tagged(tag);
            for mark in stretch {
                self.draw(surface, &mark.what, self.sheet.margin, top);
            }
            surface.end_tagged();
            if let Some(part) = part {
                self.parts.drawn(part, id);
            }
        }
    }

    fn tag(&self, part: Option<Part>) -> ContentTag<'static> {
        match part {
            None => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)),
            Some(part) if self.parts.is_figure(part) => ContentTag::Other,
            Some(_) => ContentTag::Span(SpanTag::empty()),
        }
    }

    fn draw(&self, surface: &mut Surface<'_>, what: &What, left: f32, top: f32) {
        match what {
            What::Letters { x, base, size, bold, ink, text } => {
                let at = Point::from_xy(left + x, top + base);
                self.letters(surface, at, (*size, *bold, *ink), text);
            }
            What::Shape(shape) => draw_shape(surface, shape, left, top),
        }
    }

    fn letters(&self, surface: &mut Surface<'_>, at: Point, look: (f32, bool, Ink), text: &str) {
        let (size, bold, ink) = look;
        let letters = self.faces.of(bold);
        surface.set_fill(Some(fill(ink)));
        surface.set_stroke(None);
        surface.draw_glyphs(at, &letters.glyphs(text), letters.font(), text, size, false);
    }

    /// Whose page it is, and which of how many.
    fn foot(&self, surface: &mut Surface<'_>, number: usize, of: usize) {
        if self.sheet.foot <= 0.0 {
            return;
        }
        let Sheet { width, height, margin, .. } = *self.sheet;
        let base = height - margin;
        let letters = self.faces.of(false);
        let count = format!("Page {number} of {of}");
        let right = width - margin - letters.width(&count, SMALL);
        surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(ArtifactType::Footer)));
        let words = letters.legible(&self.about.foot);
        self.letters(surface, Point::from_xy(margin, base), (SMALL, false, GREY), &words);
        self.letters(surface, Point::from_xy(right, base), (SMALL, false, GREY), &count);
        surface.end_tagged();
    }
}

fn fill(Ink(red, green, blue): Ink) -> Fill {
    Fill {
        paint: rgb::Color::new(red, green, blue).into(),
        opacity: NormalizedF32::ONE,
        rule: FillRule::default(),
    }
}

fn draw_shape(surface: &mut Surface<'_>, shape: &Shape, left: f32, top: f32) {
    let mut builder = PathBuilder::new();
    for step in &shape.path {
        match step.put(1.0, left, top) {
            Step::Move(x, y) => builder.move_to(x, y),
            Step::Line(x, y) => builder.line_to(x, y),
            Step::Curve(ax, ay, bx, by, x, y) => builder.cubic_to(ax, ay, bx, by, x, y),
            Step::Close => builder.close(),
        }
    }
    surface.set_fill(shape.fill.map(fill));
    surface.set_stroke(shape.stroke.as_ref().map(|stroke| {
        Pen {
            paint: fill(stroke.ink).paint,
            width: stroke.width,
            dash: (!stroke.dashes.is_empty())
                .then(|| StrokeDash { array: stroke.dashes.clone(), offset: 0.0 }),
            ..Pen::default()
        }
    }));
    if let Some(path) = builder.finish().filter(|_| shape.fill.is_some() || shape.stroke.is_some())
    {
        surface.draw_path(&path);
    }
}
