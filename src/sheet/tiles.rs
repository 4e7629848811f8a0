//! A drawing that is larger than a sheet of paper, on several sheets to be trimmed and joined.

use super::drawing::{Drawing, MM, Mark, Point, Shade, Stroke, at};
use super::font::Face;
use super::pages::Paper;
use super::plain::Plain;

/// What is printed of the neighbouring sheets on each side: it is trimmed off, or glued under.
const OVERLAP: f32 = 12.0 * MM;

/// The type that says which sheet it is.
const SIZE: f32 = 9.0;

/// Returns a drawing on sheets of this paper, row by row, at its own size; upright or across, whichever takes fewer.
///
/// Each sheet goes on for 12 mm beyond what is its own on every side; corners mark where it is trimmed. In its lower
/// left corner stands its row and column.
pub fn tiles(drawing: &Drawing, paper: Paper) -> Vec<Drawing> {
    let (width, height) = paper.size();
    let grid = |(width, height): (f32, f32)| {
        let across = (drawing.width / (width - 2.0 * OVERLAP)).ceil().max(1.0) as usize;
        (across, (drawing.height / (height - 2.0 * OVERLAP)).ceil().max(1.0) as usize, (width, height))
    };
    let (upright, across) = (grid((width, height)), grid((height, width)));
    let (columns, rows, size) = if across.0 * across.1 < upright.0 * upright.1 { across } else { upright };
    let places = (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column)));
    places.map(|place| tile(drawing, place, (rows, columns), size)).collect()
}

fn tile(
    drawing: &Drawing,
    (row, column): (usize, usize),
    (rows, columns): (usize, usize),
    (width, height): (f32, f32),
) -> Drawing {
    let own = (width - 2.0 * OVERLAP, height - 2.0 * OVERLAP);
    let (x, y) = (OVERLAP - column as f32 * own.0, OVERLAP - row as f32 * own.1);
    let mut marks: Vec<Mark> = Vec::new();
    for mark in &drawing.marks {
        let mut mark = mark.clone();
        mark.shift(x, y);
        if is_on(&mark, width, height) {
            marks.push(mark);
        }
    }
    marks.extend(corners(own));
    let said = format!("row {} of {rows}, column {} of {columns} · {}", row + 1, column + 1, drawing.title);
    let (left, base) = (OVERLAP, height - OVERLAP / 3.0);
    let ground = (Face::Regular.width(&said, SIZE) + SIZE, SIZE * 1.6);
    marks.push(Mark::rectangle(at(left - SIZE / 2.0, base - SIZE * 1.2), ground, Some(Shade::White), None));
    marks.push(Mark::words(at(left, base), SIZE, Face::Regular, &said));
    Drawing { width, height, title: Plain::new(&said), marks }
}

/// Returns the marks by which a sheet is trimmed: a short line beyond each corner of what is its own.
fn corners((width, height): (f32, f32)) -> impl Iterator<Item = Mark> {
    let line = |points: [Point; 2]| Mark::Line { points: points.to_vec(), stroke: Stroke::black(0.5) };
    let ends = [(OVERLAP, -1.0), (OVERLAP + width, 1.0)];
    let sides = [(OVERLAP, -1.0), (OVERLAP + height, 1.0)];
    ends.into_iter().flat_map(move |(x, out_x)| {
        sides.into_iter().flat_map(move |(y, out_y)| {
            let far = OVERLAP * 0.8;
            [
                line([at(x, y + 3.0 * out_y), at(x, y + far * out_y)]),
                line([at(x + 3.0 * out_x, y), at(x + far * out_x, y)]),
            ]
        })
    })
}

/// Tells whether some of a mark can be seen on a sheet of this size.
fn is_on(mark: &Mark, width: f32, height: f32) -> bool {
    let meets =
        |left: f32, top: f32, right: f32, bottom: f32| right >= 0.0 && bottom >= 0.0 && left <= width && top <= height;
    match mark {
        Mark::Words { at, size, face, words } => {
            meets(at.x, at.y - size, at.x + face.width(words.as_str(), *size), at.y + size / 2.0)
        }
        Mark::Line { points, .. } | Mark::Shape { points, .. } => {
            let all = |of: fn(&Point) -> f32| {
                let values = || points.iter().map(of);
                (values().fold(f32::INFINITY, f32::min), values().fold(f32::NEG_INFINITY, f32::max))
            };
            let ((left, right), (top, bottom)) = (all(|point| point.x), all(|point| point.y));
            meets(left, top, right, bottom)
        }
        Mark::Circle { centre, radius, .. } => {
            meets(centre.x - radius, centre.y - radius, centre.x + radius, centre.y + radius)
        }
        Mark::Group { marks, .. } => marks.iter().any(|mark| is_on(mark, width, height)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawing(width: f32, height: f32) -> Drawing {
        let circle =
            |x, y| Mark::Circle { centre: at(x, y), radius: 3.0, fill: None, stroke: Some(Stroke::black(1.0)) };
        let marks = (0..20).flat_map(|n| (0..20).map(move |m| (n, m)));
        let marks = marks.map(|(n, m)| circle(width * n as f32 / 20.0, height * m as f32 / 20.0)).collect();
        Drawing { width, height, title: Plain::new("Chart"), marks }
    }

    fn circles(tile: &Drawing) -> impl Iterator<Item = Point> {
        tile.marks.iter().filter_map(|mark| if let Mark::Circle { centre, .. } = mark { Some(*centre) } else { None })
    }

    #[test]
    fn every_mark_is_on_the_sheet_that_it_belongs_to_and_in_its_place() {
        let whole = drawing(2_000.0, 1_500.0);
        let tiles = tiles(&whole, Paper::A4);
        let (width, height) = (tiles[0].width, tiles[0].height);
        let columns = (2_000.0 / (width - 2.0 * OVERLAP)).ceil() as usize;
        let mut own = 0;
        for (n, tile) in tiles.iter().enumerate() {
            assert_eq!((tile.width, tile.height), (width, height), "one size of paper");
            let (row, column) = (n / columns, n % columns);
            let back = |centre: Point| {
                at(
                    centre.x - OVERLAP + column as f32 * (width - 2.0 * OVERLAP),
                    centre.y - OVERLAP + row as f32 * (height - 2.0 * OVERLAP),
                )
            };
            for centre in circles(tile) {
                let place = back(centre);
                let is_there = |point: Point| (point.x - place.x).abs() < 0.01 && (point.y - place.y).abs() < 0.01;
                assert!(circles(&whole).any(is_there), "{place:?} is no place of the drawing's");
                let inside = |at: f32, all: f32| (OVERLAP - 0.001..all - OVERLAP - 0.001).contains(&at);
                own += usize::from(inside(centre.x, width) && inside(centre.y, height));
            }
        }
        assert_eq!(own, 400, "each mark is one sheet's own");
    }

    #[test]
    fn the_paper_is_laid_the_way_that_takes_fewer_sheets() {
        let wide = tiles(&drawing(750.0, 500.0), Paper::A4);
        assert_eq!(wide.len(), 1);
        assert!(wide[0].width > wide[0].height);
        let tall = tiles(&drawing(500.0, 750.0), Paper::Letter);
        assert_eq!(tall.len(), if tall[0].width < tall[0].height { tall.len() } else { 0 });
    }
}
