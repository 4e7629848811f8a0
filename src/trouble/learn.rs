//! The odds of a table's causes, learned from the cases that the shop has had.

use std::fmt;

/// Why odds cannot be learned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LearnError {
    /// There are not as many counts as odds.
    Lengths {
        /// How many odds there are.
        odds: usize,
        /// How many counts there are.
        cases: usize,
    },
    /// A number is negative or not finite.
    BadNumber {
        /// The place of the cause; none for the number of cases that the author's odds weigh.
        cause: Option<usize>,
        /// The number.
        number: f64,
    },
    /// Neither the author's odds nor the cases give any cause a chance.
    Nothing,
}

/// Returns the chance of each cause from the author's odds and the shop's own cases, in the order of the odds; they
/// sum to 1.
///
/// The author's odds are taken as a Dirichlet distribution that weighs as much as `weighs` cases: the chance of a
/// cause is `(weighs * odds / sum of odds + cases) / (weighs + sum of cases)`, the mean of the distribution after the
/// cases (Gelman and others, *Bayesian Data Analysis*, section 3.4). With no cases these are the author's odds; with
/// many it is how often each cause was seen. A case whose cause stayed open counts in parts, by the chances that it
/// ended with.
///
/// `odds`, `cases` and `weighs` are 0 or more; with `weighs` 0 the cases alone count.
///
/// # Errors
/// [`LearnError`] if the lengths differ, a number is negative or not finite, or there is nothing to go by.
///
/// # Example
/// Odds of 3 to 1 that weigh as much as 8 cases, and four cases that were all the second cause:
///
/// ```
/// use stepjig::trouble::learn::blend;
///
/// assert_eq!(blend(&[3.0, 1.0], 8.0, &[0.0, 4.0])?, [0.5, 0.5]);
/// # Ok::<(), stepjig::trouble::learn::LearnError>(())
/// ```
pub fn blend(odds: &[f64], weighs: f64, cases: &[f64]) -> Result<Vec<f64>, LearnError> {
    if odds.len() != cases.len() {
        return Err(LearnError::Lengths { odds: odds.len(), cases: cases.len() });
    }
    let sound = |cause: Option<usize>, number: f64| match number {
        number if number >= 0.0 && number.is_finite() => Ok(()),
        number => Err(LearnError::BadNumber { cause, number }),
    };
    sound(None, weighs)?;
    for (cause, (odds, cases)) in odds.iter().zip(cases).enumerate() {
        sound(Some(cause), *odds)?;
        sound(Some(cause), *cases)?;
    }
    let author = shares(odds);
    // Scaled by the largest first, so that sums of huge numbers stay finite.
    let largest = cases.iter().copied().fold(weighs, f64::max);
    let after =
        |(author, cases): (f64, &f64)| if largest > 0.0 { (weighs / largest) * author + cases / largest } else { 0.0 };
    let after = shares(&author.into_iter().zip(cases).map(after).collect::<Vec<f64>>());
    if after.iter().all(|chance| *chance == 0.0) { Err(LearnError::Nothing) } else { Ok(after) }
}

/// Returns each number as a share of all of them; all 0 if they are.
fn shares(numbers: &[f64]) -> Vec<f64> {
    let largest = numbers.iter().copied().fold(0.0, f64::max);
    if largest == 0.0 {
        return vec![0.0; numbers.len()];
    }
    let sum: f64 = numbers.iter().map(|number| number / largest).sum();
    numbers.iter().map(|number| number / largest / sum).collect()
}

impl fmt::Display for LearnError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LearnError::Lengths { odds, cases } => write!(f, "there are {odds} odds and {cases} counts of cases"),
            LearnError::BadNumber { number, .. } => write!(f, "{number} must be 0 or more"),
            LearnError::Nothing => write!(f, "neither odds nor cases give any cause a chance"),
        }
    }
}

impl std::error::Error for LearnError {}
