//! Tokens: numbers as growers type them, clock times, and pieces of words and signs.

use std::borrow::Cow;

use nom::branch::alt;
use nom::bytes::complete::{tag, take_while_m_n, take_while1};
use nom::character::complete::{char, one_of, satisfy, space0, space1};
use nom::combinator::{map_opt, not, opt, recognize, verify};
use nom::multi::many0_count;
use nom::sequence::{pair, preceded, separated_pair, terminated};
use nom::{IResult, Parser};

use crate::language::{Grouped, Meanings, NumberStyle, Piece, PieceKind, Vocabulary, in_word, next_piece};
use crate::units::Quantity;

/// A number, with what tells how it may be joined to its neighbours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number {
    pub value: f64,
    /// Digits only, one to three of them, the first not nought: it may be the thousands before a group of three.
    pub may_lead: bool,
    /// Three digits after exactly one space after a number that may lead.
    pub may_follow: bool,
}

/// What a token is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TokenKind {
    Number(Number),
    /// Hour and minute.
    Clock(u8, u8),
    /// A word or a sign, to be looked up.
    Piece(PieceKind),
}

/// One token, as bytes `start..end` of the folded text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Token {
    pub kind: TokenKind,
    pub start: usize,
    pub end: usize,
    pub glued: bool,
    pub parted: bool,
}

impl Token {
    /// The piece that this token is, for looking it up.
    pub fn piece(&self) -> Option<Piece> {
        match self.kind {
            TokenKind::Piece(kind) => {
                Some(Piece { kind, start: self.start, end: self.end, glued: self.glued, parted: self.parted })
            }
            _ => None,
        }
    }
}

/// Cuts tokens off a folded text.
pub struct Lexer<'t> {
    text: &'t str,
    style: &'t NumberStyle,
    vocabulary: &'t Vocabulary,
    /// Numbers of a list such as `5,40,400,1500` still to be handed out end here, and this sign parts them.
    list_end: usize,
    list_sign: char,
}

impl<'t> Lexer<'t> {
    pub fn new(text: &'t str, style: &'t NumberStyle, vocabulary: &'t Vocabulary) -> Self {
        Lexer { text, style, vocabulary, list_end: 0, list_sign: ',' }
    }

    /// The next token at or after byte `from`.
    pub fn next(&mut self, from: usize) -> Option<Token> {
        let piece = next_piece(self.text, from)?;
        let start = self.number_start(from, piece);
        let rest = &self.text[start..];
        if let Some((number, end)) = self.digits_alone(start) {
            // The point of ".5" is no part of such a number, so nothing parts it but what stands before the piece.
            let kind = TokenKind::Number(number);
            return Some(Token { kind, start, end, glued: piece.glued, parted: piece.parted });
        }
        // The l of "20l6s" was left for a unit.
        let after_digit = self.text[..start].ends_with(|letter: char| letter.is_ascii_digit());
        let kind_and_rest = if may_begin_number(rest) && !(after_digit && rest.starts_with('l')) {
            self.clock(rest)
                .map(|(rest, (hour, minute))| (TokenKind::Clock(hour, minute), rest))
                .or_else(|_| self.number(start).map(|(rest, number)| (TokenKind::Number(number), rest)))
                .ok()
                // A token is never empty, so that every text comes to an end.
                .filter(|(_, after)| after.len() < rest.len())
        } else {
            None
        };
        let (kind, start, end) = match kind_and_rest {
            Some((kind, rest)) => (kind, start, self.text.len() - rest.len()),
            None => (TokenKind::Piece(piece.kind), piece.start, piece.end),
        };
        // The point of ".5" belongs to the number.
        let parted = piece.parted && (start == piece.start || self.text[from..start].contains([',', ';', '\n']));
        Some(Token { kind, start, end, glued: piece.glued, parted })
    }

    /// A number that is digits and nothing else, as nearly every one is: none of the signs, letters and further digits
    /// that could belong to it stand after it. Gives the place after it.
    fn digits_alone(&self, start: usize) -> Option<(Number, usize)> {
        let bytes = self.text.as_bytes();
        let count_of =
            |from: usize, belongs: fn(u8) -> bool| bytes[from..].iter().take_while(|&&byte| belongs(byte)).count();
        let digits = |from: usize| count_of(from, |byte| byte.is_ascii_digit());
        let spaces = |from: usize| count_of(from, |byte| byte == b' ');
        // "1/2", "1 /2", and the fraction of "1 1/2" and "1-1/2".
        let slash_after = |from: usize| bytes.get(from + spaces(from)) == Some(&b'/');
        let fraction_after = |from: usize| slash_after(from + digits(from));
        let count = digits(start);
        let end = start + count;
        // Up to there every whole number is exact in a double.
        let alone = (1..=15).contains(&count)
            && match bytes.get(end) {
                None => true,
                Some(b' ') => {
                    let next = end + spaces(end);
                    bytes.get(next) != Some(&b'0') && !fraction_after(next)
                }
                Some(b'-') => !fraction_after(end + 1),
                Some(b',' | b'.') => !bytes.get(end + 1).is_some_and(|byte| byte.is_ascii_digit() || b"lio".contains(byte)),
                Some(b'l' | b'i' | b'o' | b':' | b'/') => false,
                Some(_) => true,
            };
        if !alone {
            return None;
        }
        let run = &self.text[start..end];
        let value = bytes[start..end].iter().fold(0_u64, |value, byte| value * 10 + u64::from(byte - b'0'));
        let number = Number { value: value as f64, may_lead: may_lead(run), may_follow: count == 3 && self.spaced(start) };
        Some((number, end))
    }

