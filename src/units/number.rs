//! A number as a person writes it, held as an upper and a lower part so that a unit's scale is applied exactly.

/// What was written, before its unit is applied.
///
/// `.391` is 391/1000 and `1 1/2` is 3/2: multiplied by 254/10 and divided once, each is the nearest `f64` to the true
/// length in millimetres, whichever way it was written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Number {
    upper: f64,
    lower: f64,
    /// The lower number, if it was written as a fraction.
    pub(super) fraction_of: Option<f64>,
}

/// Why a text is not a number.
#[derive(Debug, PartialEq)]
pub(super) enum Fault {
    /// It is nothing that is known.
    NotANumber,
    /// A comma stands for the point; the text with the point.
    DecimalComma(String),
    /// The lower number is zero.
    ZeroDenominator,
    /// After a whole number comes a fraction of one or more.
    TopHeavy,
}

impl Number {
    /// Reads `12`, `.391`, `9.`, `25/64`, `1 1/2` and `1-1/2`. No sign, no exponent.
    pub(super) fn read(text: &str) -> Result<Number, Fault> {
        match text.split_once('/') {
            Some((left, right)) => Number::read_fraction(left.trim(), right.trim()),
            None => Number::read_decimal(text),
        }
    }

    fn read_fraction(left: &str, right: &str) -> Result<Number, Fault> {
        let after_whole = left.trim_start_matches(|c: char| c.is_ascii_digit());
        let (whole, upper) = match after_whole {
            "" => (0.0, integer(left)?),
            _ => {
                let whole = integer(&left[..left.len() - after_whole.len()])?;
                let gap = after_whole.trim_start();
                (whole, integer(gap.strip_prefix(['-', '–']).unwrap_or(gap).trim_start())?)
            }
        };
        let lower = integer(right)?;
        if lower == 0.0 {
            return Err(Fault::ZeroDenominator);
        }
        if !after_whole.is_empty() && lower <= upper {
            return Err(Fault::TopHeavy);
        }
        Ok(Number { upper: whole * lower + upper, lower, fraction_of: Some(lower) })
    }

    fn read_decimal(text: &str) -> Result<Number, Fault> {
        let (whole, part) = match text.split_once(['.', ',']) {
            Some((whole, part)) => (whole, part),
            None => (text, ""),
        };
        let all_digits = [whole, part].iter().all(|digits| digits.chars().all(|c| c.is_ascii_digit()));
        if !all_digits || (whole.is_empty() && part.is_empty()) {
            return Err(Fault::NotANumber);
        }
        if text.contains(',') {
            let whole = if whole.is_empty() { "0" } else { whole };
            return match part {
                "" => Err(Fault::NotANumber),
                _ => Err(Fault::DecimalComma(format!("{whole}.{part}"))),
            };
        }
        let digits = format!("{whole}{part}");
        // Up to 15 digits are whole numbers that an f64 holds exactly; beyond, its own nearest has to do.
        let (upper, lower) = match digits.len() {
            ..=15 => (digits.parse().ok(), 10_f64.powi(part.len() as i32)),
            _ => (text.parse().ok(), 1.0),
        };
        upper.map(|upper| Number { upper, lower, fraction_of: None }).ok_or(Fault::NotANumber)
    }

    /// Returns the number times `upper / lower`, rounded once.
    pub(super) fn times(self, (upper, lower): (f64, f64)) -> f64 {
        self.upper * upper / (self.lower * lower)
    }

    /// Returns the whole and upper part of a fraction, over its lower number.
    pub(super) fn upper(self) -> f64 {
        self.upper
    }
}

/// Reads a part of a fraction; nine digits are more than any rule has.
fn integer(digits: &str) -> Result<f64, Fault> {
    match digits.len() {
        1..=9 if digits.chars().all(|c| c.is_ascii_digit()) => digits.parse().map_err(|_| Fault::NotANumber),
        _ => Err(Fault::NotANumber),
    }
}

/// Returns a number with at most so many decimals, and no zeros at its end.
pub(crate) fn shown(value: f64, places: usize) -> String {
    let digits = format!("{value:.places$}");
    let trimmed = match digits.contains('.') {
        true => digits.trim_end_matches('0').trim_end_matches('.'),
        false => &digits,
    };
    match trimmed {
        "-0" => "0".to_owned(),
        _ => trimmed.to_owned(),
    }
}
