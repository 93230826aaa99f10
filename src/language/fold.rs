//! Folding: the form in which words are compared, so that case, accents, look-alike signs and other scripts' digits make
//! no difference. Vocabulary and messages fold alike.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use super::digits::ascii_digit;

/// A folded text and, for each of its bytes, the character of the original it came from.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Folded {
    pub text: String,
    /// Empty where every byte came from the character at its own place, as in most messages.
    origin: Vec<u32>,
}

impl Folded {
    /// The characters of the original, first and one past the last, behind bytes `start..end` of the folded text.
    pub fn origin(&self, start: usize, end: usize) -> (usize, usize) {
        let first = self.character(start.min(self.text.len().saturating_sub(1))).unwrap_or(0);
        match end.checked_sub(1).filter(|&last| last >= start).and_then(|last| self.character(last)) {
            Some(last) => (first, last + 1),
            None => (first, first),
        }
    }

    /// The character that a byte came from.
    fn character(&self, byte: usize) -> Option<usize> {
        if self.origin.is_empty() {
            return (byte < self.text.len()).then_some(byte);
        }
        self.origin.get(byte).map(|&at| at as usize)
    }

    fn push(&mut self, letter: char, at: usize) {
        self.text.push(letter);
        let at = u32::try_from(at).unwrap_or(u32::MAX);
        self.origin.resize(self.text.len(), at);
    }
}

/// Folds a text: lower case, no accents, plain digits and signs; what cannot be read becomes a space.
///
/// Line breaks stay, as they part one thing said from the next. Direction marks, joiners and variation selectors vanish
/// without parting the letters around them.
pub fn fold(text: &str) -> Folded {
    if text.bytes().all(stays) {
        return Folded { text: text.to_ascii_lowercase(), origin: Vec::new() };
    }
    let mut folded = Folded { text: String::with_capacity(text.len() + 8), origin: Vec::with_capacity(text.len() + 8) };
    for (at, letter) in text.chars().enumerate() {
        if letter.is_ascii() {
            match plain(letter.to_ascii_lowercase()) {
                Some(letter) => folded.push(letter, at),
                None => continue,
            }
        } else {
            fold_wide(letter, at, &mut folded);
        }
    }
    folded
}

/// Folds a word or a phrase of the vocabulary.
pub fn fold_word(word: &str) -> String {
    fold(word.trim()).text
}

/// Whether a byte is an ASCII letter that folding changes in nothing but its case.
fn stays(byte: u8) -> bool {
    matches!(byte, b' '..=b'~' | b'\n') && !matches!(byte, b'`' | b'^')
}

/// An ASCII letter as it stands after folding; None where it vanishes.
fn plain(letter: char) -> Option<char> {
    match letter {
        '`' => Some('\''),
        '^' => None,
        '\n' | '\r' => Some('\n'),
        letter if letter.is_ascii_control() => Some(' '),
        letter => Some(letter),
    }
}

/// The plain letter of the accented ones of Latin-1, which need no look into the tables of Unicode.
fn without_accent(letter: char) -> Option<char> {
    Some(match letter {
        'À'..='Å' | 'à'..='å' => 'a',
        'Ç' | 'ç' => 'c',
        'È'..='Ë' | 'è'..='ë' => 'e',
        'Ì'..='Ï' | 'ì'..='ï' => 'i',
        'Ñ' | 'ñ' => 'n',
        'Ò'..='Ö' | 'ò'..='ö' => 'o',
        'Ù'..='Ü' | 'ù'..='ü' => 'u',
        'Ý' | 'ý' | 'ÿ' => 'y',
        _ => return None,
    })
}

fn fold_wide(letter: char, at: usize, folded: &mut Folded) {
    if let Some(plain) = without_accent(letter) {
        return folded.push(plain, at);
    }
    if let Some(digit) = ascii_digit(letter) {
        return folded.push(digit, at);
    }
    match letter {
        // Direction marks, joiners, soft hyphen, byte-order mark, variation selectors, tags: nothing was typed.
        '\u{ad}'
        | '\u{61c}'
        | '\u{180e}'
        | '\u{200b}'..='\u{200f}'
        | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}'
        | '\u{fe00}'..='\u{fe0f}'
        | '\u{feff}'
        | '\u{e0000}'..='\u{e0fff}' => {}
        '\u{2018}' | '\u{2019}' | '\u{201b}' | '\u{2b9}' | '\u{2bb}' | '\u{2bc}' | '\u{2032}' | '\u{2035}' | '\u{b4}'
        | '\u{ff07}' => folded.push('\'', at),
        '\u{201c}' | '\u{201d}' | '\u{201f}' | '\u{2033}' | '\u{2036}' | '\u{ff02}' => folded.push('"', at),
        '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{fe63}' | '\u{ff0d}' => folded.push('-', at),
        '×' | '\u{2715}' | '\u{2716}' | '\u{2a2f}' | '\u{22c5}' | '\u{b7}' => folded.push('*', at),
        '\u{2044}' | '\u{2215}' | '÷' => folded.push('/', at),
        'º' | '\u{2da}' => folded.push('°', at),
        '°' => folded.push('°', at),
        // The Arabic decimal separator, thousands separator, comma, semicolon and question mark.
        '\u{66b}' => folded.push('.', at),
        '\u{66c}' | '\u{60c}' | '\u{3001}' => folded.push(',', at),
        '\u{61b}' | '\u{61f}' | '\u{3002}' => folded.push(';', at),
        '\u{85}' | '\u{2028}' | '\u{2029}' => folded.push('\n', at),
        letter => decompose(letter, at, folded),
    }
}