    /// Whether exactly one space stands before a number, in a language that parts thousands so.
    fn spaced(&self, start: usize) -> bool {
        self.style.spaces() && self.text[..start].ends_with(' ') && !self.text[..start].ends_with("  ")
    }

    /// Where a number would begin: a point before its first digit belongs to it unless a digit stands before that.
    fn number_start(&self, from: usize, piece: Piece) -> usize {
        let point = piece.start.checked_sub(1).filter(|&at| at >= from && self.text.as_bytes()[at] == b'.');
        let bare = |at: usize| !self.text[..at].ends_with(|letter: char| letter.is_alphanumeric() || letter == '.');
        match point {
            Some(at) if piece.kind == PieceKind::Digits && bare(at) => at,
            _ => piece.start,
        }
    }

    fn clock(&self, input: &'t str) -> IResult<&'t str, (u8, u8)> {
        let two = |low: usize| {
            map_opt(take_while_m_n(low, 2, |letter: char| letter.is_ascii_digit()), |run: &str| run.parse::<u8>().ok())
        };
        let end = not(satisfy(|letter| letter.is_ascii_digit()));
        verify(terminated(separated_pair(two(1), char(':'), two(2)), end), |&(hour, minute)| hour < 24 && minute < 60)
            .parse(input)
    }

    fn number(&mut self, start: usize) -> IResult<&'t str, Number> {
        let text = self.text;
        let input = &text[start..];
        if let Ok((rest, value)) = fraction(input) {
            return Ok((rest, Number { value, may_lead: false, may_follow: false }));
        }
        let (rest, run) = self.grouped(start)?;
        let plain = run.bytes().all(|letter| letter.is_ascii_digit());
        let value = match self.style.read(&run) {
            Grouped::One(value) => value,
            Grouped::Several if start < self.list_end => {
                return self.digits(start).map(|(rest, run)| (rest, whole_number(&run, false)));
            }
            Grouped::Several => {
                self.list_end = text.len() - rest.len();
                self.list_sign = if run.contains(',') { ',' } else { '.' };
                return self.number(start);
            }
        };
        if plain && run.len() <= 2 {
            // "1 1/2", "1-1/2", "1 ½"; a larger number before a fraction is a number of its own ("pipe 40 3/4 in").
            let mixed =
                verify(preceded(alt((space1, tag("-"))), fraction), |&part: &f64| value <= 12.0 && part < 1.0).parse(rest);
            if let Ok((rest, part)) = mixed {
                return Ok((rest, Number { value: value + part, may_lead: false, may_follow: false }));
            }
        }
        if plain && self.style.spaces() && may_lead(&run) {
            // "15 000": nobody writes a number of its own as 000, so this can only be a group.
            let group = preceded(char(' '), group_from_nought);
            if let Ok((rest, tail)) = recognize((group, many0_count(preceded(char(' '), group_of_three)))).parse(rest) {
                let joined: String = run.chars().chain(tail.chars().filter(char::is_ascii_digit)).collect();
                return Ok((
                    rest,
                    Number { value: joined.parse().unwrap_or(f64::INFINITY), may_lead: false, may_follow: false },
                ));
            }
        }
        if !plain {
            return Ok((rest, Number { value, may_lead: false, may_follow: false }));
        }
        Ok((rest, Number { value, ..whole_number(&run, self.spaced(start)) }))
    }

    /// Digits with points and commas between them; inside a list one number at a time.
    fn grouped(&self, start: usize) -> IResult<&'t str, Cow<'t, str>> {
        let (mut rest, mut run) = match self.text[start..].strip_prefix('.') {
            Some(_) => {
                let (rest, decimals) = self.digits(start + 1)?;
                (rest, Cow::Owned(format!("0.{decimals}")))
            }
            None => self.digits(start)?,
        };
        let listed = start < self.list_end;
        loop {
            let Ok((after, sign)) = one_of::<_, _, nom::error::Error<&str>>(".,").parse(rest) else { break };
            let Ok((after, more)) = self.digits(self.text.len() - after.len()) else { break };
            // The point of ".5" parts nothing: a token that took no letter would never let the text end.
            if listed && sign == self.list_sign && rest.len() < self.text.len() - start {
                break;
            }
            let joined = run.to_mut();
            joined.push(sign);
            joined.push_str(&more);
            rest = after;
        }
        Ok((rest, run))
    }

