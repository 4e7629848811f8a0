//! A drawing as SVG 1.1: nothing in it acts, nothing is fetched, and words keep their widths in any font.

use std::fmt::Write;

use super::drawing::{Drawing, Mark, Point, Shade, Stroke};
use super::font::Face;
use super::xml::escaped;

/// The fonts that words are measured in, and what looks most like them.
const FAMILY: &str = "Noto Sans, DejaVu Sans, Verdana, Arial, sans-serif";

/// Returns a drawing as an SVG document; its unit is the point.
///
/// Each line of words is set to the width that was measured when it was laid out, so that another font neither clips
/// it nor runs it into its neighbour.
pub fn render(drawing: &Drawing) -> String {
    let mut out = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    out.push_str(&named(drawing, " xmlns=\"http://www.w3.org/2000/svg\""));
    out
}

/// Returns a drawing as an `svg` element, to stand in a page of HTML.
pub fn element(drawing: &Drawing) -> String {
    named(drawing, "")
}

fn named(drawing: &Drawing, namespace: &str) -> String {
    let (width, height) = (Number(drawing.width), Number(drawing.height));
    let mut out = format!(
        "<svg{namespace} width=\"{width}pt\" height=\"{height}pt\" \
         viewBox=\"0 0 {width} {height}\" role=\"img\" font-family=\"{FAMILY}\">\n"
    );
    let _ = writeln!(out, "<title>{}</title>", escaped(drawing.title.as_str()));
    drawing.marks.iter().for_each(|mark| show(&mut out, mark));
    out.push_str("</svg>\n");
    out
}

fn show(out: &mut String, mark: &Mark) {
    let _ = match mark {
        Mark::Words { at, size, face, words } => {
            let weight = if *face == Face::Bold { " font-weight=\"bold\"" } else { "" };
            let length = Number(face.width(words.as_str(), *size));
            writeln!(
                out,
                "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{weight} textLength=\"{length}\" \
                 lengthAdjust=\"spacingAndGlyphs\">{}</text>",
                Number(at.x),
                Number(at.y),
                Number(*size),
                escaped(words.as_str())
            )
        }
        Mark::Line { points, stroke } => {
            let (points, stroke) = (list(points), stroked(Some(*stroke)));
            writeln!(out, "<polyline points=\"{points}\" fill=\"none\"{stroke}/>")
        }
        Mark::Shape { points, fill, stroke } => {
            let (points, fill, stroke) = (list(points), filled(*fill), stroked(*stroke));
            writeln!(out, "<polygon points=\"{points}\"{fill}{stroke}/>")
        }
        Mark::Circle { centre, radius, fill, stroke } => {
            let (x, y, r) = (Number(centre.x), Number(centre.y), Number(*radius));
            let (fill, stroke) = (filled(*fill), stroked(*stroke));
            writeln!(out, "<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\"{fill}{stroke}/>")
        }
        Mark::Group { name, marks } => {
            let _ = writeln!(out, "<g id=\"{}\">", escaped(name));
            marks.iter().for_each(|mark| show(out, mark));
            writeln!(out, "</g>")
        }
    };
}

fn list(points: &[Point]) -> String {
    points.iter().map(|point| format!("{},{}", Number(point.x), Number(point.y))).collect::<Vec<_>>().join(" ")
}

fn filled(shade: Option<Shade>) -> String {
    format!(" fill=\"{}\"", shade.map_or("none", colour))
}

fn stroked(stroke: Option<Stroke>) -> String {
    let Some(stroke) = stroke else { return String::new() };
    let dashes = if stroke.dashed { " stroke-dasharray=\"4 3\"" } else { "" };
    format!(" stroke=\"{}\" stroke-width=\"{}\"{dashes}", colour(stroke.shade), Number(stroke.width))
}

fn colour(shade: Shade) -> &'static str {
    match shade {
        Shade::Black => "#000",
        Shade::Grey => "#666",
        Shade::Pale => "#eee",
        Shade::White => "#fff",
    }
}

/// A number to a hundredth of a point, which no eye can tell from the whole of it.
struct Number(f32);

impl std::fmt::Display for Number {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        // A hair below zero is zero.
        let hundredths = (self.0 * 100.0).round() + 0.0;
        write!(f, "{}", hundredths / 100.0)
    }
}
