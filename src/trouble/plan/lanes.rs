//! Sums over the causes in four lanes: the next term does not wait for the last.

/// Returns the sum of products.
#[inline]
pub(super) fn dot(one: &[f64], other: &[f64]) -> f64 {
    let (ones, others) = (one.chunks_exact(4), other.chunks_exact(4));
    let rest: f64 = ones.remainder().iter().zip(others.remainder()).map(|(one, other)| one * other).sum();
    let mut lanes = [0.0; 4];
    for (one, other) in ones.zip(others) {
        for lane in 0..4 {
            lanes[lane] += one[lane] * other[lane];
        }
    }
    (lanes[0] + lanes[1]) + (lanes[2] + lanes[3]) + rest
}

/// Returns the sum.
#[inline]
pub(super) fn total(numbers: &[f64]) -> f64 {
    let fours = numbers.chunks_exact(4);
    let rest: f64 = fours.remainder().iter().sum();
    let mut lanes = [0.0; 4];
    for four in fours {
        for lane in 0..4 {
            lanes[lane] += four[lane];
        }
    }
    (lanes[0] + lanes[1]) + (lanes[2] + lanes[3]) + rest
}
