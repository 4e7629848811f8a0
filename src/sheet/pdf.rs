//! Pages as PDF: fonts embedded, text that can be selected in the order it is read, bookmarks, and jumps that lead.

use std::collections::HashMap;
use std::fmt;
use std::ops::Range;

use krilla::Document;
use krilla::annotation::{LinkAnnotation, Target};
use krilla::color::luma;
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Rect};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, StrokeDash};
use krilla::surface::{Location, Surface};
use krilla::text::{Glyph as PdfGlyph, GlyphId};

use super::drawing::{Drawing, Mark, Point, Shade, Stroke};
use super::font::{Face, Font};
use super::model::Sheet;
use super::pages::{Link, Pages};
use super::plain::Plain;

/// Four Bézier curves make a circle when their handles are this part of the radius long, to 0.03 %.
const HANDLE: f32 = 0.552_284_8;

/// Why there is no PDF.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PdfError(String);

impl fmt::Display for PdfError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the PDF could not be made: {}", self.0)
    }
}

impl std::error::Error for PdfError {}

/// Returns a sheet that is set on pages as a PDF document.
///
/// The same pages give the same bytes.
///
/// # Errors
///
/// Returns an error where a font or a page cannot be written, which none of ours is known to do.
pub fn render(sheet: &Sheet, pages: &Pages) -> Result<Vec<u8>, PdfError> {
    let title = format!("{}: {}", sheet.title, sheet.name);
    let mut paper = Press::new(&title)?;
    for page in &pages.pages {
        paper.page(&page.drawing, &page.links, &|step| destination(pages, step))?;
    }
    let mut outline = Outline::new();
    for bookmark in &pages.bookmarks {
        let place = XyzDestination::new(bookmark.page, krilla::geom::Point::from_xy(0.0, bookmark.y));
        outline.push_child(OutlineNode::new(bookmark.title.as_str().to_owned(), place));
    }
    paper.document.set_outline(outline);
    paper.finish()
}

/// Returns one drawing as a PDF document of one page of its size.
///
/// # Errors
///
/// As [`render`].
pub fn drawing(drawing: &Drawing) -> Result<Vec<u8>, PdfError> {
    drawings(drawing.title.as_str(), std::slice::from_ref(drawing))
}

/// Returns drawings as a PDF document with this title, a page for each of its size.
///
/// # Errors
///
/// As [`render`].
pub fn drawings(title: &str, drawings: &[Drawing]) -> Result<Vec<u8>, PdfError> {
    let mut paper = Press::new(&Plain::new(title).to_string())?;
    for drawing in drawings {
        paper.page(drawing, &[], &|_| None)?;
    }
    paper.finish()
}

fn destination(pages: &Pages, step: usize) -> Option<XyzDestination> {
    let page = pages.page_of_step.get(&step)?.checked_sub(1)?;
    let (_, y) = pages.pages.get(page)?.steps.iter().find(|(number, _)| *number == step)?;
    Some(XyzDestination::new(page, krilla::geom::Point::from_xy(0.0, *y)))
}

/// A document that is being made.
struct Press {
    document: Document,
    fonts: HashMap<Font, krilla::text::Font>,
}

impl Press {
    fn new(title: &str) -> Result<Press, PdfError> {
        let mut fonts = HashMap::new();
        for font in Font::ALL {
            let read = krilla::text::Font::new(font.bytes().into(), 0);
            fonts.insert(font, read.ok_or_else(|| PdfError(format!("{font:?} is not a font")))?);
        }
        let mut document = Document::new();
        let named = Metadata::new().title(title.to_owned()).language("en".to_owned()).creator("stepjig".to_owned());
        document.set_metadata(named);
        Ok(Press { document, fonts })
    }

    fn page(
        &mut self,
        drawing: &Drawing,
        links: &[Link],
        place: &dyn Fn(usize) -> Option<XyzDestination>,
    ) -> Result<(), PdfError> {
        let size = PageSettings::from_wh(drawing.width, drawing.height);
        let size = size.ok_or_else(|| PdfError(format!("a page of {} by {}", drawing.width, drawing.height)))?;
        let mut page = self.document.start_page_with(size);
        let mut surface = page.surface();
        drawing.marks.iter().for_each(|mark| show(&mut surface, mark, &self.fonts));
        surface.finish();
        for link in links {
            let area = Rect::from_xywh(link.x, link.y, link.width, link.height);
            if let (Some(area), Some(place)) = (area, place(link.step)) {
                page.add_annotation(LinkAnnotation::new(area, Target::Destination(place.into())).into());
            }
        }
        page.finish();
        Ok(())
    }

