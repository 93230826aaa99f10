//! Pieces: a folded text cut into runs of letters, runs of digits and single signs. Vocabulary phrases and messages are
//! cut by the same rules, so a phrase matches however it was spaced.

use unicode_normalization::char::is_combining_mark;

/// What a piece is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PieceKind {
    Letters,
    Digits,
    Sign,
}

/// One piece, as bytes `start..end` of the folded text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Piece {
    pub kind: PieceKind,
    pub start: usize,
    pub end: usize,
    /// Nothing at all stands between this piece and what came before.
    pub glued: bool,
    /// A comma, a full stop, a line break or the like stands before this piece.
    pub parted: bool,
}

/// The next piece at or after byte `from`; None at the end of the text.
pub fn next_piece(text: &str, from: usize) -> Option<Piece> {
    let mut parted = false;
    let mut letters = text.get(from..)?.char_indices();
    loop {
        let (offset, letter) = letters.next()?;
        let start = from + offset;
        let kind = match letter {
            ',' | ';' | '\n' | '!' | '?' | '.' | '(' | ')' | '[' | ']' | '{' | '}' => {
                parted = true;
                continue;
            }
            letter if letter.is_ascii_digit() => PieceKind::Digits,
            letter if in_word(letter) => PieceKind::Letters,
            '-' if between_letters(text, start, start + 1) => continue,
            '\'' | '"' | '°' | '*' | '/' | '-' | '+' | '&' | '@' | '%' => PieceKind::Sign,
            _ => continue,
        };
        let end = match kind {
            PieceKind::Digits => run(text, start, |letter| letter.is_ascii_digit()),
            PieceKind::Letters => word_end(text, start),
            // Two primes are typed for the one sign of inches.
            PieceKind::Sign if letter == '\'' && text[start + 1..].starts_with('\'') => start + 2,
            PieceKind::Sign => start + letter.len_utf8(),
        };
        return Some(Piece { kind, start, end, glued: offset == 0 && from > 0, parted });
    }
}

/// Every piece of a text.
pub fn pieces(text: &str) -> impl Iterator<Item = Piece> + '_ {
    let mut from = 0;
    std::iter::from_fn(move || {
        let piece = next_piece(text, from)?;
        from = piece.end;
        Some(piece)
    })
}

/// Whether a character may stand in a word.
pub fn in_word(letter: char) -> bool {
    letter.is_ascii_alphabetic()
        || (!letter.is_ascii() && ((letter.is_alphanumeric() && !letter.is_numeric()) || is_combining_mark(letter)))
}

fn run(text: &str, start: usize, belongs: impl Fn(char) -> bool) -> usize {
    text[start..].find(|letter| !belongs(letter)).map_or(text.len(), |length| start + length)
}

/// The end of a word: letters, and apostrophes that stand between letters.
fn word_end(text: &str, start: usize) -> usize {
    let mut end = run(text, start, in_word);
    while text[end..].starts_with('\'') && between_letters(text, end, end + 1) {
        end = run(text, end + 1, in_word);
    }
    end
}

fn between_letters(text: &str, start: usize, end: usize) -> bool {
    text[..start].chars().next_back().is_some_and(in_word) && text[end..].chars().next().is_some_and(in_word)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(text: &str) -> Vec<&str> {
        pieces(text).map(|piece| &text[piece.start..piece.end]).collect()
    }

    #[test]
    fn letters_part_from_digits_and_signs() {
        assert_eq!(cut("lift5pipe40"), ["lift", "5", "pipe", "40"]);
        assert_eq!(cut("15000l/h, 8m"), ["15000", "l", "/", "h", "8", "m"]);
        assert_eq!(cut("16' 6\""), ["16", "'", "6", "\""]);
        assert_eq!(cut("2''"), ["2", "''"]);
        assert_eq!(cut("ng'ombe sweet-potato lift=5"), ["ng'ombe", "sweet", "potato", "lift", "5"]);
        assert_eq!(cut(" .. "), [] as [&str; 0]);
    }

    #[test]
    fn what_stood_between_is_remembered() {
        let all: Vec<_> = pieces("5m, 40").collect();
        assert!(all[1].glued && !all[1].parted);
        assert!(!all[2].glued && all[2].parted);
    }
}
