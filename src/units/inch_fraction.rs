//! Inch fractions: halves to 64ths, as rules and drills are marked.

/// The lower numbers that rules, drills and dials carry: binary fractions, and tenths to thousandths.
const MARKED: [u32; 10] = [2, 4, 8, 16, 32, 64, 128, 10, 100, 1_000];

/// Tells whether an inch is ever divided so.
pub(super) fn is_marked(lower: f64) -> bool {
    MARKED.iter().any(|&marked| f64::from(marked) == lower)
}

/// Returns the one lower number, to 64, that is a slip of the fingers away from a wrong one and leaves less than an
/// inch over.
pub(super) fn slip_of(upper: f64, lower: f64) -> Option<u32> {
    let typed = lower.to_string();
    let near = |&&marked: &&u32| upper < f64::from(marked) && strsim::osa_distance(&typed, &marked.to_string()) == 1;
    let mut found = MARKED[..6].iter().filter(near);
    match (found.next(), found.next()) {
        (Some(&marked), None) => Some(marked),
        _ => None,
    }
}

/// Returns how many 64ths of an inch are nearest to a length in millimetres; halfway goes up.
pub(super) fn nearest_64ths(mm: f64) -> u32 {
    // The widest length is 10 m, about 25 200 64ths, so the number fits.
    (mm * 640.0 / 254.0).round() as u32
}

/// Returns so many 64ths of an inch in millimetres, rounded once.
pub(super) fn in_mm(n_64ths: u32) -> f64 {
    f64::from(n_64ths) * 254.0 / 640.0
}

/// Returns so many 64ths reduced: `13/32`, `1 1/2`, `2`; the space does not break.
pub(super) fn text(n_64ths: u32) -> String {
    let (whole, rest) = (n_64ths / 64, n_64ths % 64);
    if rest == 0 {
        return whole.to_string();
    }
    let halvings = rest.trailing_zeros();
    let fraction = format!("{}/{}", rest >> halvings, 64 >> halvings);
    if whole == 0 { fraction } else { format!("{whole}\u{a0}{fraction}") }
}
