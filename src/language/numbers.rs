//! How a language writes numbers.

use serde::{Deserialize, Serialize};

/// The signs between the digits of a number.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NumberStyle {
    /// The sign before the decimals, `.` or `,`.
    pub decimal: char,
    /// Signs that may part thousands; any of `.`, `,` and space.
    pub thousands: Vec<char>,
}

impl Default for NumberStyle {
    /// A decimal point and nothing between thousands.
    fn default() -> Self {
        NumberStyle { decimal: '.', thousands: Vec::new() }
    }
}

/// What a run of digits parted by points and commas says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Grouped {
    One(f64),
    /// Points or commas that make no single number: a list.
    Several,
}

impl NumberStyle {
    /// Whether a space may part thousands.
    pub fn spaces(&self) -> bool {
        self.thousands.contains(&' ')
    }

    /// Reads digits with points and commas between them, such as `1500`, `1,500.5` or `2,5`.
    ///
    /// The decimal sign of the language is always a decimal sign when it stands once. The other sign parts thousands
    /// where the language has it so and the groups are of three, and is a decimal sign otherwise.
    pub fn read(&self, run: &str) -> Grouped {
        let signs = run.bytes().filter(|letter| !letter.is_ascii_digit()).count();
        let value = match signs {
            0 => run.parse().ok(),
            1 => self.read_one_sign(run),
            _ => self.read_many_signs(run),
        };
        match value {
            Some(value) => Grouped::One(value),
            None => Grouped::Several,
        }
    }

    fn read_one_sign(&self, run: &str) -> Option<f64> {
        let (whole, rest) = run.split_once(['.', ','])?;
        let sign = if run.as_bytes().get(whole.len()) == Some(&b'.') { '.' } else { ',' };
        let groups = rest.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0');
        if sign != self.decimal && groups && self.thousands.contains(&sign) {
            return format!("{whole}{rest}").parse().ok();
        }
        format!("{whole}.{rest}").parse().ok()
    }

    fn read_many_signs(&self, run: &str) -> Option<f64> {
        let last = run.rfind(['.', ','])?;
        let sign = run[last..].chars().next()?;
        let first = run.chars().find(|letter| !letter.is_ascii_digit())?;
        let (whole, decimals) = if sign == first { (run, "") } else { (&run[..last], &run[last + 1..]) };
        let mut groups = whole.split(first);
        let head = groups.next()?;
        let fits = (1..=3).contains(&head.len())
            && groups.all(|group| group.len() == 3 && group.bytes().all(|letter| letter.is_ascii_digit()));
        if !fits {
            return None;
        }
        let whole = whole.replace(first, "");
        format!("{whole}.{decimals}0").parse().ok()
    }

    /// Writes a number so that [`NumberStyle::read`] gives it back: the shortest digits, the language's decimal sign,
    /// nothing between thousands.
    pub fn write(&self, value: f64) -> String {
        value.to_string().replace('.', self.decimal.encode_utf8(&mut [0; 4]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_language_reads_its_own_thousands() {
        let point = NumberStyle { decimal: '.', thousands: vec![',', ' '] };
        let comma = NumberStyle { decimal: ',', thousands: vec!['.', ' '] };
        for (run, in_point, in_comma) in [
            ("1500", 1500.0, 1500.0),
            ("1,500", 1500.0, 1.5),
            ("1.500", 1.5, 1500.0),
            ("1,5", 1.5, 1.5),
            ("1.5", 1.5, 1.5),
            ("0,500", 0.5, 0.5),
            ("0.500", 0.5, 0.5),
            ("1,500.5", 1500.5, 1500.5),
            ("1.500,5", 1500.5, 1500.5),
            ("1,500,000", 1_500_000.0, 1_500_000.0),
        ] {
            assert_eq!(point.read(run), Grouped::One(in_point), "{run} with a point");
            assert_eq!(comma.read(run), Grouped::One(in_comma), "{run} with a comma");
        }
        assert_eq!(point.read("5,40,400,1500"), Grouped::Several);
    }

    #[test]
    fn what_is_written_is_read_back() {
        for style in [NumberStyle::default(), NumberStyle { decimal: ',', thousands: vec!['.'] }] {
            for value in [0.0, 0.125, 4.6, 1234.567, 15000.0, 1e-9] {
                assert_eq!(style.read(&style.write(value)), Grouped::One(value), "{value}");
            }
        }
    }
}
