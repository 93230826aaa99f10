//! Passwords that are long enough and still among the first that are tried: common words with digits behind them, one piece
//! over and over, a run along the alphabet or the keyboard, the account's own name (NIST SP 800-63B-4, 3.1.1.2, asks for such
//! a list: common, expected and leaked ones). Leaked lists hold few of fifteen characters and more; what they hold of them is
//! nearly all of these kinds, which rules name more surely than a list.

/// Words that common passwords are put together from (memory: the lists that are published every year).
const COMMON: [&str; 40] = [
    "password",
    "passwort",
    "passphrase",
    "motdepasse",
    "nywila",
    "passw0rd",
    "p@ssword",
    "p@ssw0rd",
    "welcome",
    "karibu",
    "bienvenue",
    "letmein",
    "iloveyou",
    "qwerty",
    "qwertz",
    "azerty",
    "asdfgh",
    "zxcvbn",
    "admin",
    "administrator",
    "root",
    "user",
    "login",
    "secret",
    "changeme",
    "change",
    "default",
    "temporary",
    "master",
    "monkey",
    "dragon",
    "sunshine",
    "princess",
    "football",
    "superman",
    "batman",
    "whatever",
    "trustno1",
    "abc123",
    "test",
];

/// Words that anybody expects here.
const EXPECTED: [&str; 8] = ["noonwater", "desk", "hotline", "pump", "solar", "water", "garden", "staff"];

/// Rows of keys, as fingers run along them.
const ROWS: [&str; 6] = ["qwertyuiop", "asdfghjkl", "zxcvbnm", "azertyuiop", "qsdfghjklm", "1234567890"];

/// Fewer letters than these beside common words and digits add nothing.
const OWN_LEAST: usize = 4;

/// Fewer different characters are a pattern.
const DIFFERENT_LEAST: usize = 5;

/// The longest piece that is looked for over and over.
const PIECE_MOST: usize = 12;

/// Whether a password is of such a kind, for the account of this name.
pub fn is_weak(password: &str, name: &str) -> bool {
    let letters: Vec<char> = password.to_lowercase().chars().filter(|letter| !letter.is_whitespace()).collect();
    let mut different = letters.clone();
    different.sort_unstable();
    different.dedup();
    different.len() < DIFFERENT_LEAST || is_repeated(&letters) || is_run(&letters) || is_common(&letters, name)
}

/// One piece over and over, the last one cut off perhaps.
fn is_repeated(letters: &[char]) -> bool {
    (1..=PIECE_MOST.min(letters.len() / 2)).any(|piece| letters[piece..].iter().zip(letters).all(|(a, b)| a == b))
}

/// Most steps go to the next letter of the alphabet, digit or key, or stay.
fn is_run(letters: &[char]) -> bool {
    let is_step = |pair: &[char]| {
        let codes = u32::from(pair[0]).abs_diff(u32::from(pair[1]));
        let on_row = ROWS.iter().any(|row| {
            let at = |letter| row.chars().position(|key| key == letter);
            at(pair[0]).zip(at(pair[1])).is_some_and(|(a, b)| a.abs_diff(b) == 1)
        });
        codes <= 1 || on_row
    };
    let steps = letters.windows(2).filter(|pair| is_step(pair)).count();
    steps * 4 >= (letters.len().saturating_sub(1)) * 3
}

/// Nothing of its own is left beside common words, the account's name and what is no letter.
fn is_common(letters: &[char], name: &str) -> bool {
    let text: String = letters.iter().collect();
    let name: String = name.to_lowercase().chars().filter(|letter| !letter.is_whitespace()).collect();
    let mut words: Vec<&str> = COMMON.iter().chain(&EXPECTED).copied().chain([name.as_str()]).collect();
    words.retain(|word| word.chars().count() >= OWN_LEAST);
    words.sort_by_key(|word| std::cmp::Reverse(word.len()));
    let left = words.iter().fold(text.clone(), |left, word| left.replace(word, " "));
    left != text && left.chars().filter(|letter| letter.is_alphabetic()).count() < OWN_LEAST
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_tried_first_is_known_and_what_is_not_is_left() {
        for weak in [
            "password1234567",
            "PasswordPassword",
            "Welcome2026!!!!!",
            "aaaaaaaaaaaaaaa",
            "abcabcabcabcabcabc",
            "123456789012345",
            "qwertyuiopasdfgh",
            "abcdefghijklmnop",
            "noonwater-desk-1",
            "letmein letmein 1",
            "Asha Upper Kito 1",
            "solar pump water 2026",
        ] {
            assert!(is_weak(weak, "Asha Upper Kito"), "{weak}");
        }
        for good in ["furrow and hose 12", "river stones under moon", "384756102937465", "kahawa na maziwa asubuhi"] {
            assert!(!is_weak(good, "Asha"), "{good}");
        }
    }
}
