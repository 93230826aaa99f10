//! A spot on the map as it is typed.
//!
//! ```text
//! spot     := angle [,|;|/] angle [[,|;] metres m]     latitude first, unless the letters say otherwise
//! angle    := [letter] [sign] degrees [letter]         -8.2   8.2S   S8.2   8 12 S   8°12'S   8°12'30"S
//! degrees  := number [°] [number ['] [number "]]       minutes without marks only before the letter
//! letter   := N | S | E | W                            ISO 6709
//! number   := digits [(.|,) digits]                    a comma parts the two where it cannot be a decimal sign
//! ```

use std::fmt;

/// Latitudes for which there are answers, degrees.
pub const LATITUDES_DEG: (f64, f64) = (-60.0, 60.0);
const LONGITUDES_DEG: (f64, f64) = (-180.0, 180.0);
/// Altitudes at which people grow food, the shore of the Dead Sea to above every field, metres.
pub const ALTITUDES_M: (f64, f64) = (-430.0, 6000.0);

/// Four decimals of a degree are 11 m.
const DECIMALS: f64 = 1e4;

/// A point on the map.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    pub lat_deg: f64,
    pub lon_deg: f64,
    /// None where it was not told.
    pub alt_m: Option<f64>,
}

impl fmt::Display for Spot {
    /// As it can be typed again.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.lat_deg, self.lon_deg)?;
        self.alt_m.map_or(Ok(()), |alt_m| write!(f, " {alt_m}m"))
    }
}

/// Degrees or metres that are none: minutes of sixty or more, or outside the ranges.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SpotFault;

/// A spot read at the beginning of a text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scanned {
    pub spot: Result<Spot, SpotFault>,
    /// Bytes up to the end of the spot, and up to the end of its degrees where metres follow them.
    pub end: usize,
    pub degrees_end: Option<usize>,
}

impl Scanned {
    /// The same without its metres.
    pub fn without_metres(self) -> Option<Scanned> {
        let end = self.degrees_end?;
        Some(Scanned { spot: self.spot.map(|spot| Spot { alt_m: None, ..spot }), end, degrees_end: None })
    }
}

/// The spot that a text is, with nothing after it; none where it is no spot at all.
pub fn parse(text: &str) -> Option<Result<Spot, SpotFault>> {
    scan(text).filter(|scanned| text[scanned.end..].chars().all(is_space)).map(|scanned| scanned.spot)
}

/// Reads the spot with which a text begins.
pub fn scan(text: &str) -> Option<Scanned> {
    // "-8,2 35,1" has decimal commas; "-8,35" can only be two numbers.
    [true, false].into_iter().find_map(|decimal_comma| Scanner { text, at: 0, decimal_comma }.spot())
}

fn is_space(letter: char) -> bool {
    letter.is_whitespace()
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Axis {
    Latitude,
    Longitude,
}

/// Degrees, and what their letter says.
#[derive(Clone, Copy)]
struct Angle {
    degrees: f64,
    axis: Option<Axis>,
    is_sound: bool,
}

#[derive(Clone, Copy)]
struct Scanner<'t> {
    text: &'t str,
    at: usize,
    decimal_comma: bool,
}

