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

/// What an ASCII character, or the first byte of a wider one, does in a text.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Does {
    Letter,
    Digit,
    Sign,
    /// Parts what was said from what comes.
    Part,
    Nothing,
    /// The first byte of a character outside ASCII.
    Wide,
}

/// By byte: a text is cut without a look at more of it than that.
static DOES: [Does; 256] = {
    let mut does = [Does::Nothing; 256];
    let mut byte = 0;
    while byte < 256 {
        does[byte] = match byte as u8 {
            b'a'..=b'z' | b'A'..=b'Z' => Does::Letter,
            b'0'..=b'9' => Does::Digit,
            b'\'' | b'"' | b'*' | b'/' | b'-' | b'+' | b'&' | b'@' | b'%' => Does::Sign,
            b',' | b';' | b'\n' | b'!' | b'?' | b'.' | b'(' | b')' | b'[' | b']' | b'{' | b'}' => Does::Part,
            0x80.. => Does::Wide,
            _ => Does::Nothing,
        };
        byte += 1;
    }
    does
};

/// The next piece at or after byte `from`; None at the end of the text.
pub fn next_piece(text: &str, from: usize) -> Option<Piece> {
    let bytes = text.as_bytes();
    let mut parted = false;
    let mut start = from;
    loop {
        let first = *bytes.get(start)?;
        let (kind, end) = match DOES[usize::from(first)] {
            Does::Letter => (PieceKind::Letters, word_end(text, start)),
            Does::Digit => (PieceKind::Digits, digits_end(bytes, start)),
            Does::Part => {
                parted = true;
                start += 1;
                continue;
            }
            // A hyphen between letters is a space.
            Does::Sign if first == b'-' && between_letters(text, start, start + 1) => {
                start += 1;
                continue;
            }
            // Two primes are typed for the one sign of inches.
            Does::Sign if first == b'\'' && bytes.get(start + 1) == Some(&b'\'') => (PieceKind::Sign, start + 2),
            Does::Sign => (PieceKind::Sign, start + 1),
            Does::Nothing => {
                start += 1;
                continue;
            }
            Does::Wide => {
                let letter = text.get(start..)?.chars().next()?;
                if in_word(letter) {
                    (PieceKind::Letters, word_end(text, start))
                } else if letter == '°' {
                    (PieceKind::Sign, start + letter.len_utf8())
                } else {
                    start += letter.len_utf8();
                    continue;
                }
            }
        };
        return Some(Piece { kind, start, end, glued: start == from && from > 0, parted });
    }
}

fn digits_end(bytes: &[u8], start: usize) -> usize {
    start + bytes[start..].iter().take_while(|byte| byte.is_ascii_digit()).count()
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

/// The end of a word: letters, and apostrophes that stand between letters.
fn word_end(text: &str, start: usize) -> usize {
    let mut end = letters_end(text, start);
    while text.as_bytes().get(end) == Some(&b'\'') && between_letters(text, end, end + 1) {
        end = letters_end(text, end + 1);
    }
    end
}

fn letters_end(text: &str, start: usize) -> usize {
    let bytes = text.as_bytes();
    let end = start + bytes[start..].iter().take_while(|byte| byte.is_ascii_alphabetic()).count();
    if bytes.get(end).is_none_or(u8::is_ascii) {
        return end;
    }
    text[end..].find(|letter| !in_word(letter)).map_or(text.len(), |length| end + length)
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
