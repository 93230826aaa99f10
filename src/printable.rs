//! Characters that are not seen, or that make a reader see something else: controls, which a terminal obeys, and those that
//! turn the direction of writing, end a line or take no room. Names that are stored hold none, and what is printed shows none.
//! This room never reads or writes anything itself.

use std::borrow::Cow;

/// The first character of a text that does not print.
pub fn hidden_in(text: &str) -> Option<char> {
    text.chars().find(|letter| is_hidden(*letter))
}

/// A text as it may be printed: a space in the stead of each such character.
pub fn shown(text: &str) -> Cow<'_, str> {
    match hidden_in(text) {
        None => Cow::Borrowed(text),
        Some(_) => Cow::Owned(text.chars().map(|letter| if is_hidden(letter) { ' ' } else { letter }).collect()),
    }
}

/// The same, line by line.
pub fn shown_lines(text: &str) -> String {
    text.split('\n').map(shown).collect::<Vec<_>>().join("\n")
}

/// Controls (Unicode, general category Cc), marks and overrides of direction (Bidi_Control), separators of lines and
/// paragraphs, spaces without width, and what stands for no character. The two joiners (U+200C, U+200D) are left: some
/// scripts are written with them.
fn is_hidden(letter: char) -> bool {
    letter.is_control()
        || matches!(letter,
            '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}' | '\u{200e}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{fffe}'..='\u{ffff}'
            | '\u{e0000}'..='\u{e007f}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_does_not_print_is_found_and_not_shown() {
        for hidden in
            ["\u{1b}[2J", "a\u{202e}b", "a\nb", "a\0", "a\u{9b}", "a\u{2066}b", "\u{200b}", "\u{feff}a", "\u{e0041}"]
        {
            assert!(hidden_in(hidden).is_some() && hidden_in(&shown(hidden)).is_none(), "{hidden:?}");
        }
        for good in ["Kito", "Ngũgĩ", "ስም", "می\u{200c}خواهم", "12 m³/day"] {
            assert_eq!((hidden_in(good), shown(good)), (None, Cow::Borrowed(good)));
        }
        assert_eq!(shown_lines("a\u{1b}\nb"), "a \nb");
    }
}