    fn finish(self) -> Result<Vec<u8>, PdfError> {
        self.document.finish().map_err(|wrong| PdfError(format!("{wrong:?}")))
    }
}

fn show(surface: &mut Surface, mark: &Mark, fonts: &HashMap<Font, krilla::text::Font>) {
    match mark {
        Mark::Words { at, size, face, words } => write(surface, (*at, *size), *face, words, fonts),
        Mark::Line { points, stroke } => draw(surface, path(points, false), None, Some(*stroke)),
        Mark::Shape { points, fill, stroke } => draw(surface, path(points, true), *fill, *stroke),
        Mark::Group { marks, .. } => marks.iter().for_each(|mark| show(surface, mark, fonts)),
        Mark::Circle { centre, radius, fill, stroke } => draw(surface, circle(*centre, *radius), *fill, *stroke),
    }
}

fn draw(surface: &mut Surface, path: Option<Path>, fill: Option<Shade>, stroke: Option<Stroke>) {
    let Some(path) = path else { return };
    surface.set_fill(fill.map(|shade| Fill { paint: grey(shade).into(), ..Fill::default() }));
    surface.set_stroke(stroke.map(|stroke| krilla::paint::Stroke {
        paint: grey(stroke.shade).into(),
        width: stroke.width,
        dash: stroke.dashed.then(|| StrokeDash { array: vec![4.0, 3.0], offset: 0.0 }),
        ..krilla::paint::Stroke::default()
    }));
    surface.draw_path(&path);
}

fn grey(shade: Shade) -> luma::Color {
    luma::Color::new(match shade {
        Shade::Black => 0,
        Shade::Grey => 0x66,
        Shade::Pale => 0xee,
        Shade::White => 0xff,
    })
}

fn path(points: &[Point], closed: bool) -> Option<Path> {
    let (first, others) = points.split_first()?;
    let mut path = PathBuilder::new();
    path.move_to(first.x, first.y);
    others.iter().for_each(|point| path.line_to(point.x, point.y));
    if closed {
        path.close();
    }
    path.finish()
}

fn circle(centre: Point, radius: f32) -> Option<Path> {
    let (x, y, handle) = (centre.x, centre.y, radius * HANDLE);
    let mut path = PathBuilder::new();
    path.move_to(x + radius, y);
    path.cubic_to(x + radius, y + handle, x + handle, y + radius, x, y + radius);
    path.cubic_to(x - handle, y + radius, x - radius, y + handle, x - radius, y);
    path.cubic_to(x - radius, y - handle, x - handle, y - radius, x, y - radius);
    path.cubic_to(x + handle, y - radius, x + radius, y - handle, x + radius, y);
    path.close();
    path.finish()
}

/// A glyph with its place in the text that it shows, so that the text can be selected and searched.
struct Placed {
    id: GlyphId,
    advance: f32,
    text: Range<usize>,
}

impl PdfGlyph for Placed {
    fn glyph_id(&self) -> GlyphId {
        self.id
    }

    fn text_range(&self) -> Range<usize> {
        self.text.clone()
    }

    fn x_advance(&self, size: f32) -> f32 {
        self.advance * size
    }

    fn x_offset(&self, _size: f32) -> f32 {
        0.0
    }

    fn y_offset(&self, _size: f32) -> f32 {
        0.0
    }

    fn y_advance(&self, _size: f32) -> f32 {
        0.0
    }

    fn location(&self) -> Option<Location> {
        None
    }
}

fn write(
    surface: &mut Surface,
    (from, size): (Point, f32),
    face: Face,
    words: &Plain,
    fonts: &HashMap<Font, krilla::text::Font>,
) {
    let text = words.as_str();
    let mut runs: Vec<(Font, Vec<Placed>)> = Vec::new();
    for (at, character) in text.char_indices() {
        let glyph = face.glyph(character);
        let placed = Placed { id: GlyphId::new(glyph.id), advance: glyph.advance, text: at..at + character.len_utf8() };
        match runs.last_mut() {
            Some((font, run)) if *font == glyph.font => run.push(placed),
            _ => runs.push((glyph.font, vec![placed])),
        }
    }
    surface.set_fill(Some(Fill { paint: grey(Shade::Black).into(), ..Fill::default() }));
    surface.set_stroke(None);
    let mut x = from.x;
    for (font, run) in runs {
        if let Some(font) = fonts.get(&font) {
            surface.draw_glyphs(krilla::geom::Point::from_xy(x, from.y), &run, font.clone(), text, size, false);
        }
        x += run.iter().map(|glyph| glyph.advance).sum::<f32>() * size;
    }
}