    /// Digits, with the letters that thumbs type for them: o for nought after a digit, l or i for one before a digit.
    fn digits(&self, start: usize) -> IResult<&'t str, Cow<'t, str>> {
        let bytes = self.text.as_bytes();
        // Nearly every number is digits alone, and needs no copy.
        let end = start + bytes[start..].iter().take_while(|byte| byte.is_ascii_digit()).count();
        if end > start && !matches!(bytes.get(end), Some(b'l' | b'i' | b'o')) {
            return Ok((&self.text[end..], Cow::Borrowed(&self.text[start..end])));
        }
        let digit_at = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
        let mut run = String::new();
        let mut at = start;
        loop {
            match bytes.get(at) {
                Some(digit) if digit.is_ascii_digit() => run.push(char::from(*digit)),
                Some(b'l') if !run.is_empty() && self.litres(at) => break,
                Some(b'l' | b'i') if digit_at(at + 1) => run.push('1'),
                Some(b'o') if !run.is_empty() && self.nought(at) => run.push('0'),
                Some(b'o') if run.is_empty() && matches!(bytes.get(at + 1), Some(b'.' | b',')) && digit_at(at + 2) => {
                    run.push('0');
                }
                _ => break,
            }
            at += 1;
        }
        let rest = &self.text[at..];
        if run.is_empty() {
            let error = nom::error::Error::new(rest, nom::error::ErrorKind::Digit);
            return Err(nom::Err::Error(error));
        }
        Ok((rest, Cow::Owned(run)))
    }

    /// Whether the letter l between two digits is no one but litres: a time follows, as in "20l6s".
    fn litres(&self, at: usize) -> bool {
        let digits = self.text[at + 1..].bytes().take_while(u8::is_ascii_digit).count();
        let rest = &self.text[at + 1 + digits..];
        let word = &rest[..rest.find(|letter| !in_word(letter)).unwrap_or(rest.len())];
        let is_time = |meanings: &Meanings| meanings.measure.is_some_and(|measure| measure.quantity() == Quantity::Time);
        self.vocabulary.alone(word).is_some_and(|entry| entry.senses().any(|(_, meanings)| is_time(meanings)))
    }

    /// Whether the letter o after a digit is a nought: what follows it must be no letter, or a word that stands without
    /// it and not with it ("1om", not "4of").
    fn nought(&self, at: usize) -> bool {
        let letters = self.text[at..].find(|letter| !in_word(letter)).unwrap_or(self.text.len() - at);
        let word = &self.text[at..at + letters];
        let rest = word.trim_start_matches('o');
        rest.is_empty() || (!self.vocabulary.knows(word) && self.vocabulary.knows(rest))
    }
}

/// Whether a number could begin here: a digit, or a letter typed for one right before a digit or a point.
fn may_begin_number(text: &str) -> bool {
    let mut bytes = text.bytes();
    match bytes.next() {
        Some(first) if first.is_ascii_digit() => true,
        Some(b'.' | b'l' | b'i') => bytes.next().is_some_and(|second| second.is_ascii_digit()),
        Some(b'o') => {
            bytes.next().is_some_and(|second| matches!(second, b'.' | b','))
                && bytes.next().is_some_and(|third| third.is_ascii_digit())
        }
        _ => false,
    }
}

fn may_lead(run: &str) -> bool {
    run.len() <= 3 && !run.starts_with('0')
}

fn whole_number(run: &str, spaced: bool) -> Number {
    Number { value: run.parse().unwrap_or(f64::INFINITY), may_lead: may_lead(run), may_follow: spaced && run.len() == 3 }
}

fn group_of_three(input: &str) -> IResult<&str, &str> {
    let digits = take_while_m_n(3, 3, |letter: char| letter.is_ascii_digit());
    terminated(digits, not(satisfy(|letter| letter.is_ascii_digit()))).parse(input)
}

fn group_from_nought(input: &str) -> IResult<&str, &str> {
    verify(group_of_three, |group: &str| group.starts_with('0')).parse(input)
}

/// A fraction with a denominator that people use: halves to eighths, tenths and sixteenths.
fn fraction(input: &str) -> IResult<&str, f64> {
    let short = || {
        map_opt(take_while1(|letter: char| letter.is_ascii_digit()), |run: &str| {
            run.parse::<u8>().ok().filter(|_| run.len() <= 2)
        })
    };
    let slash = (space0, char('/'), space0);
    let end = not(pair(opt(one_of("./")), satisfy(|letter| letter.is_ascii_digit())));
    map_opt(terminated(separated_pair(short(), slash, short()), end), |(top, bottom)| {
        (top > 0 && top < 16 && matches!(bottom, 2 | 3 | 4 | 5 | 6 | 8 | 10 | 16))
            .then(|| f64::from(top) / f64::from(bottom))
    })
    .parse(input)
}
