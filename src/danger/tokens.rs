//! A message as its words alone.

use crate::language::{Folded, PieceKind, fold, pieces};

/// Longest word looked at; what is longer is no word, and the work stays bounded.
const LONGEST: usize = 40;

/// The words of a message, folded: apostrophes taken out (`can't` is `cant`), a letter typed three times or more once. An elided
/// article stands before its word (`l'eau` is `leau`, and `eau` too).
pub fn tokens(text: &str) -> Vec<Token> {
    let Folded { text, .. } = fold(text);
    let letters = pieces(&text).filter(|piece| piece.kind == PieceKind::Letters);
    letters
        .filter(|piece| piece.end - piece.start <= LONGEST)
        .map(|piece| Token::new(&text[piece.start..piece.end]))
        .collect()
}

/// A word as it is looked up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Token {
    pub word: String,
    /// Without what was elided before it.
    pub bare: Option<String>,
}

/// Letters that may stand before an apostrophe as an elided word: `l'`, `qu'`.
const ELIDED: usize = 2;

impl Token {
    fn new(piece: &str) -> Token {
        let bare = piece.split_once('\'').filter(|(before, after)| before.len() <= ELIDED && after.len() > ELIDED);
        Token { word: squeezed(&piece.replace('\'', "")), bare: bare.map(|(_, after)| squeezed(&after.replace('\'', ""))) }
    }
}

/// Three of a letter or more as one: `heeelp`.
fn squeezed(word: &str) -> String {
    let mut out = String::with_capacity(word.len());
    let letters: Vec<char> = word.chars().collect();
    for run in letters.chunk_by(|a, b| a == b) {
        let keep = if run.len() >= 3 { 1 } else { run.len() };
        out.extend(&run[..keep]);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_plain() {
        let words = |text| tokens(text).into_iter().map(|token| token.word).collect::<Vec<_>>();
        assert_eq!(words("He can't!! HEEELP 12 me"), ["he", "cant", "help", "me"]);
        assert_eq!(tokens("l'eau")[0].bare.as_deref(), Some("eau"));
    }
}
