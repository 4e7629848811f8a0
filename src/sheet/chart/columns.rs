//! Panels set in columns, so that the whole is about as wide to its height as a large sheet on its side.

use crate::sheet::drawing::{Point, at};

/// How wide a sheet of the A sizes is to its height.
const RATIO: f32 = std::f32::consts::SQRT_2;

/// Between two panels of a column.
pub(super) const BETWEEN: f32 = 6.0;

/// Between two columns.
const ASIDE: f32 = 16.0;

/// Returns the corner of each panel, which column it is in, and the size of the whole.
pub(super) fn set(sizes: &[(f32, f32)]) -> (Vec<(usize, Point)>, (f32, f32)) {
    let tried = (1..=sizes.len().min(200)).map(|columns| filled(sizes, lowest(sizes, columns)));
    let far = |(_, (width, height)): &(Vec<(usize, Point)>, (f32, f32))| (width / height / RATIO).ln().abs();
    tried.min_by(|a, b| far(a).total_cmp(&far(b))).unwrap_or_default()
}

/// Returns the least height in which panels fit into so many columns.
fn lowest(sizes: &[(f32, f32)], columns: usize) -> f32 {
    let tallest = sizes.iter().map(|size| size.1).fold(0.0, f32::max);
    let all: f32 = sizes.iter().map(|size| size.1 + BETWEEN).sum();
    let (mut low, mut high) = (tallest, all.max(tallest));
    while high - low > 1.0 {
        let height = (low + high) / 2.0;
        if filled(sizes, height).0.last().is_none_or(|last| last.0 < columns) { high = height } else { low = height }
    }
    high
}

/// Fills columns of this height from the top, one after the other.
fn filled(sizes: &[(f32, f32)], height: f32) -> (Vec<(usize, Point)>, (f32, f32)) {
    let (mut column, mut corner, mut wide, mut deepest) = (0, at(0.0, 0.0), 0.0_f32, 0.0_f32);
    let mut corners = Vec::new();
    for (width, tall) in sizes {
        if corner.y > 0.0 && corner.y + tall > height {
            column += 1;
            corner = at(corner.x + wide + ASIDE, 0.0);
            wide = 0.0;
        }
        corners.push((column, corner));
        wide = wide.max(*width);
        deepest = deepest.max(corner.y + tall);
        corner.y += tall + BETWEEN;
    }
    (corners, (corner.x + wide, deepest))
}