fn decompose(letter: char, at: usize, folded: &mut Folded) {
    let parts = || std::iter::once(letter).nfkd();
    // "1½" must read as one and a half, not as eleven halves.
    if parts().any(|part| part == '\u{2044}') {
        folded.push(' ', at);
    }
    for part in parts() {
        if accent(part) {
            continue;
        }
        if part == '\u{2044}' {
            folded.push('/', at);
        } else if part.is_ascii() {
            if let Some(part) = plain(part.to_ascii_lowercase()) {
                folded.push(part, at);
            }
        } else if part.is_alphanumeric() || is_combining_mark(part) {
            // Through upper case first, so that letters with two lower cases (sharp s, final sigma) meet.
            for part in part.to_uppercase().flat_map(char::to_lowercase).filter(|&part| !accent(part)) {
                folded.push(part, at);
            }
        } else {
            folded.push(' ', at);
        }
    }
}

/// Marks that a thumb leaves out: Latin, Greek and Cyrillic accents, Arabic and Hebrew vowel points. The marks of other
/// scripts are vowels without which words run together, and stay.
fn accent(letter: char) -> bool {
    matches!(letter, '\u{300}'..='\u{36f}' | '\u{591}'..='\u{5c7}' | '\u{64b}'..='\u{65f}' | '\u{670}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn case_accents_and_signs_do_not_matter() {
        for (typed, folded) in [
            ("LIFT", "lift"),
            ("Été", "ete"),
            ("Straße", "strasse"),
            ("ng\u{2019}ombe", "ng'ombe"),
            ("5\u{d7}80", "5*80"),
            ("m²", "m2"),
            ("m^2", "m2"),
            ("1½ ha", "1 1/2 ha"),
            ("٤٠", "40"),
            ("५", "5"),
            ("５ｍ", "5m"),
            ("li\u{200f}ft", "lift"),
            ("4\u{2013}6", "4-6"),
            ("pump\u{1f4a7}12", "pump 12"),
            ("20º", "20°"),
            ("बगीचा", "बगीचा"),
        ] {
            assert_eq!(fold(typed).text, folded, "{typed:?}");
        }
    }

    #[test]
    fn the_short_way_for_latin_letters_is_the_long_one() {
        for letter in '\u{80}'..'\u{250}' {
            let mut long = Folded::default();
            decompose(letter, 0, &mut long);
            if let Some(plain) = without_accent(letter) {
                assert_eq!(long.text, plain.to_string(), "{letter:?}");
            }
        }
        let text: String = ('\0'..='\x7f').collect();
        for letter in text.chars() {
            let mut long = Folded::default();
            plain(letter.to_ascii_lowercase()).into_iter().for_each(|letter| long.push(letter, 0));
            assert_eq!(fold(&letter.to_string()).text, long.text, "{letter:?}");
        }
    }

    #[test]
    fn bytes_lead_back_to_the_characters_they_came_from() {
        let folded = fold("é½ m²");
        assert_eq!(folded.text, "e 1/2 m2");
        assert_eq!(folded.origin(0, 1), (0, 1));
        assert_eq!(folded.origin(2, 5), (1, 2));
        assert_eq!(folded.origin(6, 8), (3, 5));
        assert_eq!(folded.origin(99, 120), (4, 4));
        assert_eq!(fold("").origin(0, 0), (0, 0));
        let plain = fold("Lift 5");
        assert_eq!(plain.origin(0, 4), (0, 4));
        assert_eq!(plain.origin(5, 6), (5, 6));
        assert_eq!(plain.origin(99, 120), (5, 5));
        assert_eq!(fold("^").origin(0, 1), (0, 0));
    }
}