impl Scanner<'_> {
    fn spot(mut self) -> Option<Scanned> {
        let one = self.angle()?;
        self.separator();
        let other = self.angle()?;
        let (latitude, longitude) = match (one.axis, other.axis) {
            (Some(Axis::Longitude), Some(Axis::Latitude)) => (other, one),
            (None | Some(Axis::Latitude), None | Some(Axis::Longitude)) => (one, other),
            _ => return None,
        };
        let degrees_end = self.at;
        let alt_m = self.metres();
        let inside = |value: f64, (low, high): (f64, f64)| (low..=high).contains(&value);
        let is_sound = latitude.is_sound
            && longitude.is_sound
            && inside(latitude.degrees, LATITUDES_DEG)
            && inside(longitude.degrees, LONGITUDES_DEG)
            && alt_m.is_none_or(|alt_m| inside(alt_m, ALTITUDES_M));
        let rounded = |degrees: f64| (degrees * DECIMALS).round() / DECIMALS + 0.0;
        let spot = Spot { lat_deg: rounded(latitude.degrees), lon_deg: rounded(longitude.degrees), alt_m };
        Some(Scanned {
            spot: if is_sound { Ok(spot) } else { Err(SpotFault) },
            end: self.at,
            degrees_end: alt_m.map(|_| degrees_end),
        })
    }

    fn angle(&mut self) -> Option<Angle> {
        self.spaces();
        let before = self.letter(true);
        self.spaces();
        let is_minus = self.sign();
        let mut degrees = self.number()?;
        let is_marked = self.mark('°');
        let mut is_sound = true;
        if let Some((minutes, seconds)) = self.sixtieths(is_marked, before.is_some(), degrees) {
            degrees += minutes / 60.0 + seconds / 3600.0;
            is_sound = minutes < 60.0 && seconds < 60.0;
        }
        let after = if before.is_none() { self.letter(false) } else { None };
        if self.is_word_ahead() {
            return None;
        }
        let (axis, is_negative) = match before.or(after) {
            Some((axis, is_negative)) => (Some(axis), is_negative),
            None => (None, false),
        };
        // A minus beside S or W says the same once more.
        let degrees = if is_minus || is_negative { -degrees } else { degrees };
        Some(Angle { degrees, axis, is_sound })
    }

    /// Minutes and seconds of an angle: marked, or a second number between the degrees and the letter.
    fn sixtieths(&mut self, is_marked: bool, has_letter: bool, degrees: f64) -> Option<(f64, f64)> {
        if degrees.fract() != 0.0 {
            return None;
        }
        let start = self.at;
        self.spaces();
        let minutes = self.number();
        let is_minute = self.mark('\'');
        let mut ahead = *self;
        let is_lettered = !has_letter && ahead.letter(false).is_some();
        match minutes {
            Some(minutes) if is_minute || is_marked && ahead.at > self.at || is_lettered => {
                let start = self.at;
                self.spaces();
                let seconds = self.number().filter(|_| self.mark('"') || self.mark('\'') && self.mark('\''));
                if seconds.is_none() {
                    self.at = start;
                }
                Some((minutes, seconds.unwrap_or(0.0)))
            }
            _ => {
                self.at = start;
                None
            }
        }
    }

    /// Metres after the degrees, with their letter.
    fn metres(&mut self) -> Option<f64> {
        let start = self.at;
        self.separator();
        self.spaces();
        let is_minus = self.sign();
        let metres = self.number();
        self.spaces();
        if let (Some(metres), true) = (metres, self.take('m') && !self.is_word_ahead()) {
            return Some(if is_minus { -metres } else { metres });
        }
        self.at = start;
        None
    }

    fn separator(&mut self) {
        self.spaces();
        let _ = self.take(',') || self.take(';') || self.take('/');
    }

    /// A letter of the compass; one after the number must stand alone or before a number.
    fn letter(&mut self, is_before: bool) -> Option<(Axis, bool)> {
        let start = self.at;
        self.spaces();
        let found = match self.peek()?.to_ascii_lowercase() {
            'n' => (Axis::Latitude, false),
            's' => (Axis::Latitude, true),
            'e' => (Axis::Longitude, false),
            'w' => (Axis::Longitude, true),
            _ => {
                self.at = start;
                return None;
            }
        };
        self.at += 1;
        if self.is_word_ahead() || is_before && self.peek().is_none() {
            self.at = start;
            return None;
        }
        Some(found)
    }

    fn sign(&mut self) -> bool {
        if self.take('-') || self.take('\u{2212}') {
            return true;
        }
        let _ = self.take('+');
        false
    }

    fn number(&mut self) -> Option<f64> {
        let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
        let rest = &self.text[self.at..];
        let whole = digits(rest);
        if whole == 0 {
            return None;
        }
        let mut end = whole;
        let has_point = rest[whole..].starts_with('.') || self.decimal_comma && rest[whole..].starts_with(',');
        if has_point {
            let part = digits(&rest[whole + 1..]);
            if part > 0 {
                end += 1 + part;
            }
        }
        self.at += end;
        rest[..end].replace(',', ".").parse().ok()
    }

    fn mark(&mut self, mark: char) -> bool {
        let start = self.at;
        self.spaces();
        let is_there = self.take(mark);
        if !is_there {
            self.at = start;
        }
        is_there
    }

    fn spaces(&mut self) {
        let rest = &self.text[self.at..];
        self.at += rest.len() - rest.trim_start_matches(is_space).len();
    }

    fn take(&mut self, letter: char) -> bool {
        let is_there = self.peek() == Some(letter);
        if is_there {
            self.at += letter.len_utf8();
        }
        is_there
    }

    fn peek(&self) -> Option<char> {
        self.text[self.at..].chars().next()
    }

    fn is_word_ahead(&self) -> bool {
        self.peek().is_some_and(char::is_alphabetic)
    }
}
